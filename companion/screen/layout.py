"""Layout: where each line of a view goes and how large. Pure; sizes come from the eyes' distance, not from taste.

A page has fixed places, so that the eye need not search: a head row with the song's title, the large line, what comes
next, a middle for what is special here, what is wrong, and a foot row with sound and key. Where a page is too small for
all that the player must have, its words become smaller, down to what is still legible, before any of them goes.
"""

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from .blocks import Block
from .columns import list_page
from .desk import Desk, Main
from .page import Page, Pen, Sizes, sizes_of
from .parts import Part, Picture, View
from .typeface import Typeface

LEAST_LARGE_ARCMIN: Final = 40.0  # of a section's name, twice what is legible at all
LADDER: Final = (
    *((1.0, 1.0, 1.0), (1.0, 1.0, 5 / 6), (1.0, 1.0, 2 / 3), (5 / 6, 1.0, 2 / 3), (5 / 6, 5 / 6, 2 / 3)),
    *((2 / 3, 5 / 6, 2 / 3), (2 / 3, 2 / 3, 2 / 3), (1 / 2, 2 / 3, 2 / 3)),
    (1 / 3, 2 / 3, 2 / 3),
)
"""Shares of the usual sizes of (the large line, what comes next, the rest), the most wanted first."""


def lay_out(view: View, page: Page, face: Typeface) -> tuple[Block, ...]:
    """Return the blocks of a view on a page. What finds no room is left out, the least important first."""
    pen, sizes = Pen(page, face), sizes_of(page)
    if view.picture in (Picture.KEYS, Picture.CALL):
        return tuple(list_page(view, pen, sizes))
    best: Desk | None = None
    for desk in _desks(view, pen, sizes):
        if best is None or desk.misses < best.misses:
            best = desk
        if not best.misses:
            break
    return best.blocks if best else ()


def _desks(view: View, pen: Pen, sizes: Sizes) -> Iterator[Desk]:
    """Yield the page laid out in every way, the most wanted first."""
    counted = view.of(Part.COUNT) or view.of(Part.BARS)
    for tight in (False, True):
        for large, follows, rest in LADDER:
            smaller = replace(
                sizes,
                large=max(sizes.least, sizes.large * large)
                if tight
                else max(min(sizes.large, LEAST_LARGE_ARCMIN), sizes.large * large),
                title=max(sizes.least, sizes.title * large),
                follows=max(sizes.least, sizes.follows * follows),
                cue=max(sizes.least, sizes.cue * rest),
            )
            for main in Main if counted else (Main.BESIDE,):
                yield Desk(view, pen, smaller, sizes, main, tight=tight)
