"""A leaf: the contents of one page as words, strokes and highlighter, in points from its top left. No PDF here."""

import enum
import math
from typing import Final

import msgspec

POINT_MM: Final = 25.4 / 72
FLOOR_M: Final = 1.7  # standing eyes to a list taped half a metre in front of the feet (common practice, no source)
READ_ARCMIN: Final = 20.0  # preferred size: ISO 9241-3 (20' to 22') and NUREG-0700 rev. 3, 11.4.1.5-1 (20')
LEAST_ARCMIN: Final = 16.0  # smallest size by ISO 9241-3


class Paper(enum.Enum):
    """Paper sizes: A4 by ISO 216; Letter by ANSI/ASME Y14.1, size A."""

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


class PaperInk(enum.Enum):
    """How dark the text is: 0 is black. Only two shades, so that a copier keeps them apart."""

    PEN = 0.0
    PENCIL = 0.36  # 6.7:1 on white; WCAG 2.2 asks for 4.5:1


class Words(msgspec.Struct, frozen=True):
    """One line of text. ``y`` is its baseline; ``squeeze`` below 1 makes its letters narrower."""

    x: float
    y: float
    text: str
    size: float
    ink: PaperInk = PaperInk.PEN
    squeeze: float = 1.0


class PenLine(msgspec.Struct, frozen=True):
    """A pen line."""

    x1: float
    y1: float
    x2: float
    y2: float
    thick: float = 0.6
    ink: PaperInk = PaperInk.PEN


class Highlighter(msgspec.Struct, frozen=True):
    """A stroke of the highlighter, drawn under the words."""

    x: float
    y: float
    width: float
    height: float


class Jump(msgspec.Struct, frozen=True):
    """A clickable area that jumps to another leaf by that leaf's name."""

    x: float
    y: float
    width: float
    height: float
    leads_to: str


LeafMark = Words | PenLine | Highlighter | Jump


class Bookmark(msgspec.Struct, frozen=True):
    """A page's entry in the PDF outline, and its depth; ``name`` is the target of jumps."""

    title: str
    level: int = 0
    name: str = ""


class Leaf(msgspec.Struct, frozen=True):
    """One page, with a bookmark for each song on it."""

    marks: tuple[LeafMark, ...]
    bookmarks: tuple[Bookmark, ...] = ()


def letter_height_pt(arcmin: float, distance_m: float) -> float:
    """Return the height of a capital that subtends this angle at this distance: h = 2 d tan(angle / 2).

    >>> round(letter_height_pt(20, 1.8) * POINT_MM, 1)
    10.5
    """
    return 2 * distance_m * 1000 * math.tan(math.radians(arcmin / 60) / 2) / POINT_MM
