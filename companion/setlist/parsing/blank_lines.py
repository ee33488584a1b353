"""Which empty lines part anything: not those of a text that has one behind each line, as pasted from a web page."""

import itertools
from statistics import median
from typing import Final

import msgspec

from companion.setlist.model import ListPage

FEWEST: Final = 5  # lines; fewer tell no habit
SINGLE: Final = 1  # from one line to the next


def single_spaced(page: ListPage) -> ListPage:
    """Return a page of lines that usually have an empty line between them without those; wider gaps part them."""
    steps = [
        below.place.line - above.place.line if above.place.page == below.place.page else SINGLE
        for above, below in itertools.pairwise(page.rows)
    ]
    usual = median(steps) if len(steps) >= FEWEST else SINGLE
    if page.is_grid or usual == SINGLE or min(steps) < usual:
        return page
    first, *below = page.rows
    rows = (msgspec.structs.replace(row, blank_before=step > usual) for row, step in zip(below, steps, strict=True))
    return msgspec.structs.replace(page, rows=(first, *rows))
