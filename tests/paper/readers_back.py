"""Two programs that have nothing to do with the one that writes: PDFium and Poppler read a page back."""

import ctypes
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

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
    """Give each font that is used, and whether it lies in the file."""
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
    """Give level, title and page, from 0, of each bookmark."""
    document = pdfium.PdfDocument(path)
    found = [(one.level, one.get_title(), one.get_dest().get_index()) for one in document.get_toc()]
    document.close()
    return found


def poppler_text(path: Path) -> list[str]:
    """Give the text of each page in the order in which it was written."""
    if not shutil.which("pdftotext"):
        pytest.skip("pdftotext (Poppler) is not installed")
    done = subprocess.run(("pdftotext", "-raw", str(path), "-"), capture_output=True, text=True, check=True)
    return done.stdout.split("\f")[:-1]


def poppler_fonts(path: Path) -> list[list[str]]:
    """Give the rows that pdffonts prints: the last five columns say embedded, subset, unicode and the object."""
    if not shutil.which("pdffonts"):
        pytest.skip("pdffonts (Poppler) is not installed")
    done = subprocess.run(("pdffonts", str(path)), capture_output=True, text=True, check=True)
    return [line.split() for line in done.stdout.splitlines()[2:]]


def bare(text: str) -> str:
    """Give a text without its spaces and lines, which each reader sets by its own lights."""
    return "".join(text.split())


def missing_in_order(text: str, wanted: Sequence[str]) -> list[str]:
    """Give what does not stand in the text behind what was wanted before it."""
    text, at, missing = bare(text), 0, []
    for word in map(bare, wanted):
        found = text.find(word, at)
        if found < 0:
            missing.append(word)
        else:
            at = found + len(word)
    return missing


def outside(page: Page, edge: float) -> list[str]:
    """Give the letters that come nearer than this to the edge of the sheet."""
    return [
        letter
        for letter, (left, bottom, right, top) in zip(page.letters, page.boxes, strict=True)
        if left < edge or bottom < edge or right > page.width - edge or top > page.height - edge
    ]


def overlapping(page: Page, by: float = 0.4) -> Iterator[str]:
    """Give each two letters whose boxes lie over each other by more than so many points both ways.

    The typeface itself lets an f reach over the letter after it.
    """
    if not page.boxes:
        return
    left, bottom, right, top = np.array(page.boxes).T
    across = np.minimum.outer(right, right) - np.maximum.outer(left, left)
    down = np.minimum.outer(top, top) - np.maximum.outer(bottom, bottom)
    for one, other in zip(*np.nonzero(np.triu((across > by) & (down > by), 1)), strict=True):
        if page.letters[one] != "f" or other != one + 1:
            yield f"{page.letters[one]}{page.letters[other]} at {left[one]:.0f},{bottom[one]:.0f}"
