"""A table that was pasted cell by cell, one on each line: No., Title, Key; 1, Moth, G; 2, Weeds, C."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListPage, ListRow
from companion.setlist.parsing.column_roles import read_heads

FEWEST_ROWS = 3  # songs below the names of the columns
MAX_COLUMNS = 6
HEAD_LINES = 4  # above the names


def with_cells_in_rows(page: ListPage) -> ListPage:
    """Return the page as a grid, if its lines are the cells of a table whose column names are above them."""
    if page.is_grid:
        return page
    texts = [row.cells[0].strip() if row.cells else "" for row in page.rows]
    for begin in range(min(HEAD_LINES, len(texts))):
        for columns in range(MAX_COLUMNS, 1, -1):
            if _is_table(texts, begin, columns):
                rows = [
                    *page.rows[:begin],
                    *(_row(page.rows[at : at + columns]) for at in range(begin, len(texts), columns)),
                ]
                return msgspec.structs.replace(page, rows=tuple(rows), is_grid=True)
    return page


def _is_table(texts: Sequence[str], begin: int, columns: int) -> bool:
    """Return whether so many names of columns stand here, and the lines below fill whole rows of them."""
    below = texts[begin + columns :]
    if len(below) % columns or len(below) < FEWEST_ROWS * columns:
        return False
    names = texts[begin : begin + columns]
    heads = read_heads(names)
    if heads is None or any(
        not name or head is None or not _is_name(name) for name, head in zip(names, heads, strict=True)
    ):
        return False
    return not any(read_heads(below[at : at + columns]) for at in range(0, len(below), columns))


def _is_name(text: str) -> bool:
    return read_heads(("Title", text, "Key")) is not None and len(text.split()) <= 2


def _row(parts: Sequence[ListRow]) -> ListRow:
    cells = tuple(part.cells[0] for part in parts)
    return msgspec.structs.replace(parts[0], cells=cells, text=" | ".join(cells), spans=())
