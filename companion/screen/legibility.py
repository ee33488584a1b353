"""Legibility: how large words must be, by the formula of the visual angle, and how often anything may flash."""

import math
from typing import Final

ASSUMED_WIDTH_MM: Final = 288.0  # a 13-inch screen of 16:9
ASSUMED_DISTANCE_M: Final = 1.5

SECTION_ARCMIN: Final = 60.0
SECTION_PORTRAIT_ARCMIN: Final = 45.0
CUE_ARCMIN: Final = 30.0
LEAST_ARCMIN: Final = 20.0  # preferred by ISO 9241-3 (20' to 22') and NUREG-0700 rev. 3, 11.4.1.5-1 (20')

MAX_FLASHES: Final = 3  # in any one second: WCAG 2.2, "general flash and red flash thresholds"

Rgb = tuple[int, int, int]


def height_mm(arcmin: float, distance_m: float) -> float:
    """Return the height in mm seen under this angle at this distance: h = 2 d tan(angle / 2).

    >>> round(height_mm(20, 1.8), 1)
    10.5
    """
    return 2 * distance_m * 1000 * math.tan(math.radians(arcmin / 60) / 2)
