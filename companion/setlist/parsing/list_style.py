"""Learn the style of a whole list, to resolve what single lines leave open."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import key_cell, length_cell, plain_key, tempo_cell
from companion.setlist.parsing.patterns import (
    BARE_NUMBER,
    BULLET,
    BY,
    COMMA,
    GERMAN_AT_END,
    IN_BRACKETS,
    KEY_AT_END,
    KEY_IN_FRONT,
    LENGTH_AT_END,
    NUMBERED,
    PARTED,
    POINTED_AT_END,
    SAID_AT_END,
    STRONG,
    TEMPO_AT_END,
)
from companion.setlist.parsing.remarks import STARS, is_remark

SLOWEST, FASTEST = 40, 260  # a bare number in this range may be a tempo


class Style(msgspec.Struct, frozen=True):
    """The style of a list, learnt from all of its lines; it resolves what single lines leave open."""

    numbered: bool = False  # with 1. or 1)
    bare_numbers: bool = False  # 1 Gasworks Corner
    bulleted: bool = False
    key_at_end: bool = False  # Gasworks Corner A
    key_in_front: bool = False
    tempo_at_end: bool = False
    has_artist: bool = False
    artist_first: bool = False
    by_artist: bool = False
    commas: bool = False
    pointed_lengths: bool = False  # 3.40 for 3:40
    bulleted_notes: bool = False  # bulleted lines are notes on the plain line above

    @property
    def is_shaped(self) -> bool:
        """Return whether songs are marked by a number or a bullet."""
        return self.numbered or self.bare_numbers or self.bulleted

    def is_tempo(self, text: str) -> bool:
        """Return whether a bare number may be a tempo."""
        return text.isdecimal() and SLOWEST <= int(text) <= FASTEST


def learn(lines: Sequence[ListRow], *, notation: Notation = Notation.LETTERS) -> Style:
    """Learn the style of a list from the lines that may be songs."""
    texts = [row.cells[0] for row in lines]
    total = max(len(texts), 1)

    def most(share: float, found: int) -> bool:
        return found >= share * total and found > 1

    bulleted = [text for text in texts if BULLET.match(text)]
    style = Style(
        numbered=most(0.5, sum(bool(NUMBERED.match(text)) for text in texts))
        or most(0.3, _in_sequence([_number(text) for text in texts]) - 1),
        bare_numbers=most(0.5, _in_sequence([_bare_number(text) for text in texts])),
        bulleted=most(0.5, len(bulleted)),
        bulleted_notes=len(bulleted) > 1
        and bool(texts and not BULLET.match(texts[0]))
        and sum(_is_note(text, notation=notation) for text in bulleted) >= 0.7 * len(bulleted),
    )
    if style.bulleted_notes:
        style = msgspec.structs.replace(style, bulleted=False)
        texts = [text for text in texts if not BULLET.match(text)]
        total = max(len(texts), 1)
    plain = [IN_BRACKETS.sub("", unmarked(text, style)[0]).strip() or text for text in texts]
    pointed = sum(bool(POINTED_AT_END.search(f" {text}")) for text in plain)
    parted = [pieces_of(text, commas=False) for text in plain]
    commas = most(0.6, sum(len(COMMA.split(text)) > 1 for text in plain)) and not most(
        0.3, sum(len(piece) > 1 for piece in parted)
    )
    if commas:
        parted = [pieces_of(text, commas=True) for text in plain]
    style = msgspec.structs.replace(style, commas=commas, pointed_lengths=most(0.6, pointed))
    first = [_without_length(piece[0]) for piece in parted]
    numbers = [bool((found := TEMPO_AT_END.match(_without_key(text))) and _is_tempo(found[2])) for text in first]
    if most(0.6, sum(numbers)):
        first = [found[1] if (found := TEMPO_AT_END.match(text)) and _is_tempo(found[2]) else text for text in first]
    front = [bool((found := KEY_IN_FRONT.match(text)) and plain_key(found[1])) for text in first]
    names = [[part for part in piece if not _says_something(part, notation=notation)] for piece in parted]
    second = [part[1] for part in names if len(part) > 1]
    leading = [part[0] for part in names if len(part) > 1]
    has_artist = most(0.4, len(second))
    return msgspec.structs.replace(
        style,
        key_at_end=most(0.6, sum(_ends_in_key(text, notation=notation) for text in first)),
        key_in_front=most(0.6, sum(front)),
        tempo_at_end=most(0.6, sum(numbers)),
        has_artist=has_artist,
        artist_first=has_artist and len(set(leading)) < len(set(second)) and len(set(leading)) < 0.9 * len(leading),
        by_artist=most(0.6, sum(bool(BY.match(text)) for text in first)),
    )


def _number(text: str) -> int | None:
    found = NUMBERED.match(text)
    return int(found[1]) if found else None


def _bare_number(text: str) -> int | None:
    found = BARE_NUMBER.match(text)
    return int(found[1]) if found else None


def _in_sequence(numbers: Sequence[int | None]) -> int:
    """Count the numbers that continue the one before, or restart at 1."""
    found, before = 0, 0
    for number in numbers:
        if number is not None and (number in (before + 1, 1)):
            found += 1
            before = number
    return found


def _is_tempo(text: str) -> bool:
    return SLOWEST <= int(re.sub(r"\D", "", text) or 0) <= FASTEST


def _is_note(text: str, *, notation: Notation) -> bool:
    """Return whether a bulleted line is a remark on a song rather than a title."""
    said = BULLET.sub("", text)
    return _says_something(said, notation=notation) or bool(SAID_AT_END.match(f"x {said}"))


def pieces_of(text: str, *, commas: bool) -> list[str]:
    """Split a line at its separators."""
    pieces = [piece for piece in PARTED.split(text) if piece and piece.strip()]
    if commas:
        pieces = [part for piece in pieces for part in COMMA.split(piece) if part]
    return pieces or [text]


def _ends_in_key(text: str, *, notation: Notation) -> bool:
    found = KEY_AT_END.match(text) or (GERMAN_AT_END.match(text) if notation is Notation.GERMAN else None)
    return bool(found and plain_key(found[3], notation=notation))


def _without_key(text: str) -> str:
    found = KEY_AT_END.match(text)
    return found[1] if found and STRONG.match(found[3]) else text


def _without_length(text: str) -> str:
    text = STARS.sub("", text)
    found = LENGTH_AT_END.match(text)
    return found[1] if found else text


def _says_something(part: str, *, notation: Notation) -> bool:
    said = key_cell(part, notation=notation) or length_cell(part) or tempo_cell(part, named=part.isdecimal())
    return bool(said) or is_remark(part) or "/" in part or len(part) < 2 or length_cell(part, named=True) is not None


def unmarked(text: str, style: Style) -> tuple[str, int | None, bool]:
    """Split off a number or bullet: (the rest, the number, whether there was either)."""
    marked = False
    if found := BULLET.match(text):
        text, marked = text[found.end() :], True
    found = NUMBERED.match(text) or (BARE_NUMBER.match(text) if style.bare_numbers else None)
    if found:
        return text[found.end() :], int(found[1]), True
    return text, None, marked


def is_marked(text: str, style: Style) -> bool:
    """Return whether the line has the number or bullet that the list's songs have."""
    _, number, marked = unmarked(text, style)
    return (number is not None) if style.numbered or style.bare_numbers else marked
