"""Fit words into a width: wrap them, use a short form, or cut the middle, never smaller than the sizes allowed."""

import functools
import re
from collections.abc import Iterable
from typing import Final, NamedTuple

import msgspec

from companion.screen.page import TypeMeasure
from companion.view import LineMark, LineRole, ViewLine
from companion.view.chord_bars import rows_of_bars
from companion.view.short_words import middle_cut, words_left_out

ABOVE: Final = 0.20  # room above a capital for its accent, in capital heights
BELOW: Final = 0.35  # room below the baseline: the typeface's p and g reach 0.336
LEADING: Final = ABOVE + 1 + BELOW
BLEED: Final = {
    LineMark.HIGHLIGHT: 0.22,
    LineMark.CIRCLE: 0.52,
    LineMark.TAPE: 0.30,
    LineMark.TORN: 0.30,
    LineMark.CHOSEN: 0.22,
    LineMark.RIPPED: 0.50,  # the scraps lie beside it
}
"""How far a mark extends to each side of its words, in capital heights."""
DRAWN_WIDE: Final = 2.0  # width of the drawn glasses or long rest, in capital heights
DRAWN: Final = frozenset((LineMark.GLASSES, LineMark.REST))
BEFORE_WORDS: Final = 0.35  # between the drawing and the words
MAX_REMEMBERED: Final = 2000  # most texts whose pieces are kept
ROUNDING_PX: Final = 0.001


_IDEOGRAPH: Final = re.compile("[\u2e80-\u9fff\uf900-\ufaff\uff00-\uffef]")
WITHOUT_SPACES: Final = re.compile(f"{_IDEOGRAPH.pattern}|{_IDEOGRAPH.pattern.replace('[', '[^', 1)}+")
"""Matches Chinese and Japanese signs one by one, other text in one piece (Unicode Standard Annex #14, class ID)."""


class Fitted(msgspec.Struct, frozen=True):
    """A fitted line: its words as rows, its sizes, and its extent in px (``width`` excludes ``bleed``)."""

    line: ViewLine
    rows: tuple[str, ...]
    em_px: int
    label_em_px: int
    words_px: float  # from the left edge to the words
    width: float
    cap_px: float
    bleed: float

    @property
    def row_height(self) -> float:
        """Height of one row, accents and descenders included, in px."""
        return self.cap_px * LEADING

    @property
    def height(self) -> float:
        """Height of all rows, in px."""
        return self.row_height * len(self.rows)

    @property
    def outer(self) -> float:
        """Width including the mark, in px."""
        return self.width + 2 * self.bleed


class Fitting(msgspec.Struct, frozen=True):
    """How to fit a line. ``ways`` are (arc minutes, most rows), the preferred first; the last one may cut letters."""

    pen: TypeMeasure
    width: float
    label_arcmin: float
    ways: tuple[tuple[float, int], ...]

    def fit(self, line: ViewLine) -> Fitted:
        """Return the line fitted, cut if need be."""
        return self.whole(line) or self._cut(line, (line.text, *line.shorter)[-1])

    def whole(self, line: ViewLine) -> Fitted | None:
        """Return the line fitted uncut, if need be in a short form; None if nothing fits."""
        for form in (line.text, *line.shorter):
            for arcmin, most_rows in self.ways:
                rows = self._rows(line, form, arcmin, most_rows)
                if rows:
                    return self._fitted(line, rows, arcmin)
        return None

    def _cut(self, line: ViewLine, form: str) -> Fitted:
        """Leave out words from the middle; if even two words are too wide, leave out letters."""
        for shorter in words_left_out(form):
            for arcmin, most_rows in self.ways:
                rows = self._rows(line, shorter, arcmin, most_rows)
                if rows:
                    return self._fitted(line, rows, arcmin)
        arcmin, most_rows = self.ways[-1]
        keep, too_many = 1, len(form)
        while too_many - keep > 1:
            middle = (keep + too_many) // 2
            if self._rows(line, middle_cut(form, middle), arcmin, most_rows):
                keep = middle
            else:
                too_many = middle
        return self._fitted(line, self._rows(line, middle_cut(form, keep), arcmin, most_rows), arcmin)

    def _rows(self, line: ViewLine, form: str, arcmin: float, most_rows: int) -> tuple[str, ...]:
        em_px, width = self.pen.em_px(arcmin), self.width - self._before(line, arcmin)
        if line.part is LineRole.CHORDS:
            return rows_of_bars(form, most_rows, lambda row: self.pen.face.width_px(row, em_px) <= width)
        rows = wrapped(self.pen, form, width, em_px, most_rows)
        return balanced(self.pen, rows, em_px) if len(rows) > 1 else rows

    def _fitted(self, line: ViewLine, rows: tuple[str, ...], arcmin: float) -> Fitted:
        em_px, before = self.pen.em_px(arcmin), self._before(line, arcmin)
        cap_px = em_px * self.pen.face.cap_height
        rows = rows or (line.text[:1],)
        widest = max(self.pen.face.width_px(row, em_px) for row in rows)
        return Fitted(
            line=line,
            rows=rows,
            em_px=em_px,
            label_em_px=self.pen.em_px(min(self.label_arcmin, arcmin)),
            words_px=before,
            width=before + widest,
            cap_px=cap_px,
            bleed=BLEED.get(line.mark, 0.0) * cap_px,
        )

    def _before(self, line: ViewLine, arcmin: float) -> float:
        """Return the room for the label and a drawn sign before the words, in px."""
        cap_px = self.pen.cap_px(arcmin)
        room = (DRAWN_WIDE + BEFORE_WORDS) * cap_px if line.mark in DRAWN else 0.0
        if line.label:
            room += self.pen.face.width_px(line.label, self.pen.em_px(min(self.label_arcmin, arcmin)))
            room += (BLEED.get(line.mark, 0.0) + BEFORE_WORDS) * cap_px
        return room


