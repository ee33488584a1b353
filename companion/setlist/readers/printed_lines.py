"""What a page of print holds: lines with their places, before they become rows."""

import msgspec

from companion.setlist.model import TextSpan


class PrintedLine(msgspec.Struct, frozen=True):
    """One line: its middle in points from the page's bottom edge, its height, its pieces from left to right."""

    middle: float
    height: float
    pieces: tuple[TextSpan, ...]
    in_row_above: bool = False  # in one row of a drawn table with the line above


class PdfReading(msgspec.Struct, frozen=True):
    """The contents of a PDF. ``problem`` is "", locked, broken, pages or letters."""

    pages: tuple[tuple[PrintedLine, ...], ...] = ()
    number_of_pages: int = 0
    problem: str = ""
    pictures: bool = False
    turned: str = ""  # text across the page or along an edge
