"""Layout: where each line of a view goes and how large. Pure. Sizes follow from the distance of the eyes.

A page has fixed places, so that the eye need not search: a head row with the song's title, the large line, what comes
next, a middle for what is special here, what is wrong, and a foot row with sound and key. If a page is too small for
all that the player must have, words first shrink to the smallest legible size; only then are lines left out.
"""

import math
from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from companion.screen.blocks import ScreenBlock
from companion.screen.list_pages import list_page
from companion.screen.page import PageSize, Sizes, TypeMeasure, sizes_of
from companion.screen.page_draft import Desk, Main
from companion.screen.screen_fonts import Typeface
from companion.view import LineRole, Picture, View

LEAST_LARGE_ARCMIN: Final = 40.0  # of a section's name, twice the smallest legible size
LADDER: Final = (
    *((1.0, 1.0, 1.0), (1.0, 1.0, 5 / 6), (1.0, 1.0, 2 / 3), (5 / 6, 1.0, 2 / 3), (5 / 6, 5 / 6, 2 / 3)),
    *((2 / 3, 5 / 6, 2 / 3), (2 / 3, 2 / 3, 2 / 3), (1 / 2, 2 / 3, 2 / 3)),
    (1 / 3, 2 / 3, 2 / 3),
)
"""Shares of the usual sizes of (the large line, what comes next, the rest), the preferred first."""
PRICE: Final = {1.0: 0, 5 / 6: 10, 2 / 3: 25, 1 / 2: 300, 1 / 3: 600}
"""The price of a smaller large line, by its share, in the same units as what a page misses."""


def lay_out(view: View, page: PageSize, face: Typeface) -> tuple[ScreenBlock, ...]:
    """Return the blocks of a view on a page. Lines without room are left out, the least important first."""
    pen, sizes = TypeMeasure(page, face), sizes_of(page)
    if view.picture in (Picture.KEYS, Picture.CALL):
        return tuple(list_page(view, pen, sizes))
    best: Desk | None = None
    least = math.inf
    for desk, price in _desks(view, pen, sizes):
        if desk.misses + price < least:
            best, least = desk, desk.misses + price
        if not desk.misses:
            break
    return best.blocks if best else ()


def _desks(view: View, pen: TypeMeasure, sizes: Sizes) -> Iterator[tuple[Desk, float]]:
    """Yield the page laid out in every way, the preferred first, each with the price of its small letters."""
    counted = view.of(LineRole.COUNT) or view.of(LineRole.BARS)
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
                yield Desk(view, pen, smaller, sizes, main, tight=tight), PRICE[large] + 10 * (follows < 1) + 20 * tight