def wrapped(pen: TypeMeasure, text: str, width: float, em_px: int, most_rows: int) -> tuple[str, ...]:
    """Break a text at its spaces into at most ``most_rows`` rows; empty if it does not fit.

    Between Chinese and Japanese signs, written without spaces, a row may end anywhere.
    """
    whole, pieces = _broken(text)
    room = most_rows * width + (most_rows - 1) * pen.face.width_px(" ", em_px)  # a row may end at a space
    if pen.face.width_px(whole, em_px) > room + ROUNDING_PX:
        return ()  # at once: most of the sizes that are tried are too large
    rows: list[str] = []
    for before, word in pieces:
        longer = f"{rows[-1]}{before}{word}" if rows else word
        if rows and pen.face.width_px(longer, em_px) <= width:
            rows[-1] = longer
        elif pen.face.width_px(word, em_px) <= width and len(rows) < most_rows:
            rows.append(word)
        else:
            return ()
    return tuple(rows)


class _Broken(NamedTuple):
    """A text with single spaces, and its pieces that cannot be broken, each after a space or nothing."""

    whole: str
    pieces: tuple[tuple[str, str], ...]


@functools.lru_cache(MAX_REMEMBERED)
def _broken(text: str) -> _Broken:
    pieces: list[tuple[str, str]] = []
    for word in text.split() or [""]:
        first, *others = WITHOUT_SPACES.findall(word) or [word]
        pieces += [(" ", first), *(("", piece) for piece in others)]
    return _Broken(" ".join(text.split()), tuple(pieces))


def balanced(pen: TypeMeasure, rows: tuple[str, ...], em_px: int) -> tuple[str, ...]:
    """Break the words into the same number of rows of similar width, so that the last one has more than one word."""
    text = joined(rows)
    widest = max(pen.face.width_px(row, em_px) for row in rows)
    narrowest = pen.face.width_px(text, em_px) / len(rows)
    while widest - narrowest > em_px / 2:
        middle = (widest + narrowest) / 2
        tried = wrapped(pen, text, middle, em_px, len(rows))
        if tried:
            rows, widest = tried, middle
        else:
            narrowest = middle
    return rows


def joined(rows: Iterable[str]) -> str:
    """Return the text that the rows were broken from.

    >>> joined(("Seventeen", "Umbrellas")), joined(("港の", "夜"))
    ('Seventeen Umbrellas', '港の夜')
    """
    text = ""
    for row in rows:
        glued = text and _IDEOGRAPH.fullmatch(text[-1]) and _IDEOGRAPH.match(row)
        text = f"{text}{'' if glued or not text else ' '}{row}"
    return text
