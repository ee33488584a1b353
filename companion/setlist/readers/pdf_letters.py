"""Group a PDF's letters, by position, into lines and pieces."""

import ctypes
import math
import re
from collections import Counter

import msgspec
import pypdfium2 as pdfium
from pypdfium2 import raw as pdfium_c

from companion.setlist.model import TextSpan
from companion.setlist.readers.limits import MAX_LETTERS, MAX_PAGES
from companion.setlist.readers.pdf_strokes import Strokes, strokes_of
from companion.setlist.readers.printed_lines import PdfReading, PrintedLine

TURNED = 0.2  # radians; text that is turned further is no line of the list
GAP = 0.75  # gap between pieces, as a share of the letters' height; a word space is a quarter to a third of it
CELL_GAP = 0.15  # same, between pieces printed separately without a typed space: cells of a tight table
TYPED_SPACES = 0.02  # share of spaces among letters; below it, spaces are not printed, and a word may be a piece
SECOND_SPACE = 0.7  # extra space widths: several spaces were typed, and the library returns only the first
MAX_STRUCK = 0.6  # share of a page's letters
CROSSED = "\ue000"  # in front of each letter that is crossed out, until its piece is whole
MOSTLY = 0.6  # share of a piece's letters; a stroke of the pen need not reach them all
FEWEST_BEGUN = 3  # lines with a piece that begins at the same place: a column
SAME_LINE = 0.35  # share of the height: a note in smaller letters is still on the same line
BULLET, SYMBOLS = "•", range(0xF020, 0xF100)  # where fonts of symbols put their signs, as for Word's bullets
_CROSSED_OUT = re.compile(rf"(?:{CROSSED}.\s?(?![^{CROSSED}\s]))*{CROSSED}.")


class _Letter(msgspec.Struct):
    sign: str
    left: float
    right: float
    middle: float
    height: float
    printed_with: int  # letters printed in one operation share a number
    is_struck: bool = False

    @property
    def shown(self) -> str:
        """Return the sign, marked where it is crossed out."""
        return f"{CROSSED}{self.sign}" if self.is_struck else self.sign


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
                strokes = strokes_of(page)
                pages.append(strokes.with_rows(_lines(_letters(text, turned, strokes))))
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


def _letters(text: pdfium.PdfTextPage, turned: list[str], strokes: Strokes) -> list[_Letter]:
    """Return the letters of a page; those of turned text, as on an edge or across the page, go to ``turned``."""
    found = []
    for index in range(text.count_chars()):
        code = pdfium_c.FPDFText_GetUnicode(text.raw, index)
        if code < 32 or 0xD800 <= code <= ord(CROSSED) or pdfium_c.FPDFText_IsGenerated(text.raw, index) == 1:
            continue
        if _is_turned(pdfium_c.FPDFText_GetCharAngle(text.raw, index)):
            turned.append(chr(code))
            continue
        left, bottom, right, top = text.get_charbox(index, loose=True)
        if top > bottom:
            handle = ctypes.cast(pdfium_c.FPDFText_GetTextObject(text.raw, index), ctypes.c_void_p).value or 0
            struck = strokes.cross(left, right, bottom, top)
            sign = BULLET if code in SYMBOLS else chr(code)
            found.append(_Letter(sign, left, right, (bottom + top) / 2, top - bottom, handle, struck))
    if sum(letter.is_struck for letter in found) > MAX_STRUCK * len(found):
        return [msgspec.structs.replace(letter, is_struck=False) for letter in found]  # lines of the paper
    return found


def _lines(letters: list[_Letter]) -> tuple[PrintedLine, ...]:
    lines: list[list[_Letter]] = []
    for letter in sorted(letters, key=lambda one: -one.middle):
        if lines and abs(lines[-1][0].middle - letter.middle) <= SAME_LINE * max(letter.height, lines[-1][0].height):
            lines[-1].append(letter)
        elif letter.sign.strip():
            lines.append([letter])
    cell_gap = CELL_GAP if sum(not one.sign.strip() for one in letters) >= TYPED_SPACES * len(letters) else GAP
    lines = [sorted(line, key=lambda one: one.left) for line in lines]
    begins = Counter(round(piece.begin) for line in lines for piece in _pieces(line, cell_gap)[1:])
    columns = frozenset(begin for begin, count in begins.items() if count >= FEWEST_BEGUN)
    found = ((line, _pieces(line, cell_gap, columns)) for line in lines)
    return tuple(
        PrintedLine(line[0].middle, max(one.height for one in line), pieces) for line, pieces in found if pieces
    )


def _pieces(letters: list[_Letter], cell_gap: float, columns: frozenset[int] = frozenset()) -> tuple[TextSpan, ...]:
    """Return a line's pieces. ``columns``: where pieces begin in other lines; a title may reach up to there."""
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
        is_cell = round(letter.left) in columns or (gap > cell_gap and not text.endswith(" "))
        if text and (gap > GAP or (is_cell and last != letter.printed_with)):
            pieces += [*typed, _piece(begin, end, text, typed)]
            text, typed = "", []
        elif text.endswith(" ") and space and letter.left - space.right > SECOND_SPACE * (space.right - space.left) > 0:
            typed.append(_piece(begin, end, text, typed))
            text = ""
        elif text and gap > CELL_GAP and not text.endswith(" "):
            text += " "  # some programs print no spaces, only a gap
        if not text:
            begin = letter.left
        text += letter.shown
        end, last = letter.right, letter.printed_with
    if text.strip():
        pieces += [*typed, _piece(begin, end, text, typed)]
    return tuple(pieces)


def _piece(begin: float, end: float, text: str, typed: list[TextSpan]) -> TextSpan:
    """Return a piece, what is crossed out in it between ~~."""
    words = text.strip()
    whole = words.replace(CROSSED, "")
    if words.count(CROSSED) >= MOSTLY * sum(not sign.isspace() for sign in whole):
        words = f"~~{whole}~~"
    elif words != whole:
        words = _CROSSED_OUT.sub(lambda found: f"~~{found[0].replace(CROSSED, '')}~~", words)
    return TextSpan(begin, end, words, bool(typed))
