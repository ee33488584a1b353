"""Contrast, flashes and visual angles by the letter of their standards, to measure the screen with."""

import math
from typing import Final

from companion.screen.legibility import Rgb

# WCAG 2.2, "general flash and red flash thresholds"
FLASH_CHANGE: Final = 0.10  # of the maximum relative luminance, if the darker is below FLASH_DARKER
FLASH_DARKER: Final = 0.80
FLASH_STERADIAN: Final = 0.006  # within any 10 degrees of the field
SATURATED_RED: Final = 0.80  # R / (R + G + B) of linear values


def arcmin_of(height_in_mm: float, distance_m: float) -> float:
    """Return the angle in arc minutes under which this height is seen: 2 atan(h / 2d).

    >>> round(arcmin_of(10.5, 1.8), 1)
    20.1
    """
    return math.degrees(2 * math.atan(height_in_mm / (2 * distance_m * 1000))) * 60


def linear(value: int) -> float:
    """Return the linear value, 0 to 1, of one 8-bit sRGB channel (WCAG 2.2, "relative luminance")."""
    share = value / 255
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def luminance(colour: Rgb) -> float:
    """Return the relative luminance, 0 to 1 (WCAG 2.2)."""
    red, green, blue = (linear(value) for value in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """Return the contrast ratio, 1 to 21 (WCAG 2.2). Never rounded up: 4.4781 fails 4.5.

    >>> round(contrast((0, 0, 0), (255, 255, 255)), 4)
    21.0
    """
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def is_saturated_red(colour: Rgb) -> bool:
    """Return whether a flash of this colour would count as a red flash (WCAG 2.2)."""
    channels = [linear(value) for value in colour]
    return sum(channels) > 0 and channels[0] / sum(channels) >= SATURATED_RED


def is_general_flash(one: float, other: float) -> bool:
    """Return whether a change between two relative luminances is half a general flash (WCAG 2.2)."""
    return abs(one - other) >= FLASH_CHANGE and min(one, other) < FLASH_DARKER


def flash_area_mm2(distance_m: float) -> float:
    """Return the area in mm² below which flashes are safe at any rate: 0.006 sr at this distance (WCAG 2.2).

    >>> flash_area_mm2(1.8)
    19440.0
    """
    return FLASH_STERADIAN * (distance_m * 1000) ** 2
