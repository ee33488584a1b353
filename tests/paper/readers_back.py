"""Two programs that have nothing to do with the one that writes: PDFium and Poppler read a page back."""

import ctypes
import itertools
import shutil
import subprocess
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import msgspec
import numpy as np
import pypdfium2 as pdfium
import pytest
from pypdfium2 import raw


class Page(msgspec.Struct, frozen=True):
    """A page as PDFium sees it: its size, its letters and the box of each, in points from the bottom left."""

    width: float
    height: float
    text: str
    letters: tuple[str, ...]
    boxes: tuple[tuple[float, float, float, float], ...]  # left, bottom, right, top


@cache
def pages_of(path: Path) -> list[Page]:
    document = pdfium.PdfDocument(path)
    try:
        return [_page(document[number]) for number in range(len(document))]
    finally:
        document.close()


def _page(page: pdfium.PdfPage) -> Page:
    words = page.get_textpage()
    letters, boxes = [], []
    sides = [ctypes.c_double() for _side in range(4)]
    for place in range(words.count_chars()):
        letter = chr(raw.FPDFText_GetUnicode(words, place))
        if letter.strip():
            raw.FPDFText_GetCharBox(words, place, *map(ctypes.byref, sides))
            left, right, bottom, top = (side.value for side in sides)
            letters.append(letter)
            boxes.append((left, bottom, right, top))
    width, height = page.get_size()
    return Page(width, height, words.get_text_bounded(), tuple(letters), tuple(boxes))


def embedded(path: Path) -> set[tuple[str, bool]]:
    """Return each font that is used, and whether it is embedded."""
    document = pdfium.PdfDocument(path)
    found = set()
    for number in range(len(document)):
        for one in document[number].get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT]):
            font = raw.FPDFTextObj_GetFont(one)
            name = ctypes.create_string_buffer(200)
            raw.FPDFFont_GetBaseFontName(font, name, 200)
            found.add((name.value.decode(), raw.FPDFFont_GetIsEmbedded(font) == 1))
    document.close()
    return found


def bookmarks(path: Path) -> list[tuple[int, str, int]]:
    """Return level, title and page, from 0, of each bookmark."""
    document = pdfium.PdfDocument(path)
    found = [(one.level, one.get_title(), one.get_dest().get_index()) for one in document.get_toc()]
    document.close()
    return found


def poppler_text(path: Path) -> list[str]:
    """Return the text of each page in writing order."""
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext (Poppler) is not installed")
    done = subprocess.run(
        ("pdftotext", "-enc", "UTF-8", "-raw", str(path), "-"), capture_output=True, encoding="utf-8", check=True
    )
    return done.stdout.split("\f")[:-1]


def poppler_fonts(path: Path) -> list[list[str]]:
    """Return the rows that pdffonts prints: the last five columns say embedded, subset, unicode and the object."""
    if not shutil.which("pdffonts"):
        pytest.skip("pdffonts (Poppler) is not installed")
    done = subprocess.run(("pdffonts", str(path)), capture_output=True, text=True, check=True)
    return [line.split() for line in done.stdout.splitlines()[2:]]


def bare(text: str) -> str:
    """Return a text without white space, which each reader sets differently."""
    return "".join(text.split())


def missing_in_order(text: str, wanted: Sequence[str]) -> list[str]:
    """Return the wanted words that the text lacks after the previous wanted one."""
    text, at, missing = bare(text), 0, []
    for word in map(bare, wanted):
        found = text.find(word, at)
        if found < 0:
            missing.append(word)
        else:
            at = found + len(word)
    return missing


def outside(page: Page, edge: float) -> list[str]:
    """Return the letters closer than this to the edge of the sheet."""
    return [
        letter
        for letter, (left, bottom, right, top) in zip(page.letters, page.boxes, strict=True)
        if left < edge or bottom < edge or right > page.width - edge or top > page.height - edge
    ]


def overlapping(page: Page, by: float = 0.4) -> Iterator[str]:
    """Yield pairs of letters whose boxes overlap by more than this many points both ways.

    The typeface itself lets an f reach over the letter after it.
    """
    if not page.boxes:
        return
    boxes = np.array(page.boxes)
    upwards = np.argsort(boxes[:, 1], kind="stable")  # so that each is compared only with those beside it
    left, bottom, right, top = boxes[upwards].T
    after = np.arange(1, len(boxes) + 1)
    many = np.maximum(np.searchsorted(bottom, top - by) - after, 0)
    one = np.repeat(after - 1, many)
    other = np.arange(len(one)) + np.repeat(after - np.cumsum(many) + many, many)
    across = np.minimum(right[one], right[other]) - np.maximum(left[one], left[other])
    down = np.minimum(top[one], top[other]) - bottom[other]
    both = (across > by) & (down > by)
    for pair in zip(upwards[one[both]], upwards[other[both]], strict=True):
        first, second = sorted(pair)
        if page.letters[first] != "f" or second != first + 1:
            yield f"{page.letters[first]}{page.letters[second]} at {boxes[first][0]:.0f},{boxes[first][1]:.0f}"


