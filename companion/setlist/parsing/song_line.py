"""Read a song in one line of text: number or bullet, title, then key, length, tempo, artist, remarks in any order."""

from companion.setlist.model import Doubt, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import plain_key
from companion.setlist.parsing.doubts import doubtful_field, key_or_title
from companion.setlist.parsing.list_style import Style, pieces_of, unmarked
from companion.setlist.parsing.patterns import (
    BY,
    GERMAN_AT_END,
    HEAD,
    KEY_AT_END,
    KEY_IN_FRONT,
    LENGTH_AT_END,
    METER_AT_END,
    OPENER,
    POINTED_AT_END,
    SAID_AT_END,
    STRONG,
    TAIL,
    TEMPO_AT_END,
    TWO_KEYS_AT_END,
    TWO_TITLES,
    UNKNOWN_AT_END,
)
from companion.setlist.parsing.remarks import STARS, off_the_end
from companion.setlist.parsing.song_draft import Draft


def read_song(row: ListRow, style: Style, *, notation: Notation = Notation.LETTERS) -> Draft:
    """Read a line as a song."""
    draft = Draft(row.place, row.text, notation=notation)
    text, draft.number, _ = unmarked(row.cells[0].strip(), style)
    text, stars, draft.segue = off_the_end(text)
    if text.startswith("*") and len(text.lstrip("*")) and not text.startswith("* "):
        stars, text = stars + text[: len(text) - len(text.lstrip("*"))], text.lstrip("*").strip()
    draft.stars = stars
    if found := OPENER.match(text):
        draft.note(found[1].lower())
        text = text[found.end() :]
    if style.pointed_lengths and (found := POINTED_AT_END.search(text)) and draft.take_length(found[1], named=True):
        draft.doubts.append(doubtful_field(f"{found[1]} read as a length", f"Is {found[1]} the length?", "length"))
        text = f"{text[: found.start()]}  {text[found.end() :]}".strip()
    text = peel(draft, text, style)
    pieces = pieces_of(text, commas=style.commas)
    names: list[str] = []
    for piece in pieces:
        if names and _begins_with_key(draft, piece):
            draft.take_each(piece)
        elif (
            len(pieces) > 1
            and (names or piece is not pieces[-1])
            and draft.take(piece, bare_tempo=True, remarks=bool(names))
        ):
            if piece.strip().isdecimal():
                draft.doubts.append(
                    doubtful_field(f"{piece.strip()} read as the tempo", f"Is {piece.strip()} the tempo?", "tempo")
                )
        else:
            names.append(piece)
    _name(draft, [peel(draft, name, style) for name in names] or [text], style)
    if TWO_TITLES.search(draft.title):
        draft.doubts.append(Doubt("two songs on one line? Kept as one title"))
    doubt_key_in_title(draft)
    return draft


def _begins_with_key(draft: Draft, piece: str) -> bool:
    """Return whether the piece is a key and more, such as "A, long outro"."""
    key, comma, _ = piece.partition(",")
    return (
        bool(comma and plain_key(key.strip(), notation=draft.notation))
        and draft.key is None
        and draft.all_pieces_say_something(piece)
    )


def doubt_key_in_title(draft: Draft) -> None:
    """Report a song without a key whose title ends in one: Salt Parade C may be in C, Vitamin C is not."""
    found = KEY_AT_END.match(draft.title)
    if not found or draft.key or draft.record_key or not found[3][0].isupper() or not plain_key(found[3]):
        return
    draft.doubts.append(key_or_title(found[1], found[3]))


def _name(draft: Draft, names: list[str], style: Style) -> None:
    if len(names) > 1 and style.has_artist:
        if style.artist_first:
            names[0], names[1] = names[1], names[0]
        draft.artist = names.pop(1)
    elif style.by_artist and (found := BY.match(names[0])):
        names[0], draft.artist = found[1], found[2]
    elif len(names) == 2 and style.commas and f"{names[0]}, {names[1]}" in draft.text:
        names = [f"{names[0]}, {names.pop(1)}"]
        draft.doubts.append(Doubt(f"read as one title: {names[0]}"))
    draft.title = names[0]
    for other in names[1:]:
        draft.doubts.append(Doubt(f"not understood, kept in the notes: {other}"))
        draft.note(other)


def peel(draft: Draft, text: str, style: Style) -> str:
    """Split off recognizable pieces from the right and the front; the rest is the title."""
    while True:
        before = text
        text = _peel_brackets(draft, text)
        text = _peel_words(draft, text, style)
        if (found := STARS.search(text)) and text[: found.start()].strip():
            draft.stars += found[1]
            text = text[: found.start()].rstrip()
        if text == before:
            return text


def _peel_brackets(draft: Draft, text: str) -> str:
    if (found := TAIL.match(text)) and (not found[2].strip() or draft.all_pieces_say_something(found[2])):
        draft.take_each(found[2])
        return found[1].rstrip(" -–—:,")
    if (found := HEAD.match(text)) and found[1].strip() and draft.all_pieces_say_something(found[1]):
        draft.take_each(found[1])
        return found[2]
    return text


def _peel_words(draft: Draft, text: str, style: Style) -> str:
    if draft.length_s is None and (found := LENGTH_AT_END.match(text)) and draft.take_length(found[2]):
        return found[1].rstrip(" -–—:,|/")
    if draft.meter is None and (found := METER_AT_END.match(text)) and draft.take_meter(found[2]):
        return found[1].rstrip(" -–—:,|")
    if draft.tempo_bpm is None and (found := TEMPO_AT_END.match(text)):
        is_bare = found[2].isdecimal()
        if (not is_bare or (style.tempo_at_end and style.is_tempo(found[2]))) and draft.take_tempo(
            found[2], named=True
        ):
            return found[1].rstrip(" -–—:,|")
    if found := SAID_AT_END.match(text):
        draft.note(found[2])
        return found[1].rstrip(" -–—:,|")
    if found := UNKNOWN_AT_END.match(text):
        return found[1].rstrip(" -–—:,|")
    if draft.key is None and draft.record_key is None:
        if (found := TWO_KEYS_AT_END.match(text)) and draft.take_key(found[2]):
            return found[1].rstrip(" -–—:,|")
        return _peel_key(draft, text, style)
    return text


def _peel_key(draft: Draft, text: str, style: Style) -> str:
    """Take a key separated from the title only by a space; a lone letter counts only where most lines end in a key."""
    found = KEY_AT_END.match(text) or (GERMAN_AT_END.match(text) if draft.notation is Notation.GERMAN else None)
    if found:
        parted = found[1].rstrip()[-1:] in "-–—:,|/=)]"
        is_said = found[2] and (found[2].lower() != "in" or found[3][0].isupper())
        if (STRONG.match(found[3]) or is_said or parted or style.key_at_end) and draft.take_key(found[3]):
            return found[1].rstrip(" -–—:,|/=")
    found = KEY_IN_FRONT.match(text)
    is_key = found and (style.key_in_front or (STRONG.match(found[1]) and text[found.end(1)] == ":"))
    if found and is_key and draft.take_key(found[1]):
        return found[2].lstrip(" -–—:|")
    return text
