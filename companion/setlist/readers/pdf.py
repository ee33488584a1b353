"""Turn a PDF into rows: lines of letters, and columns where pieces are aligned."""

import itertools
import re

import msgspec

from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.readers.limits import FEWEST_LETTERS, LONGEST_CELL, MAX_LETTERS, MAX_PAGES, MAX_ROWS
from companion.setlist.readers.printed_lines import PdfReading, PrintedLine
from companion.setlist.readers.refusal import no_list, only_pictures
from companion.setlist.readers.text import without_quotes
from companion.setlist.tidy import one_line, tidy, without_emphasis

LONGEST_TURNED = 100  # characters of turned text that are reported
SMALL = 0.85  # times the usual height; smaller lines are notes
LARGE = 1.15  # times the usual height of letters; larger lines are headings
PARAGRAPH = 1.6  # usual line distances; a larger gap counts as an empty line


def pages_of_pdf(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a PDF's text. Raises FaultyFile if it is locked, only pictures, too long or damaged."""
    from companion.setlist.readers.pdf_letters import printed as printed_in

    printed = printed_in(raw)
    if printed.problem == "locked":
        raise no_list(shown, "the PDF is locked with a password", "a copy without it")
    if printed.problem == "pages":
        raise no_list(
            shown, f"{printed.number_of_pages} pages; at most {MAX_PAGES} are read", "the list's own pages as a PDF"
        )
    if printed.problem == "letters":
        raise no_list(shown, f"more than {MAX_LETTERS:,} letters; a set list has about 5,000", "the list's own pages")
    if printed.problem:
        raise no_list(shown, "the PDF cannot be read: it is damaged", "the same, exported again, or pasted as text")
    if not any(printed.pages) or (printed.pictures and _letters(printed) < FEWEST_LETTERS):
        what = "only pictures" if printed.pictures else "no text"
        raise only_pictures(
            shown, f"the PDF holds {what}, so nothing can be read", "a PDF with text, or the list typed or pasted"
        )
    if sum(map(len, printed.pages)) > MAX_ROWS:
        raise no_list(shown, f"more than {MAX_ROWS} lines; a set list has a hundred")
    (page,) = rows_of(printed.pages)
    if not printed.turned:
        return (page,)
    remark = f"turned text on the page, no part of the list: {printed.turned[:LONGEST_TURNED]}"
    return (msgspec.structs.replace(page, remarks=(*page.remarks, remark)),)


def rows_of(pages: tuple[tuple[PrintedLine, ...], ...]) -> tuple[ListPage, ...]:
    """Return the lines as rows with the places of their pieces; all pages are one list."""
    lines = [(number, line, index) for number, page in enumerate(pages, start=1) for index, line in enumerate(page)]
    blanks = [blank for page in pages for blank in _blanks(page)]
    heights = sorted(line.height for _, line, _ in lines)
    usual = heights[len(heights) // 2] if heights else 0
    left = min((line.pieces[0].begin for _, line, _ in lines), default=0)
    rows = []
    for (number, line, index), blank in zip(lines, blanks, strict=True):
        words, quoted = without_quotes(_with_crossed_whole("  ".join(piece.text for piece in line.pieces)))
        words = tidy(words)[: LONGEST_CELL * 4]
        place = SourceLine(index + 1, page=number if len(pages) > 1 else None)
        rows.append(
            ListRow(
                place,
                (without_emphasis(words),),
                one_line(words),
                blank,
                is_large=line.height > LARGE * usual,
                is_small=line.height < SMALL * usual,
                indent=round((line.pieces[0].begin - left) / (0.5 * usual), 1) if usual else 0.0,
                quoted=quoted,
                spans=line.pieces,
                in_row_above=line.in_row_above,
            )
        )
    return (ListPage(tuple(rows)),)


def _with_crossed_whole(words: str) -> str:
    """Return a line's words; where each piece is crossed out, as one."""
    left = re.sub(r"~~[^~]+~~", "", words)
    whole = left != words and not any(letter.isalpha() for letter in left)
    return f"~~{words.replace('~~', '')}~~" if whole else words


def _blanks(page: tuple[PrintedLine, ...]) -> list[bool]:
    gaps: list[float] = [above.middle - below.middle for above, below in itertools.pairwise(page)]
    usual = sorted(gaps)[len(gaps) // 2] if gaps else 0
    return [False, *(gap > PARAGRAPH * usual for gap in gaps)][: len(page)]


def _letters(printed: PdfReading) -> int:
    return sum(len(piece.text) for page in printed.pages for line in page for piece in line.pieces)
