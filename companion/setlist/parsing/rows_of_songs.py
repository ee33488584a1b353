"""Songs in one line with the same sign between them, some with a key, some without: Moth / Weeds (G) / Fog Bell A."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.inline_songs import in_slashes, inline_songs
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.list_talk import says_same_as_before
from companion.setlist.parsing.patterns import SONGS_APART, TAIL
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.running_text import PartKind, TextPart
from companion.setlist.parsing.running_titles import MAX_LINES, bare_titles, heading_in
from companion.setlist.parsing.running_words import ENCORE, OF_LIST
from companion.setlist.parsing.set_headings import SetHeading, read_heading
from companion.setlist.parsing.text_lines import TextLine

FEWEST: Final = 5  # songs of such a row
LONGEST_TITLE: Final = 8  # words
LONGEST: Final = 4000  # characters
MOST_OF_THEIR_OWN: Final = 0.4  # songs on lines of their own, for each song of a row
_SIGNS: Final = tuple(
    re.compile(rf"\s(?:{sign})\s+(?![^()]*\))") for sign in ("/{1,3}", r"\|{1,2}", "[•·]", "-{1,2}>|=>|>{1,2}|→", r"\*")
)
_LABEL: Final = re.compile(r"^([^:/|()]{1,160}):\s+(?=\S)")
_DATED_LABEL: Final = re.compile(r"^([^:|()]{3,80}):\s+(?=\S)")  # Dog & Duck 3/12: Moth / Weeds
_SHOUTED_LABEL: Final = re.compile(r"^([^:/|()!.]{1,60})(?:[!.]{1,4}|\s[-–—])\s+(?=\S)")  # fri list!!! Moth
_POINTED_LABEL: Final = re.compile(  # Sat @ the Barn -> Moth / Weeds; tonights order,, moth / weeds
    r"^([^:/|()<>→]{1,80}?)(?:\s(?:-{1,2}>|=>|>{1,2}|→)|,{2,4})\s+(?=[^/|<>→]{1,80}\s[/|]\s)"
)
_STOP: Final = re.compile(r"(?<=[^\s.][^\s.])[.!?]{1,3}\s+(?=[^\W_])(?![^()]*\))")
_AFTER_TITLE: Final = re.compile(r"\s?\(|,\s|\s[-–—]\s")


def with_rows_apart(lines: Sequence[TextLine], notation: Notation) -> list[TextLine]:
    """Return the lines with a line for each song of a row, if such rows hold most songs of the list."""
    found = [_row(line, notation) for line in lines]
    songs = sum(map(_songs, found))
    others = [line for line, parts in zip(lines, found, strict=True) if line.text and not parts]
    of_their_own = sum(line.is_marked or key_at_end(line.text.rstrip(")"), notation) is not None for line in others)
    rows = [line for line, parts in zip(lines, found, strict=True) if parts]
    if len(rows) + len(others) <= MAX_LINES and all(bare_titles(line.text) for line in rows):
        return list(lines)  # of titles alone, in a short message
    if not songs or len(others) > songs or of_their_own > MOST_OF_THEIR_OWN * songs:
        return list(lines)
    return [one for line, parts in zip(lines, found, strict=True) for one in (_lines(line, parts) if parts else [line])]


def pieces_in(text: str) -> Sequence[str]:
    """Return what the signs of a row part; a text that is none as a whole."""
    pieces = max((sign.split(text) for sign in _SIGNS), key=len) if len(text) <= LONGEST else []
    return pieces if len(pieces) >= FEWEST else (text,)


def _songs(parts: Sequence[TextPart]) -> int:
    return sum(part.kind is PartKind.SONG for part in parts)


def _row(line: TextLine, notation: Notation) -> tuple[TextPart, ...]:
    text = line.text
    if line.message.is_envelope or line.is_marked or line.is_struck or len(text) > LONGEST:
        return ()
    pointed = _POINTED_LABEL.match(text)
    dated = _DATED_LABEL.match(text)
    is_pointed = (pointed is not None and OF_LIST.search(pointed[1]) is not None) or _names_day(dated)
    if says_same_as_before(text) or (in_slashes(text, notation) and not is_pointed):
        return ()
    parts = row_of_songs(text, notation)
    inline = inline_songs(text, notation) if parts and not is_pointed else None
    return () if inline and len(inline.songs) >= _songs(parts) else parts


def row_of_songs(text: str, notation: Notation) -> tuple[TextPart, ...]:
    """Return the parts of a row: its heading, its songs, and the sentences behind the last of these."""
    label, said = _label_of(text)
    pieces = max((sign.split(said) for sign in _SIGNS), key=len)
    if len(pieces) < FEWEST:
        return ()
    last, *behind = _sentences(pieces[-1])
    pieces[-1] = last
    if not all(_may_be_song(piece, notation) for piece in pieces):
        return ()
    parts = [*_lead(label), *(TextPart(PartKind.SONG, piece.strip(" .,;")) for piece in pieces)]
    for sentence in behind:
        parts += _more(sentence, notation)
    return tuple(parts)


def _label_of(text: str) -> tuple[str, str]:
    found = _LABEL.match(text)
    if not found and (pointed := _POINTED_LABEL.match(text)) and OF_LIST.search(pointed[1]):
        found = pointed
    elif not found and _names_day(dated := _DATED_LABEL.match(text)):
        found = dated
    elif not found and (found := _SHOUTED_LABEL.match(text)) and not OF_LIST.search(found[1]):
        found = None
    return (found[1].strip(), text[found.end() :]) if found else ("", text)


def _names_day(label: re.Match[str] | None) -> bool:
    return label is not None and any_date_in(label[1]) is not None


def _lead(label: str) -> Iterator[TextPart]:
    if not label:
        return
    heading = _heading(label)
    yield TextPart(PartKind.HEADING, label, heading=heading) if heading else TextPart(PartKind.TALK, label)


def _heading(label: str) -> SetHeading | None:
    if ENCORE.search(label):
        return SetHeading("Encore")
    found = heading_in(label) or read_heading(f"{label}:")
    return msgspec.structs.replace(found, is_word=False) if found and not found.also else None


def _more(sentence: str, notation: Notation) -> Iterator[TextPart]:
    """Read a sentence behind the row: a heading with more songs, or talk."""
    label, said = _label_of(sentence)
    is_headed = bool(label) and _heading(label) is not None
    if not is_headed and not (label and _is_keyed(said, notation)):
        yield TextPart(PartKind.TALK, sentence)
        return
    yield from _lead(label)
    pieces = max((sign.split(said) for sign in (SONGS_APART, *_SIGNS)), key=len)
    if 0 < sum(_is_keyed(piece, notation) for piece in pieces) < len(pieces):
        pieces = [said]  # a comma in a title
    are_songs = all(_may_be_song(piece, notation) for piece in pieces)
    kind = PartKind.SONG if are_songs else PartKind.TALK
    yield from (TextPart(kind, piece.strip(" .,;"), is_unsure=not is_headed) for piece in pieces)


def _is_keyed(piece: str, notation: Notation) -> bool:
    bracket = TAIL.match(piece.strip(" .,;"))
    is_inside = bracket is not None and plain_key(bracket[2], notation=notation) is not None
    return is_inside or key_at_end(piece.strip(" .,;"), notation) is not None


def _sentences(text: str) -> Iterator[str]:
    at = 0
    for found in _STOP.finditer(text):
        yield text[at : found.start()].strip()
        at = found.end()
    yield text[at:].strip()


def _may_be_song(piece: str, notation: Notation) -> bool:
    """Return whether a piece is a title with its key and a few words, not a key, a time or a sentence."""
    said = piece.strip()
    title = _AFTER_TITLE.split(said, maxsplit=1)[0].strip()
    if not any(map(str.isalnum, title)) or plain_key(said, notation=notation) is not None or is_remark(title):
        return False
    return ":" not in said and len(title.split()) <= LONGEST_TITLE


def _lines(line: TextLine, parts: Sequence[TextPart]) -> list[TextLine]:
    return [
        msgspec.structs.replace(
            line,
            row=msgspec.structs.replace(
                line.row, cells=(part.text,), text=part.text, blank_before=line.row.blank_before and not at, spans=()
            ),
            text=part.text,
            whole=part.text,
            part=part,
        )
        for at, part in enumerate(parts)
    ]
