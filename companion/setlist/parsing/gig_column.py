"""One table for several gigs, a column of which names the gig: Sat 5 Dec - The Goat, beside each song."""

import itertools
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.column_roles import read_heads
from companion.show.titles import folded

FEWEST: Final = 3  # songs of each gig
MAX_GIGS: Final = 12
HEAD_ROWS: Final = 3  # one of them names the columns
NAMES: Final = frozenset(
    folded(name)
    for name in ("gig", "gigs", "show", "date", "event", "concert", "datum", "auftritt", "konzert", "fecha")
)


def by_gig(page: ListPage) -> list[ListPage]:
    """Return a page for each gig, named as the column names it; the page alone where no column does."""
    if not page.is_grid:
        return [page]
    at = next((at for at, row in enumerate(page.rows[:HEAD_ROWS]) if read_heads(row.cells)), None)
    if at is None:
        return [page]
    above, below = page.rows[: at + 1], page.rows[at + 1 :]
    column = next((one for one in range(len(above[-1].cells)) if _names_gigs(above[-1].cells[one], below, one)), None)
    if column is None:
        return [page]
    return [
        msgspec.structs.replace(
            page, name=name, rows=tuple(_without(row, column) for row in (*above, *rows)), remarks=page.remarks
        )
        for name, rows in itertools.groupby(below, key=lambda row: row.cells[column].strip())
    ]


def _names_gigs(head: str, rows: Sequence[ListRow], column: int) -> bool:
    cells = [row.cells[column].strip() if column < len(row.cells) else "" for row in rows]
    runs = [(cell, sum(1 for _ in run)) for cell, run in itertools.groupby(cells)]
    names = {cell for cell, _ in runs}
    if not 1 < len(runs) <= MAX_GIGS or len(names) < len(runs) or "" in names or min(n for _, n in runs) < FEWEST:
        return False
    return all(any_date_in(name) for name in names) or folded(head) in NAMES


def _without(row: ListRow, column: int) -> ListRow:
    return msgspec.structs.replace(row, cells=(*row.cells[:column], *row.cells[column + 1 :]))
