"""Two or three numbered songs in one line: 1. Moth (G)   2. Weeds (C)."""

import itertools
import re
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow

FEWEST: Final = 2  # such lines
_NUMBER: Final = re.compile(r"(?:^|\s{2,})(\d{1,3})[.)]\s+(?=\S)")


def one_song_a_row(page: ListPage) -> ListPage:
    """Return the page with a row for each song, if several lines hold songs whose numbers follow each other."""
    if page.is_grid:
        return page
    parts = [_parts(row) for row in page.rows]
    if sum(len(part) > 1 for part in parts) < FEWEST:
        return page
    return msgspec.structs.replace(page, rows=tuple(itertools.chain.from_iterable(parts)))


def _parts(row: ListRow) -> list[ListRow]:
    text = row.cells[0] if row.cells else ""
    found = list(_NUMBER.finditer(text))
    numbers = [int(one[1]) for one in found]
    if len(found) < FEWEST or found[0].start() or numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return [row]
    bounds = [*(one.start() for one in found), len(text)]
    words = [text[begin:end].strip() for begin, end in itertools.pairwise(bounds)]
    return [msgspec.structs.replace(row, cells=(said,), text=said, spans=()) for said in words]