class PrintedWord(msgspec.Struct, frozen=True):
    """A word as Poppler finds it, in points from the top left."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


class PrintedBar(msgspec.Struct, frozen=True):
    """The box between two bar lines, in points from the top left, and its words from left to right."""

    left: float
    right: float
    top: float
    bottom: float
    words: tuple[str, ...]


def poppler_words(path: Path) -> list[list[PrintedWord]]:
    """Return the words of each page with their boxes."""
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext (Poppler) is not installed")
    done = subprocess.run(
        ("pdftotext", "-enc", "UTF-8", "-raw", "-bbox", str(path), "-"),
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    tree = ET.fromstring(done.stdout)  # noqa: S314 - Poppler wrote it a moment ago
    pages = tree.iter("{http://www.w3.org/1999/xhtml}page")
    return [
        [
            PrintedWord(word.text or "", *(float(word.attrib[side]) for side in ("xMin", "yMin", "xMax", "yMax")))
            for word in page
        ]
        for page in pages
    ]


Line = tuple[float, float, float, float]


@cache
def lines_of(path: Path) -> list[list[Line]]:
    """Return the straight lines that PDFium draws on each page: from x, y to x, y, from the top left."""
    document = pdfium.PdfDocument(path)
    found = []
    for number in range(len(document)):
        page = document[number]
        height = page.get_size()[1]
        lines: list[Line] = []
        for one in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
            points = [_point(raw.FPDFPath_GetPathSegment(one, n)) for n in range(raw.FPDFPath_CountSegments(one))]
            stroked = ctypes.c_int()
            raw.FPDFPath_GetDrawMode(one, ctypes.c_int(), ctypes.byref(stroked))
            lines += [
                (x1, height - y1, x2, height - y2)
                for (_kind, x1, y1), (kind, x2, y2) in itertools.pairwise(points)
                if kind == raw.FPDF_SEGMENT_LINETO and stroked.value
            ]
        found.append(lines)
    document.close()
    return found


def upright_strokes(path: Path) -> list[list[tuple[float, float, float]]]:
    """Return the vertical strokes of each page: x, top and bottom, from the top left."""
    return [
        [(x1, min(y1, y2), max(y1, y2)) for x1, y1, x2, y2 in lines if abs(x1 - x2) < 0.05 and abs(y1 - y2) > 5]
        for lines in lines_of.__wrapped__(path)
    ]


def cut_letters(path: Path, by: float = 0.2) -> list[str]:
    """Return each letter that a stroke crosses by more than this many points."""
    found = []
    for page, lines in zip(pages_of.__wrapped__(path), lines_of.__wrapped__(path), strict=True):
        for letter, (left, bottom, right, top) in zip(page.letters, page.boxes, strict=True):
            box = (left + by, page.height - top + by, right - by, page.height - bottom - by)
            found += [f"{letter} at {left:.0f},{bottom:.0f}" for line in lines if _goes_through(line, box)]
    return found


def _goes_through(line: Line, box: tuple[float, float, float, float]) -> bool:
    """Whether a line meets a box, by Liang and Barsky's clipping."""
    x1, y1, x2, y2 = line
    left, top, right, bottom = box
    first, last = 0.0, 1.0
    for way, room in ((x1 - x2, x1 - left), (x2 - x1, right - x1), (y1 - y2, y1 - top), (y2 - y1, bottom - y1)):
        if way == 0:
            if room < 0:
                return False
        elif way < 0:
            first = max(first, room / way)
        else:
            last = min(last, room / way)
    return first <= last


def _point(segment: object) -> tuple[int, float, float]:
    x, y = ctypes.c_float(), ctypes.c_float()
    raw.FPDFPathSegment_GetPoint(segment, ctypes.byref(x), ctypes.byref(y))
    return raw.FPDFPathSegment_GetType(segment), x.value, y.value


def bars_of(path: Path) -> list[list[PrintedBar]]:
    """Return the bars of each page, row by row: bar lines as PDFium draws them, words as Poppler reads them."""
    pages = []
    for words, strokes in zip(poppler_words(path), upright_strokes(path), strict=True):
        rows: dict[tuple[float, float], set[float]] = {}
        for x, top, bottom in strokes:
            rows.setdefault((round(top, 1), round(bottom, 1)), set()).add(round(x, 1))
        bars = []
        for (top, bottom), lines in sorted(rows.items()):
            for left, right in itertools.pairwise(sorted(lines)):
                inside = [
                    word
                    for word in words
                    if left - 0.5 < (word.left + word.right) / 2 < right and top < (word.top + word.bottom) / 2 < bottom
                ]
                bars.append(PrintedBar(left, right, top, bottom, tuple(joined(inside))))
        pages.append(bars)
    return pages


def joined(words: Iterable[PrintedWord], gap: float = 0.12) -> list[str]:
    """Join words closer than this share of their height: a chord with a raised kind is one word."""
    found: list[str] = []
    end = -100.0
    for word in sorted(words, key=lambda word: word.left):
        if word.left - end < gap * (word.bottom - word.top):
            found[-1] += word.text
        else:
            found.append(word.text)
        end = word.right
    return found
