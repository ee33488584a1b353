"""Lines that hold several songs: Encore: Moth (C), Weeds (D); G: Moth, Weeds; a voice message."""

import re
from collections.abc import Iterator

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_kinds import is_chat
from companion.setlist.parsing.patterns import INLINE, SONGS_APART, VOICE
from companion.setlist.parsing.pieces import pieces_of
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import SetHeading, named_by_number, read_heading, read_set, short_heading
from companion.setlist.parsing.text_lines import TextLine

_OF_KEY = re.compile(r"^(?:in )?([A-H][b#♭♯]?m?|[A-H](?:is|es)m?)(?:\s(?:songs|tunes|ones))?\s*:\s+(\S.*)$")
_SINGERS = re.compile(r"(?:^\W*|[,;/:])\s*\(?([A-Z]{1,3})\)?\s*=\s*([^\W\d][^,;/=]{1,30})")
_MARK_NAME = re.compile(r"([a-z]{1,2})\s?=\s?([A-Z][\w]{1,20})")
_SMALL_SINGERS = re.compile(  # Keys: f = Freya, m = Max
    r"(?:[A-Za-z ]{1,20}:\s*)?([a-z]{1,2}\s?=\s?[A-Z]\w{1,20}(?:\s?[,;/]\s?[a-z]{1,2}\s?=\s?[A-Z]\w{1,20}){1,6})\W?"
)
_APART = re.compile(r"\s*[,;]\s*(?:and\s+|then\s+)?(?![^()]*\))|\s+(?:and|then)\s+(?![^()]*\))", re.IGNORECASE)
_ENCORE = re.compile(  # in small letters or all large: no title begins so
    r"^(?:and )?(encore|ENCORE|enc|ENC|bis|BIS|zugabe|ZUGABE|rappel|RAPPEL|toegift|TOEGIFT)\s(?=[A-Z][a-z])(.+)$"
)
_AND_FINISH = re.compile(r"\s(?:and|then)\s(?:(?:we )?(?:finish|end|close)(?:es)? (?:with|on) )?")
_SLASH = re.compile(r"\s+/\s+(?![^()]*\))")
_MEDLEY = re.compile(r"^((?:[^\W\d_]+ ){0,2}(?:medley|potpourri|popurrí|mix))\s?:\s+", re.IGNORECASE)
_ARROW = re.compile(r"\s+(?:-{1,2}>|=>|>{1,2}|→|\+|&)\s+(?![^()]*\))")
_INTO = re.compile(
    r"\s+(?:(?:straight |right |segue )?into|segue to|direkt in|gleich in|enchaîné (?:à|avec)|pegado a|"
    r"attaccato a|rakt in i)\s+(?![^()]*\))"
)
_BEHIND = re.compile(r"\s+(?:<[-=]{1,3}|←)\s*(\S.*)$")
_SIGNS = tuple(re.compile(rf"\s+{sign}\s+(?![^()]*\))") for sign in ("/", r"\|", "[•·]", "[-–—]", r"\+"))
_BETWEEN_TITLES = tuple(
    re.compile(rf"\s+(?:{sign})\s+(?![^()]*\))") for sign in (r"-{1,2}>|=>|>{1,2}|→", "/", r"\|", "[•·]")
)
CHANGES = frozenset(("replaced", "swapped", "changed", "moved", "cut", "dropped", "now", "instead", "becomes"))
SHORTEST = 5  # letters of a title with its key in brackets: X (C)
FEWEST = 3  # songs in a line of prose
MOST = 0.75  # share of its pieces that end in a key


class InlineSongs(msgspec.Struct, frozen=True):
    """Songs that one line holds, in order. ``key``: of all of them."""

    songs: tuple[str, ...]
    heading: SetHeading | None = None
    key: str = ""
    numbers: tuple[int, ...] = ()
    is_voice: bool = False  # number one Moth in G
    is_running: bool = False  # one song of a longer text
    is_plain: bool = False  # of a text without other words than titles and keys
    note: str = ""  # what that text says of it
    is_unsure: bool = False  # where its title begins in that text is a guess

    @property
    def is_whole_row(self) -> bool:
        """Return whether the list writes its songs in such rows, so that a line of its own is hardly one."""
        return bool(self.key or self.is_voice or self.is_running or len(self.songs) >= FEWEST)

    def lines(self, row: ListRow) -> Iterator[TextLine]:
        """Return a line for each song."""
        for text in self.songs:
            own = ListRow(row.place, (text,), text)
            yield TextLine(own, text, text)


