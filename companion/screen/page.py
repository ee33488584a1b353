"""The page: how large a picture looks to the player, and how large its words must be."""

from typing import Final

import msgspec

from companion.screen.legibility import (
    ASSUMED_DISTANCE_M,
    ASSUMED_WIDTH_MM,
    CUE_ARCMIN,
    LEAST_ARCMIN,
    SECTION_ARCMIN,
    SECTION_PORTRAIT_ARCMIN,
    height_mm,
)
from companion.screen.screen_fonts import Typeface

ASSUMED_RATIO: Final = 9 / 16
USUAL: Final = (660.0, 371.0)  # arc minutes of a 13-inch screen at 1.5 m; words grow on a page that looks larger
MAX_SCALE: Final = 4.0  # larger words make the eye travel, and a beat mark would reach the flash area
MARGIN: Final = 16.0
GAP: Final = 22.0  # arc minutes between two lines on a row
TITLE_ARCMIN: Final = 45.0  # three sizes on a page, each 150 % of the next smaller: MIL-STD-1472E, 5.15.3.3


class PageSize(msgspec.Struct, frozen=True):
    """A picture's size in px, and the number of px in one arc minute at the player's eyes."""

    width: int
    height: int
    px_per_arcmin: float

    @property
    def is_portrait(self) -> bool:
        """Whether it is higher than wide."""
        return self.height > self.width


def page_of(
    size_px: tuple[int, int],
    screen_px: tuple[int, int],
    width_mm: float | None = None,
    distance_m: float | None = None,
) -> PageSize:
    """Return the page for a picture of this size on a screen of that size.

    Without ``width_mm``, assume a 13-inch screen; without ``distance_m``, 1.5 m.
    """
    if width_mm is None:
        diagonal_px = (screen_px[0] ** 2 + screen_px[1] ** 2) ** 0.5
        diagonal_mm = ASSUMED_WIDTH_MM * (1 + ASSUMED_RATIO**2) ** 0.5
        px_per_mm = diagonal_px / diagonal_mm
    else:
        px_per_mm = screen_px[0] / width_mm
    return PageSize(*size_px, px_per_mm * height_mm(1, distance_m or ASSUMED_DISTANCE_M))


class Sizes(msgspec.Struct, frozen=True):
    """Capital heights on one page, in arc minutes; ``margin`` and ``gap`` in px."""

    large: float
    title: float
    follows: float  # what comes next
    cue: float
    least: float
    margin: float
    gap: float


def sizes_of(page: PageSize) -> Sizes:
    """Return the sizes for this page: legible at the player's distance, and larger where the page looks larger."""
    usual = tuple(reversed(USUAL)) if page.is_portrait else USUAL
    seen = min(page.width / usual[0], page.height / usual[1]) / page.px_per_arcmin
    scale = min(max(1.0, seen), MAX_SCALE)
    px = scale * page.px_per_arcmin
    return Sizes(
        large=scale * (SECTION_PORTRAIT_ARCMIN if page.is_portrait else SECTION_ARCMIN),
        title=scale * TITLE_ARCMIN,
        follows=scale * CUE_ARCMIN,
        cue=scale * CUE_ARCMIN,
        least=scale * LEAST_ARCMIN,
        margin=min(px * MARGIN, page.width * 0.05),
        gap=px * GAP,
    )


class TypeMeasure(msgspec.Struct, frozen=True):
    """Converts arc minutes to type sizes, for one page and typeface."""

    page: PageSize
    face: Typeface

    def em_px(self, arcmin: float) -> int:
        """Return the type size in px whose capitals have at least this visual angle."""
        return self.face.em_px(arcmin * self.page.px_per_arcmin)

    def cap_px(self, arcmin: float) -> float:
        """Return the height of the capitals of that type size, in px."""
        return self.em_px(arcmin) * self.face.cap_height
