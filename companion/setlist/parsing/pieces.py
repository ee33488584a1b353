"""Read one piece of a line for what it says by itself: a key, a length, a tempo, a meter, a remark."""

import functools
import re

import msgspec

from companion.music import Meter
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import is_nothing, length_cell, meter_cell, tempo_cell
from companion.setlist.parsing.key_cells import KEPT, KeyFound, key_cell, plain_key
from companion.setlist.parsing.patterns import COMMA, PARTED, SLASHED
from companion.setlist.parsing.remarks import is_remark

SLOWEST, FASTEST = 40, 260  # a bare number in this range may be a tempo
APART = re.compile(r"\s*[,;|•·]\s*")
_LEADING_KEY = re.compile(
    r"^([^\s,;:!]{1,4}(?:[ -](?:flat|sharp|minor|major|moll|dur))?)(?:[\s,;:!]+)(\S.*)$", re.IGNORECASE
)
_FOR_NOW = re.compile(
    r"(?:then|up to|down to|now|tonight|today|this time|instead|these days|again|"
    r"too|as well|still|wieder|auch|aussi|también|anche|também|weer|igen|igjen|också|også)\b"
)  # E now
_SAID_LETTERS = "BCDEFG"  # in C all the way
_STRONG = re.compile(r"^[A-Ga-g][b#♭♯]m?$|^[A-Ga-g]m$")


class LinePiece(msgspec.Struct, frozen=True):
    """A piece of a line, as read. Of its fields at most one is set; a ``remark`` is its text."""

    text: str
    key: KeyFound | None = None
    length_s: int | None = None
    tempo_bpm: float | None = None
    meter: Meter | None = None
    is_remark: bool = False
    is_nothing: bool = False  # it stands for an unknown value

    @property
    def is_fact(self) -> bool:
        """Return whether it is a key, a length, a tempo or a meter."""
        return bool(self.key or self.length_s or self.tempo_bpm or self.meter)

    @property
    def says_something(self) -> bool:
        """Return whether it is anything but a name."""
        return self.is_fact or self.is_remark or self.is_nothing


@functools.lru_cache(KEPT)
def read_piece(text: str, notation: Notation, *, bare_tempo: bool = False) -> LinePiece:
    """Read a piece. ``bare_tempo``: a plain number in a tempo's range is one."""
    text = text.strip()
    if is_nothing(text):
        return LinePiece(text, is_nothing=True)
    if key := key_cell(text, notation=notation):
        return LinePiece(text, key=key)
    if (seconds := length_cell(text)) is not None:
        return LinePiece(text, length_s=seconds)
    named = bare_tempo and text.isdecimal() and SLOWEST <= int(text) <= FASTEST
    if (tempo_bpm := tempo_cell(text, named=named)) is not None:
        return LinePiece(text, tempo_bpm=tempo_bpm)
    if meter := meter_cell(text):
        return LinePiece(text, meter=meter)
    return LinePiece(text, is_remark=is_remark(text))


def read_pieces(text: str, notation: Notation) -> tuple[LinePiece, ...]:
    """Read text between commas piece by piece. A key that begins a piece is one of its own: G, keys start."""
    pieces: list[LinePiece] = []
    for part in (one for words in APART.split(text) for one in _beside_key(words, notation)):
        if not part:
            continue
        piece = read_piece(part, notation)
        if not piece.is_fact and (parted := key_in_front(part, notation)):
            pieces += [read_piece(parted[0], notation), read_piece(parted[1], notation)]
        else:
            pieces.append(piece)
    has_fact = any(piece.key or piece.length_s for piece in pieces)
    return tuple(read_piece(piece.text, notation, bare_tempo=True) if has_fact else piece for piece in pieces)


def _beside_key(words: str, notation: Notation) -> list[str]:
    """Part words that a slash keeps apart from the one key beside them: Drop D / D minor; not G / A."""
    parts = [part.strip() for part in words.split(" / ")]
    keys = [part for part in parts if plain_key(part, notation=notation)]
    return parts if len(parts) > 1 and len(keys) == 1 and all(parts) else [words]


def key_in_front(text: str, notation: Notation) -> tuple[str, str] | None:
    """Split a key off a piece's front: Bb capo 3, Em slow.

    A lone letter only before a sign or a number: A, long outro; G / straight into; C 12 bar. "A 4 bar intro" is none.
    """
    found = _LEADING_KEY.match(text.removeprefix("in "))
    if not found or not plain_key(found[1], notation=notation):
        return None
    words = found[2].removeprefix("/ ").lstrip()
    parted = found.string[found.end(1)] in ",;:!" or words != found[2] or (words[:1].isdigit() and found[1] in "BCDEFG")
    parted = parted or bool(_FOR_NOW.match(words)) or (text.startswith("in ") and found[1] in _SAID_LETTERS)
    return (found[1], words) if parted or _STRONG.match(found[1]) else None


def key_among_commas(text: str, notation: Notation) -> bool:
    """Return whether one of several words between commas is a key, no name before it: slow air, D, no drums."""
    parts = COMMA.split(text)
    return len(parts) > 1 and parts[0][:1].islower() and any(plain_key(part, notation=notation) for part in parts[1:])


def all_say_something(pieces: tuple[LinePiece, ...]) -> bool:
    """Return whether these pieces are no part of a title: all facts and remarks, or words after a first fact."""
    if not pieces:
        return False
    return all(piece.says_something for piece in pieces) or (pieces[0].is_fact and bool(pieces[0].text))


def pieces_of(text: str, *, commas: bool = False, slashes: bool = False) -> list[str]:
    """Split a line at its separators."""
    pieces = [piece for piece in PARTED.split(text) if piece and piece.strip()]
    if commas:
        pieces = [part for piece in pieces for part in COMMA.split(piece) if part]
    if slashes:
        pieces = [part for piece in pieces for part in SLASHED.split(piece) if part]
    return pieces or [text]