def inline_songs(text: str, notation: Notation) -> InlineSongs | None:
    """Read a heading with its songs on the same line, or songs with an arrow or a comma between them."""
    if found := INLINE.match(text):
        heading = read_set(found[1]) or read_heading(found[1])
        if heading is None and (short := short_heading(found[1])):
            heading = named_by_number(short[1])  # 1st: moth, weeds
        songs = _apart(found[2], notation)
        songs = tuple(part for song in songs for part in _ended(song, notation))
        if any(not _in_bracket(song, notation) for song in songs[:-1]) and _all_but_few_bracketed(songs, notation):
            songs = _rejoined(found[2].rstrip(" ."), notation)  # a comma in a title: Moth (G), Skru ned, Knud (Bb)
        keyed_songs = sum(_is_keyed(song, notation) for song in songs)
        if keyed_songs < MOST * len(songs) or (len(songs) < FEWEST and not 1 < keyed_songs == len(songs)):
            songs = _rejoined(found[2], notation)
        if sum(_is_keyed(song, notation) for song in songs) < MOST * len(songs):
            songs = _apart(found[2], notation)
        keyed = sum(_is_keyed(song, notation) for song in songs) >= MOST * len(songs)
        if (
            heading
            and songs
            and (not heading.is_word or len(songs) > 1 or keyed)
            and (_are_songs(songs, notation) or _is_encore(heading, songs))
        ):
            return InlineSongs(songs, msgspec.structs.replace(heading, also=""))
    if (found := _ENCORE.match(text)) and _is_keyed(found[2], notation):
        return InlineSongs((found[2],), read_set(found[1]))
    return _segued(text, notation)


def _apart(text: str, notation: Notation) -> tuple[str, ...]:
    """Split songs at the sign that leaves a key in most of them: a comma, a semicolon, a slash, a bar, a dash."""
    text = text.rstrip(" .") if text.rstrip(" .").endswith((")", "]")) else text
    made = [tuple(piece.strip() for piece in apart.split(text) if piece.strip()) for apart in (SONGS_APART, *_SIGNS)]
    good = [songs for songs in made[1:] if len(songs) > 1 and all(_is_keyed(song, notation) for song in songs)]
    if not good and (found := _without_keys(text)):
        return found
    is_good = made[0] and sum(_is_keyed(song, notation) for song in made[0]) >= MOST * len(made[0]) and len(made[0]) > 1
    return made[0] if is_good or not good else max(good, key=len)


def _without_keys(text: str) -> tuple[str, ...]:
    """Split titles without keys at the one sign that stands between them: Moth > Weeds > Tidal Clock."""
    made = (tuple(part.strip() for part in sign.split(text) if part.strip()) for sign in _BETWEEN_TITLES)
    return next((songs for songs in made if len(songs) >= FEWEST and all(song[0].isalnum() for song in songs)), ())


def _segued(text: str, notation: Notation) -> InlineSongs | None:
    """Read songs with an arrow or a comma between them, each with its key: Moth (C) > Weeds (D)."""
    medley = _MEDLEY.match(text)
    pieces = _SLASH.split(text[medley.end() :] if medley else text)
    if len(pieces) > 1 and all(_may_be_title(part) and _in_bracket(part, notation) for part in pieces):
        return InlineSongs(tuple(f"{part} - {medley[1]}" if medley else part for part in pieces))
    if not medley and (row := in_slashes(text, notation)):
        return InlineSongs(row)
    parts = [part for part in _ARROW.split(text) if part]
    if into := _joined_by_word(text, notation):
        return into
    if len(parts) > 1 and all(_may_be_title(part) for part in parts):
        if all(_in_bracket(part, notation) for part in parts):
            return InlineSongs((*(f"{part} segue" for part in parts[:-1]), parts[-1]))
        return None
    songs = tuple(part.strip() for part in SONGS_APART.split(text))
    return InlineSongs(songs) if len(songs) > 1 and all(_in_bracket(song, notation) for song in songs) else None


def _joined_by_word(text: str, notation: Notation) -> InlineSongs | None:
    """Read two or three songs with their keys and a word between them: Moth (jig) Em into Weeds G <- straight on."""
    behind = _BEHIND.search(text)
    parts = _INTO.split(text[: behind.start()] if behind else text)
    if not 1 < len(parts) <= FEWEST or not all(_may_be_title(part) and _is_keyed(part, notation) for part in parts):
        return None
    last = f"{parts[-1]} <- {behind[1]}" if behind else parts[-1]
    return InlineSongs((*(f"{part} segue" for part in parts[:-1]), last))


