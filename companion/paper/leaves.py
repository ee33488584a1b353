"""A leaf: what is drawn on one page, as words, strokes and highlighter in points from its top left. No PDF here."""

import enum
import math
from typing import Final

import msgspec

POINT_MM: Final = 25.4 / 72
STAND_M: Final = 0.7  # from the eyes to a music stand, or to a list on the keyboard (common practice, no source)
FLOOR_M: Final = 1.7  # from standing eyes to a list that is taped half a metre before the feet (common practice)
READ_ARCMIN: Final = 20.0  # preferred by ISO 9241-3 (20' to 22') and NUREG-0700 rev. 3, 11.4.1.5-1 (20')
LEAST_ARCMIN: Final = 16.0  # the least by ISO 9241-3


class Paper(enum.Enum):
    """The sizes that are in the printer. ISO 216 for A4; ANSI/ASME Y14.1, size A, for Letter."""

    A4 = "a4"
    LETTER = "letter"

    @property
    def width(self) -> float:
        """Points across."""
        return 210 / POINT_MM if self is Paper.A4 else 8.5 * 72

    @property
    def height(self) -> float:
        """Points from top to bottom."""
        return 297 / POINT_MM if self is Paper.A4 else 11 * 72


class Ink(enum.Enum):
    """How dark it is written: 0 is black. A copier must keep it, so there are two only."""

    PEN = 0.0
    PENCIL = 0.36  # 6.7:1 on white; WCAG 2.2 asks for 4.5:1


class Words(msgspec.Struct, frozen=True):
    """One line of text. ``y`` is its baseline; ``squeeze`` below 1 makes its letters narrower."""

    x: float
    y: float
    text: str
    size: float
    ink: Ink = Ink.PEN
    squeeze: float = 1.0


class Stroke(msgspec.Struct, frozen=True):
    """A line with the pen."""

    x1: float
    y1: float
    x2: float
    y2: float
    thick: float = 0.6
    ink: Ink = Ink.PEN


class Highlighter(msgspec.Struct, frozen=True):
    """A broad stroke of the highlighter, under the words."""

    x: float
    y: float
    width: float
    height: float


class Jump(msgspec.Struct, frozen=True):
    """A place that leads to another leaf, by that leaf's own name."""

    x: float
    y: float
    width: float
    height: float
    leads_to: str


Mark = Words | Stroke | Highlighter | Jump


class Bookmark(msgspec.Struct, frozen=True):
    """What the reader's side bar says of a page, and how deep; ``name`` is what jumps lead to."""

    title: str
    level: int = 0
    name: str = ""


class Leaf(msgspec.Struct, frozen=True):
    """One page. Several songs that share it have a bookmark each."""

    marks: tuple[Mark, ...]
    bookmarks: tuple[Bookmark, ...] = ()


def letter_height_pt(arcmin: float, distance_m: float) -> float:
    """Height of a capital that is seen under this angle from this distance: h = 2 d tan(angle / 2).

    >>> round(letter_height_pt(20, 1.8) * POINT_MM, 1)
    10.5
    """
    return 2 * distance_m * 1000 * math.tan(math.radians(arcmin / 60) / 2) / POINT_MM
