"""Group a PDF's letters, by position, into lines and pieces."""

import ctypes
import math

import msgspec
import pypdfium2 as pdfium
from pypdfium2 import raw as pdfium_c

from companion.setlist.model import TextSpan
from companion.setlist.readers.limits import MAX_LETTERS, MAX_PAGES
from companion.setlist.readers.printed_lines import PdfReading, PrintedLine

TURNED = 0.2  # radians; text that is turned further is no line of the list
GAP = 0.75  # gap between pieces, as a share of the letters' height; a word space is a quarter to a third of it
CELL_GAP = 0.15  # same, between pieces printed separately without a typed space: cells of a tight table
TYPED_SPACES = 0.02  # share of spaces among letters; below it, spaces are not printed, and a word may be a piece
SECOND_SPACE = 0.7  # extra space widths: several spaces were typed, and the library returns only the first
SAME_LINE = 0.35  # share of the height: a note in smaller letters is still on the same line


class _Letter(msgspec.Struct):
    sign: str
    left: float
    right: float
    middle: float
    height: float
    printed_with: int  # letters printed in one operation share a number


def printed(raw: bytes) -> PdfReading:
    """Read a PDF's letters into lines and pieces."""
    try:
        document = pdfium.PdfDocument(raw)
    except pdfium.PdfiumError as error:
        return PdfReading(problem="locked" if "password" in str(error).lower() else "broken")
    with document:
        number = len(document)
        if number > MAX_PAGES:
            return PdfReading(number_of_pages=number, problem="pages")
        pages, pictures, letters = [], False, 0
        turned: list[str] = []
        for index in range(number):
            try:
                page = document[index]
                text = page.get_textpage()
                letters += text.count_chars()
                if letters > MAX_LETTERS:
                    return PdfReading(number_of_pages=number, problem="letters")
                pages.append(_lines(_letters(text, turned)))
                turned.append(" ")
                pictures = pictures or any(
                    True for _ in page.get_objects(filter=(pdfium_c.FPDF_PAGEOBJ_IMAGE,), max_depth=3)
                )
            except pdfium.PdfiumError:
                return PdfReading(number_of_pages=number, problem="broken")
        return PdfReading(tuple(pages), number, "", pictures, " ".join("".join(turned).split()))


def _is_turned(angle: float) -> bool:
    """Return whether letters at this angle, in radians from 0 to 2 pi, stand on no line of the page."""
    return TURNED < angle < 2 * math.pi - TURNED


def _letters(text: pdfium.PdfTextPage, turned: list[str]) -> list[_Letter]:
    """Return the letters of a page; those of turned text, as on an edge or across the page, go to ``turned``."""
    found = []
    for index in range(text.count_chars()):
        code = pdfium_c.FPDFText_GetUnicode(text.raw, index)
        if code < 32 or 0xD800 <= code < 0xE000 or pdfium_c.FPDFText_IsGenerated(text.raw, index) == 1:
            continue
        if _is_turned(pdfium_c.FPDFText_GetCharAngle(text.raw, index)):
            turned.append(chr(code))
            continue
        left, bottom, right, top = text.get_charbox(index, loose=True)
        if top > bottom:
            handle = ctypes.cast(pdfium_c.FPDFText_GetTextObject(text.raw, index), ctypes.c_void_p).value or 0
            found.append(_Letter(chr(code), left, right, (bottom + top) / 2, top - bottom, handle))
    return found


def _lines(letters: list[_Letter]) -> tuple[PrintedLine, ...]:
    lines: list[list[_Letter]] = []
    for letter in sorted(letters, key=lambda one: -one.middle):
        if lines and abs(lines[-1][0].middle - letter.middle) <= SAME_LINE * max(letter.height, lines[-1][0].height):
            lines[-1].append(letter)
        elif letter.sign.strip():
            lines.append([letter])
    made = []
    spaces = sum(not letter.sign.strip() for letter in letters) >= TYPED_SPACES * len(letters)
    for line in lines:
        pieces = _pieces(sorted(line, key=lambda one: one.left), CELL_GAP if spaces else GAP)
        if pieces:
            made.append(PrintedLine(line[0].middle, max(one.height for one in line), pieces))
    return tuple(made)


def _pieces(letters: list[_Letter], cell_gap: float) -> tuple[TextSpan, ...]:
    pieces: list[TextSpan] = []
    typed: list[TextSpan] = []  # parts of the piece so far, separated by two or more spaces
    begin, end, text, last = 0.0, float("-inf"), "", 0
    space: _Letter | None = None
    for letter in letters:
        if not letter.sign.strip():
            text += " " if text and not text.endswith(" ") else ""
            space = letter
            continue
        gap = (letter.left - end) / letter.height
        if text and (gap > GAP or (gap > cell_gap and last != letter.printed_with and not text.endswith(" "))):
            pieces += [*typed, TextSpan(begin, end, text.strip(), bool(typed))]
            text, typed = "", []
        elif text.endswith(" ") and space and letter.left - space.right > SECOND_SPACE * (space.right - space.left) > 0:
            typed.append(TextSpan(begin, end, text.strip(), bool(typed)))
            text = ""
        elif text and gap > CELL_GAP and not text.endswith(" "):
            text += " "  # some programs print no spaces, only a gap
        if not text:
            begin = letter.left
        text += letter.sign
        end, last = letter.right, letter.printed_with
    if text.strip():
        pieces += [*typed, TextSpan(begin, end, text.strip(), bool(typed))]
    return tuple(pieces)