def in_slashes(text: str, notation: Notation) -> tuple[str, ...]:
    """Return songs with slashes between them, each with its key behind a space: Moth D / Weeds G / Fog Bell A."""
    parts = tuple(_SLASH.split(text))
    is_row = len(parts) >= FEWEST and all(part[0].isupper() and _is_keyed(part, notation) for part in parts)
    return parts if is_row else ()


def _may_be_title(part: str) -> bool:
    """Return whether words beside an arrow may be a title with its key, not what becomes of the song before."""
    return part[0].isupper() and len(part) > SHORTEST and part.split(maxsplit=1)[0].lower() not in CHANGES


def _ended(piece: str, notation: Notation) -> tuple[str, ...]:
    """Part two songs that each have a key: Moth in Bb and finish with Weeds in D."""
    parts = tuple(_AND_FINISH.split(piece))
    return parts if all(_is_keyed(part, notation) for part in parts) else (piece,)


def _all_but_few_bracketed(songs: tuple[str, ...], notation: Notation) -> bool:
    """Return whether the key stands in a bracket after nearly every song, and after the last."""
    few = sum(not _in_bracket(song, notation) for song in songs)
    return len(songs) > FEWEST and few <= (1 - MOST) * len(songs) and _in_bracket(songs[-1], notation)


def _are_songs(songs: tuple[str, ...], notation: Notation) -> bool:
    """Return whether what follows a heading's colon is songs, not a time or a word on the set."""
    if any(char.isdigit() for char in songs[0][:2]):
        return False
    keyed = any(key_at_end(song.rstrip(")"), notation) or _in_bracket(song, notation) for song in songs)
    return keyed or len(songs) > 1 or all(word[:1].isupper() for word in songs[0].split() if len(word) > 3)


def _is_encore(heading: SetHeading, songs: tuple[str, ...]) -> bool:
    """Return whether the words after an encore's colon are a title, not a word on the encore."""
    return heading.name == "Encore" and songs[0][0].isupper() and not is_remark(songs[0]) and not is_chat(songs[0])


def _rejoined(text: str, notation: Notation) -> tuple[str, ...]:
    """Split words at commas and "and"; a piece without a key and the one after it, where that has one, are one."""
    made: list[str] = []
    begin = at = 0
    for found in [*_APART.finditer(text), None]:
        end = found.start() if found else len(text)
        piece = text[at:end].strip(" .")
        at = found.end() if found else end
        is_whole = bool(piece) and (_is_keyed(piece, notation) or bool(plain_key(piece, notation=notation)))
        if is_whole or found is None:
            made += [whole] if (whole := text[begin:end].strip(" .")) else []
            begin = at
    return tuple(made)


def _is_keyed(piece: str, notation: Notation) -> bool:
    return key_at_end(piece.rstrip(")"), notation) is not None or _in_bracket(piece, notation)


def _in_bracket(piece: str, notation: Notation) -> bool:
    found = re.search(r"\(([^()]+)\)$", piece)
    return bool(found and plain_key(found[1], notation=notation))


def of_a_key(text: str, notation: Notation) -> InlineSongs | None:
    """Read songs that are grouped by key: G: Moth, Weeds, Tidal."""
    found = _OF_KEY.match(text)
    if not found or not plain_key(found[1], notation=notation) or "," not in found[2]:
        return None
    songs = tuple(piece.strip() for piece in SONGS_APART.split(found[2]) if piece.strip())
    if any(plain_key(part, notation=notation) for song in songs for part in pieces_of(song)):
        return None  # D: Moth, A; D: Moth - A, solo: one song with its key, and who sings it
    return InlineSongs(songs, key=found[1]) if len(songs) > 1 else None


def read_voice(text: str, notation: Notation) -> InlineSongs | None:  # noqa: ARG001  one signature for all forms
    """Read a line of a voice message: set one number one Copper Rain in G."""
    found = VOICE.match(text)
    if not found:
        return None
    return InlineSongs((found[3],), read_set(found[1]) if found[1] else None, is_voice=True)


def sung_by(text: str) -> dict[str, str]:
    """Read who the letters before titles are: K = Kez, W = Wren. Empty if the line says nothing of the kind."""
    found = {mark: name.strip() for mark, name in _SINGERS.findall(text)}
    if small := _SMALL_SINGERS.fullmatch(text.strip()):
        found = found or dict(_MARK_NAME.findall(small[1]))
    return found if len(found) > 1 or (found and text.lstrip()[:1] == "(") else {}
