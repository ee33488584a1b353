"""Strokes on a page of a PDF: what crosses letters out, and the lines between the rows of a table."""

import bisect
import ctypes
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec
import pypdfium2 as pdfium
from pypdfium2 import raw as pdfium_c

from companion.setlist.readers.printed_lines import PrintedLine

MAX_PATHS: Final = 4_000  # drawn on a page; a table of 70 songs has 600
MAX_SEGMENTS: Final = 12_000
MAX_NEAR: Final = 40  # strokes at one height that are compared with a letter
MAX_NOTED: Final = 500  # annotations of a page
SHORTEST: Final = 6.0  # points
STEEPEST: Final = 0.35  # rise of a stroke by its width: a quick stroke of the pen
BAND: Final = 8.0  # points; strokes are sorted into bands of this height
CROSSED: Final = (0.22, 0.75)  # shares of a letter's box from its bottom: a line below the letters lies lower
LEVEL: Final = 1.0  # points that the line between two rows may rise
LONG_RULE: Final = 30.0  # points
SAME_RULE: Final = 2.5  # points between two edges of one line
FEWEST_BOXES, MAX_IN_BOX = 4, 4  # rows of a table, lines in a row


class Stroke(msgspec.Struct, frozen=True):
    """A straight stroke from left to right, in points from the page's bottom left corner."""

    left: float
    right: float
    at_left: float
    at_right: float

    def height(self, across: float) -> float:
        """Return how high the stroke lies at this place between left and right."""
        return self.at_left + (self.at_right - self.at_left) * (across - self.left) / (self.right - self.left)


class Strokes:
    """The strokes of a page, found quickly by their height."""

    def __init__(self, strokes: Sequence[Stroke]) -> None:
        self._bands: dict[int, list[Stroke]] = defaultdict(list)
        for stroke in strokes:
            low, high = sorted((stroke.at_left, stroke.at_right))
            for band in range(int(low // BAND), int(high // BAND) + 1):
                if len(self._bands[band]) < MAX_NEAR:
                    self._bands[band].append(stroke)
        level = (one for one in strokes if abs(one.at_left - one.at_right) < LEVEL < LONG_RULE < one.right - one.left)
        self._rules: list[float] = []
        for height in sorted(one.at_left for one in level):
            if not self._rules or height - self._rules[-1] > SAME_RULE:
                self._rules.append(height)

    def cross(self, left: float, right: float, bottom: float, top: float) -> bool:
        """Return whether a stroke crosses a letter in this box."""
        across, high = (left + right) / 2, top - bottom
        low, above = bottom + CROSSED[0] * high, bottom + CROSSED[1] * high
        for band in range(int(low // BAND), int(above // BAND) + 1):
            for stroke in self._bands.get(band, ()):
                is_beside = stroke.left <= across <= stroke.right and stroke.right - stroke.left > high
                if is_beside and low <= stroke.height(across) <= above:
                    return True
        return False

    def with_rows(self, lines: Sequence[PrintedLine]) -> tuple[PrintedLine, ...]:
        """Return the lines; those that are in one row of a drawn table with the line above them say so."""
        boxes = [bisect.bisect(self._rules, line.middle) for line in lines]
        inside = [box for box in boxes if 0 < box < len(self._rules)]
        most = max(map(inside.count, set(inside)), default=0)
        if len(set(inside)) < FEWEST_BOXES or most > MAX_IN_BOX:
            return tuple(lines)
        same = [box == above and 0 < box < len(self._rules) for above, box in zip([0, *boxes], boxes, strict=False)]
        return tuple(
            msgspec.structs.replace(line, in_row_above=one) if one else line
            for line, one in zip(lines, same, strict=True)
        )


def strokes_of(page: pdfium.PdfPage) -> Strokes:
    """Return the nearly level strokes of a page, drawn or noted on it; none of a page with very many."""
    found: list[Stroke] = []
    segments = 0
    drawings = page.get_objects(filter=(pdfium_c.FPDF_PAGEOBJ_PATH,), max_depth=1)
    for paths, drawn in enumerate(drawings, start=1):
        segments += max(pdfium_c.FPDFPath_CountSegments(drawn.raw), 0)
        if paths > MAX_PATHS or segments > MAX_SEGMENTS:
            return Strokes(())
        found += _level(_points(drawn))
    return Strokes([*found, *_noted(page)])


def _points(drawn: pdfium.PdfObject) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the straight pieces of a path, each from one point to the next, on the page."""
    matrix = drawn.get_matrix()
    x, y = ctypes.c_float(), ctypes.c_float()
    first = last = (0.0, 0.0)
    for index in range(pdfium_c.FPDFPath_CountSegments(drawn.raw)):
        segment = pdfium_c.FPDFPath_GetPathSegment(drawn.raw, index)
        pdfium_c.FPDFPathSegment_GetPoint(segment, x, y)
        point = matrix.on_point(x.value, y.value)
        kind = pdfium_c.FPDFPathSegment_GetType(segment)
        if kind == pdfium_c.FPDF_SEGMENT_MOVETO:
            first = point
        elif kind == pdfium_c.FPDF_SEGMENT_LINETO:
            yield last, point
        last = point
        if pdfium_c.FPDFPathSegment_GetClose(segment):
            yield last, first
            last = first


def _level(pieces: Iterator[tuple[tuple[float, float], tuple[float, float]]]) -> Iterator[Stroke]:
    for begin, end in pieces:
        (left, at_left), (right, at_right) = sorted((begin, end))
        if right - left >= SHORTEST and abs(at_right - at_left) <= STEEPEST * (right - left):
            yield Stroke(left, right, at_left, at_right)


def _noted(page: pdfium.PdfPage) -> Iterator[Stroke]:
    """Yield the lines that a reader drew through words with a viewer's tool for striking out."""
    for index in range(min(pdfium_c.FPDFPage_GetAnnotCount(page.raw), MAX_NOTED)):
        noted = pdfium_c.FPDFPage_GetAnnot(page.raw, index)
        try:
            if pdfium_c.FPDFAnnot_GetSubtype(noted) != pdfium_c.FPDF_ANNOT_STRIKEOUT:
                continue
            for number in range(min(pdfium_c.FPDFAnnot_CountAttachmentPoints(noted), MAX_NOTED)):
                quad = pdfium_c.FS_QUADPOINTSF()
                if pdfium_c.FPDFAnnot_GetAttachmentPoints(noted, number, quad):
                    left, *_, right = sorted((quad.x1, quad.x2, quad.x3, quad.x4))
                    middle = (quad.y1 + quad.y2 + quad.y3 + quad.y4) / 4
                    yield from _level(iter([((left, middle), (right, middle))]))
        finally:
            pdfium_c.FPDFPage_CloseAnnot(noted)
