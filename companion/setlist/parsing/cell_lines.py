"""Part cells that hold a whole set, a line for each song, as where a list was pasted into one cell of a sheet."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListPage, ListRow

APART = " / "  # what readers put for the end of a line in a cell
FEWEST = 3  # ends of lines; fewer are a medley, or a title and its note


def with_lines_of_cells(page: ListPage) -> ListPage:
    """Return the page as plain lines where such cells hold most of its text; else as it is."""
    if not page.is_grid:
        return page
    pasted = [row for row in page.rows if _is_pasted(row)]
    if 2 * sum(len(row.text) for row in pasted) < sum(len(row.text) for row in page.rows) or not pasted:
        return page
    rows = [part for row in page.rows for part in _parted(row)]
    return msgspec.structs.replace(page, rows=tuple(rows), is_grid=False)


def _filled(row: ListRow) -> Sequence[str]:
    return [cell for cell in row.cells if cell.strip()]


def _is_pasted(row: ListRow) -> bool:
    return any(cell.count(APART) >= FEWEST for cell in row.cells)


def _parted(row: ListRow) -> list[ListRow]:
    said = [part.strip() for cell in _filled(row) for part in (cell.split(APART) if _is_pasted(row) else [cell])]
    return [msgspec.structs.replace(row, cells=(part,), text=part) for part in said if part]
