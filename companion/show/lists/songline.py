"""A song in one line of text: number or bullet, title, then key, length, tempo, artist, remarks in any order."""

import re
from collections.abc import Sequence

import msgspec

from companion.show.lists.account import Row
from companion.show.lists.draft import Draft
from companion.show.lists.fields import key_cell, length_cell, plain_key, tempo_cell
from companion.show.lists.remarks import STARS, is_remark, off_the_end

NUMBERED = re.compile(r"^\(?#?\s?(\d{1,3})\s*(?:[.):\]]|\s[-–—])(?:\s+|(?=[^\W\d]))(?=\S)")
BARE_NUMBER = re.compile(r"^#?(\d{1,3})\s+(?=\S)")
BULLET = re.compile(r"^(?:[-–—*•·+>▪◦‣●○∙]|\[[ xX]?\]|☐|☑|✓|✔)\s+(?=\S)")
PARTED = re.compile(r"\s+[-–—|•·~]+\s+|\t+|\s{2,}|\s*[;|]\s*|\s*,\s+(?=(?:key|in|bpm)\b)", re.IGNORECASE)
COMMA = re.compile(r"\s*,\s*")
TAIL = re.compile(r"^(.*\S)\s*[(\[{]([^()\[\]{}]*)[)\]}]\s*$")
HEAD = re.compile(r"^[(\[{]([^()\[\]{}]*)[)\]}]\s*[-–—:]?\s*(\S.*)$")
NOTE = r"[A-Ga-g](?:\s?[b#♭♯]|[\s-](?:flat|sharp))?(?:\s?-?\s?(?:minor|major|min|maj|m|moll|dur)\b|-(?=$|\s))?"
KEY_AT_END = re.compile(rf"^(.*?\S)\s+(?:(in|key|key of|in the key of|tonart)[:\s]\s*)?({NOTE})$", re.IGNORECASE)
GERMAN_AT_END = re.compile(r"^(.*?\S)\s+(?:(in)\s+)?([A-Ha-h](?:is|es|s)?(?:m|[\s-]?(?:moll|dur))?)$", re.IGNORECASE)
KEY_IN_FRONT = re.compile(rf"^({NOTE})\s*[:\s]\s*(\S.*)$")
STRONG = re.compile(r"^[A-G](?:[b#♭♯]|\s?[-]?(?:flat|sharp))|^[B-G]m$|^[A-G]\s?(?:minor|major|min|maj)$")
UNKNOWN_AT_END = re.compile(r"^(.*?\S)\s+(?:in|key(?: of)?)?\s*(?:\?+|tbc|tbd|tba|n/a)$", re.IGNORECASE)
TWO_KEYS_AT_END = re.compile(rf"^(.*?\S)\s+(?:in\s+)?({NOTE}\s?(?:/|→|->|>)\s?{NOTE})$", re.IGNORECASE)
SAID_AT_END = re.compile(
    r"^(.*\S)\s+[-–—]*\s*(seg(?:ue)?|attacca|(?:keys?|piano|organ|synth|guitar|drums?|band|sax|vox|"
    r"vocals?) (?:intro|solos?|starts?))$",
    re.IGNORECASE,
)
LENGTH_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}:[0-5]\d|\d{1,2}['’′]\s?\d{2}(?:''|\"|″)?|\d{1,2}m\d{2}s?)$")
TEMPO_AT_END = re.compile(r"^(.*\S)\s+(@?\s?\d{2,3}\s?bpm|[@♩]\s?=?\s?\d{2,3}|\d{2,3})$", re.IGNORECASE)
METER_AT_END = re.compile(r"^(.*\S)\s+(\d{1,2}/(?:2|4|8|16))$")
IN_BRACKETS = re.compile(r"[(\[{][^()\[\]{}]*[)\]}]")
BY = re.compile(r"^(.+?)\s+(?:by|von)\s+(\S.*)$", re.IGNORECASE)
TWO_TITLES = re.compile(r"\S\s+(?:>|→|->|>>)\s+\S")


class Style(msgspec.Struct, frozen=True):
    """What a whole list does, learnt from all of its lines: it decides what one line alone leaves open."""

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

    @property
    def is_shaped(self) -> bool:
        """Whether a song shows itself by a number or a bullet."""
        return self.numbered or self.bare_numbers or self.bulleted


def learn(lines: Sequence[Row], *, german: bool = False) -> Style:
    """Learn the style of a list from the lines that may be songs."""
    texts = [row.cells[0] for row in lines]
    total = max(len(texts), 1)

    def most(share: float, found: int) -> bool:
        return found >= share * total and found > 1

    bare = _in_sequence([int(found[1]) if (found := BARE_NUMBER.match(text)) else None for text in texts])
    style = Style(
        numbered=most(0.5, sum(bool(NUMBERED.match(text)) for text in texts)),
        bare_numbers=most(0.5, bare),
        bulleted=most(0.5, sum(bool(BULLET.match(text)) for text in texts)),
    )
    plain = [IN_BRACKETS.sub("", _unmarked(text, style)[0]).strip() or text for text in texts]
    pieces = [_pieces(text, commas=False) for text in plain]
    if most(0.6, sum(len(COMMA.split(text)) > 1 for text in plain)) and not most(
        0.3, sum(len(piece) > 1 for piece in pieces)
    ):
        commas = True
        pieces = [_pieces(text, commas=True) for text in plain]
    else:
        commas = False
    first = [piece[0] for piece in pieces]
    ends = [_ends_in_key(text, german=german) for text in first]
    front = [bool((found := KEY_IN_FRONT.match(text)) and plain_key(found[1])) for text in first]
    numbers = [
        bool((found := TEMPO_AT_END.match(_without_key(text))) and 40 <= _digits(found[2]) <= 260) for text in first
    ]
    names = [[part for part in piece if not _says_something(part, german=german)] for piece in pieces]
    second = [part[1] for part in names if len(part) > 1]
    leading = [part[0] for part in names if len(part) > 1]
    has_artist = most(0.4, len(second))
    return msgspec.structs.replace(
        style,
        key_at_end=most(0.6, sum(ends)),
        key_in_front=most(0.6, sum(front)),
        tempo_at_end=most(0.6, sum(numbers)),
        has_artist=has_artist,
        artist_first=has_artist and len(set(leading)) < len(set(second)) and len(set(leading)) < 0.9 * len(leading),
        by_artist=most(0.6, sum(bool(BY.match(text)) for text in first)),
        commas=commas,
    )


def _in_sequence(numbers: Sequence[int | None]) -> int:
    """Count the numbers that follow the one before, or begin anew with 1."""
    found, before = 0, 0
    for number in numbers:
        if number is not None and (number in (before + 1, 1)):
            found += 1
            before = number
    return found


def _digits(text: str) -> int:
    return int(re.sub(r"\D", "", text) or 0)


def _pieces(text: str, *, commas: bool) -> list[str]:
    pieces = [piece for piece in PARTED.split(text) if piece and piece.strip()]
    if commas:
        pieces = [part for piece in pieces for part in COMMA.split(piece) if part]
    return pieces or [text]


def _ends_in_key(text: str, *, german: bool) -> bool:
    found = KEY_AT_END.match(text) or (GERMAN_AT_END.match(text) if german else None)
    return bool(found and plain_key(found[3], german=german))


def _without_key(text: str) -> str:
    found = KEY_AT_END.match(text)
    return found[1] if found and STRONG.match(found[3]) else text


def _says_something(part: str, *, german: bool) -> bool:
    said = key_cell(part, german=german) or length_cell(part) or tempo_cell(part, named=part.isdigit())
    return bool(said) or is_remark(part) or "/" in part or len(part) < 2


def _unmarked(text: str, style: Style) -> tuple[str, int | None, bool]:
    """Take number or bullet off: the rest, the number, whether there was either."""
    marked = False
    if found := BULLET.match(text):
        text, marked = text[found.end() :], True
    found = NUMBERED.match(text) or (BARE_NUMBER.match(text) if style.bare_numbers else None)
    if found:
        return text[found.end() :], int(found[1]), True
    return text, None, marked


def is_marked(text: str, style: Style) -> bool:
    """Whether the line has the number or the bullet that the list's songs have."""
    _, number, marked = _unmarked(text, style)
    return (number is not None) if style.numbered or style.bare_numbers else marked


def read_song(row: Row, style: Style, *, german: bool = False) -> Draft:
    """Read a line as a song."""
    draft = Draft(row.place, row.text, german=german)
    text, draft.number, _ = _unmarked(row.cells[0].strip(), style)
    text, stars, draft.segue = off_the_end(text)
    if text.startswith("*") and len(text.lstrip("*")) and not text.startswith("* "):
        stars, text = stars + text[: len(text) - len(text.lstrip("*"))], text.lstrip("*").strip()
    draft.stars = stars
    text = peel(draft, text, style)
    pieces = _pieces(text, commas=style.commas)
    names: list[str] = []
    for piece in pieces:
        if (
            len(pieces) > 1
            and (names or piece is not pieces[-1])
            and draft.take(piece, bare_tempo=True, remarks=bool(names))
        ):
            if piece.strip().isdigit():
                draft.doubts.append(f"{piece.strip()} is read as the tempo")
        else:
            names.append(piece)
    _name(draft, [peel(draft, name, style) for name in names] or [text], style)
    if TWO_TITLES.search(draft.title):
        draft.doubts.append("two songs in one line? Kept as one title")
    return draft


def _name(draft: Draft, names: list[str], style: Style) -> None:
    if len(names) > 1 and style.has_artist:
        if style.artist_first:
            names[0], names[1] = names[1], names[0]
        draft.artist = names.pop(1)
    elif style.by_artist and (found := BY.match(names[0])):
        names[0], draft.artist = found[1], found[2]
    draft.title = names[0]
    for other in names[1:]:
        draft.doubts.append(f"not understood, kept in the notes: {other}")
        draft.note(other)


def peel(draft: Draft, text: str, style: Style) -> str:
    """Take off, from the right and in front, what says by itself what it is; the rest is title."""
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
        is_bare = found[2].isdigit()
        if (not is_bare or (style.tempo_at_end and 40 <= int(found[2]) <= 260)) and draft.take_tempo(
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
    """Take a key that only a space parts from the title: a letter alone counts only where most lines end in a key."""
    found = KEY_AT_END.match(text) or (GERMAN_AT_END.match(text) if draft.german else None)
    if found:
        parted = found[1].rstrip()[-1:] in "-–—:,|/="
        is_said = found[2] and (found[2].lower() != "in" or found[3][0].isupper())
        if (STRONG.match(found[3]) or is_said or parted or style.key_at_end) and draft.take_key(found[3]):
            return found[1].rstrip(" -–—:,|/=")
    found = KEY_IN_FRONT.match(text)
    is_key = found and (style.key_in_front or (STRONG.match(found[1]) and text[found.end(1)] == ":"))
    if found and is_key and draft.take_key(found[1]):
        return found[2].lstrip(" -–—:|")
    return text
