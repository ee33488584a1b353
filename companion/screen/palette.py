"""Inks and papers for the two lights. Colour alone never shows a state."""

import enum
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from companion.screen.legibility import Rgb
from companion.view import Light


class ScreenInk(enum.Enum):
    """What each ink is for: text on the paper, text on a mark, and the marks themselves."""

    PAPER = "paper"
    INK = "ink"
    PENCIL = "pencil"  # less important words, and drawn marks
    FAINT = "faint"  # shapes that only show a place; never words
    HIGHLIGHTER = "highlighter"
    ON_HIGHLIGHTER = "on highlighter"
    TAPE = "tape"
    ON_TAPE = "on tape"
    WARNING = "warning"  # painters' blue tape: most distinct from yellow, with any colour vision
    ON_WARNING = "on warning"
    ON_RIPPED = "on ripped"  # words on a ripped strip
    STROKE_EDGE = "stroke's edge"  # round a highlighter's stroke
    TAPE_EDGE = "tape's edge"


Inks = Mapping[ScreenInk, Rgb]

DARK: Final[Inks] = MappingProxyType(
    {
        ScreenInk.PAPER: (14, 13, 11),
        ScreenInk.INK: (244, 238, 224),
        ScreenInk.PENCIL: (176, 170, 158),
        ScreenInk.FAINT: (96, 92, 84),
        ScreenInk.HIGHLIGHTER: (255, 220, 40),
        ScreenInk.ON_HIGHLIGHTER: (14, 13, 11),
        ScreenInk.TAPE: (58, 54, 46),
        ScreenInk.ON_TAPE: (244, 238, 224),
        ScreenInk.WARNING: (120, 190, 240),
        ScreenInk.ON_WARNING: (14, 13, 11),
        ScreenInk.ON_RIPPED: (176, 170, 158),
        ScreenInk.STROKE_EDGE: (255, 220, 40),
        ScreenInk.TAPE_EDGE: (150, 142, 124),
    }
)
DAY: Final[Inks] = MappingProxyType(
    {
        ScreenInk.PAPER: (252, 250, 244),
        ScreenInk.INK: (16, 15, 13),
        ScreenInk.PENCIL: (84, 80, 74),
        ScreenInk.FAINT: (150, 146, 138),
        ScreenInk.HIGHLIGHTER: (255, 214, 0),
        ScreenInk.ON_HIGHLIGHTER: (16, 15, 13),
        ScreenInk.TAPE: (226, 216, 190),
        ScreenInk.ON_TAPE: (16, 15, 13),
        ScreenInk.WARNING: (0, 62, 115),
        ScreenInk.ON_WARNING: (252, 250, 244),
        ScreenInk.ON_RIPPED: (84, 80, 74),
        ScreenInk.STROKE_EDGE: (122, 96, 0),
        ScreenInk.TAPE_EDGE: (118, 108, 84),
    }
)


def inks(light: Light) -> Inks:
    """Return the inks for this light."""
    return DAY if light is Light.DAY else DARK
