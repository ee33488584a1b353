"""Read a text that was pasted into a sheet as the lines that it has: into one cell, or a line a row into one column."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.readers.text import pages_of_text

APART: Final = " / "  # what readers put for the end of a line in a cell
FEWEST: Final = 3  # ends of lines; fewer are a medley, or a title and its note

MAX_BESIDE: Final = 0.2  # share of rows with a second cell
GAP: Final = "    "
NEAR_TOP: Final = 2  # rows, of which one names the column
_HEADED: Final = re.compile(r"[:=] ")


def with_lines_of_cells(page: ListPage) -> ListPage:
    """Return the page as plain lines where such cells hold most of its text; else as it is."""
    if not page.is_grid or not _is_in_cells(page):
        return page
    rows = [part for row in page.rows for part in _parted(row)]
    return msgspec.structs.replace(page, rows=tuple(rows), is_grid=False)


def as_lines(page: ListPage) -> ListPage:
    """Return a sheet that fills one cell a row as the text that it is: lines, or rows of values with signs between.

    A few rows may have a remark in the cell beside.
    """
    beside = sum(len(_filled(row)) > 1 for row in page.rows)
    if not page.is_grid or beside > MAX_BESIDE * len(page.rows) or _is_in_cells(page):
        return page
    rows = [row for row in page.rows if _filled(row)]
    if any(read_heads(_filled(row)) for row in rows[:NEAR_TOP]):
        return page
    (read,) = pages_of_text("\n".join(GAP.join(_filled(row)) for row in rows), page.name or "")
    if len(read.rows) != len(rows):
        return page  # a row of signs that no text shows
    return msgspec.structs.replace(page, rows=tuple(_placed(row, rows) for row in read.rows), is_grid=read.is_grid)


def _placed(line: ListRow, rows: Sequence[ListRow]) -> ListRow:
    """Return a line of a sheet's text with the place, the comments and the marks of its row."""
    row = rows[line.place.line - 1]
    return msgspec.structs.replace(
        row, cells=line.cells, text=line.text, indent=line.indent, quoted=line.quoted, spans=line.spans
    )


def _filled(row: ListRow) -> Sequence[str]:
    return [cell for cell in row.cells if cell.strip()]


def _is_in_cells(page: ListPage) -> bool:
    """Return whether cells with several lines hold most of a page's text."""
    pasted = [row for row in page.rows if _is_pasted(row)]
    return bool(pasted) and 2 * sum(len(row.text) for row in pasted) >= sum(len(row.text) for row in page.rows)


def _is_pasted(row: ListRow) -> bool:
    """Return whether a cell has several lines; a row of songs behind a set's name is one: Set 1: Moth / Weeds."""
    return any(cell.count(APART) >= FEWEST and not _HEADED.search(cell.partition(APART)[0]) for cell in row.cells)


def _parted(row: ListRow) -> list[ListRow]:
    said = [part.strip() for cell in _filled(row) for part in (cell.split(APART) if _is_pasted(row) else [cell])]
    return [msgspec.structs.replace(row, cells=(part,), text=part) for part in said if part]
