"""The list's own layout: where its lines hold their keys, learnt from all of them, as a second opinion on each.

The parser reads a line from its ends. Where most lines have a key after the same sign, such as the comma of
``Moth [Wren, C, 121]``, that place counts as well: a song without a key takes the one that is there, and another
key there is a doubt.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music import Key
from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key, note_or_song, song_or_not
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.pieces import read_piece, read_pieces
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song

FEWEST: Final = 4  # lines that share a place
MOST: Final = 0.5  # share of the lines that may be songs
FEWEST_KEYS: Final = 3  # different ones; a word that repeats is none
LONGEST: Final = 200  # characters of a line that may be a song
GAP: Final = "  "
_REST: Final = (
    r"[\w#♭♯]{0,5}(?:[\s-](?i:minor|major|min|maj|moll|mol|dur|dúr|mi|m|flat|sharp|bémol|dièse|mineur|majeur|"
    r"dorian|phrygian|lydian|mixolydian)){0,2}(?:[-−](?=$|[\s)\],;]))?(?![\w#♭♯'’])"  # D- is D minor
)
_WORD: Final = re.compile(rf"(?<![\w#♭♯'’.])[A-H]{_REST}")
_SMALL_WORD: Final = re.compile(rf"(?<![\w#♭♯'’.])[A-Ha-h]{_REST}")
MOST_SMALL: Final = 0.6  # share of the lines in small letters, from which on keys may be so too
_A_TITLE: Final = re.compile(r"A\s[A-Z][a-z]")  # A Light in the Vestry
_BRACKETS: Final = re.compile(r"\s*[()\[\]{}]\s*")
_OPENS: Final = "([{"
_SIGN_IN_FRONT: Final = re.compile(r"([^\w\s]?)(\s*)$")
_SIGN_BEHIND: Final = re.compile(r"(\s*)([^\w\s]?)")
_EDGE: Final = " -–—:,;|/=•·.…_~>→([{"


class KeyPlace(msgspec.Struct, frozen=True):
    """A word that may be a key, and the signs on both sides of it; "" at an end of the line, ``GAP`` for a wide gap."""

    begin: int
    end: int
    key: Key
    left: str
    right: str


class KeyLayout(msgspec.Struct, frozen=True):
    """Where the list's keys are: after this sign, or in front of the line."""

    sign: str
    notation: Notation
    is_small: bool = False  # the list is in small letters, keys too

    def key_in(self, text: str) -> KeyPlace | None:
        """Return the first key that is in the list's place."""
        places = list(key_places(text, self.notation, is_small=self.is_small))
        places = [one for one in places if not _A_TITLE.match(text[one.begin :])] or places
        found = next((one for one in places if one.left == self.sign), None)
        if found is None and self.sign == GAP:  # a title so long that only a space separates it from its column
            found = next((one for one in reversed(places) if one.left == " " and one.right in ("", GAP)), None)
        return found


def key_places(text: str, notation: Notation, *, is_small: bool = False) -> Iterator[KeyPlace]:
    """Return the words of a line that may be keys by their form. ``is_small``: in small letters too."""
    if len(text) > LONGEST:
        return
    for found in (_SMALL_WORD if is_small else _WORD).finditer(text):
        key = plain_key(found[0], notation=notation)
        if key is None:
            continue
        before, behind = _SIGN_IN_FRONT.search(text[: found.start()]), _SIGN_BEHIND.match(text[found.end() :])
        assert before  # noqa: S101  it matches nothing at least
        assert behind  # noqa: S101  same
        left = before[1] or (GAP if len(before[2]) > 1 else before[2]) if found.start() else ""
        right = behind[2] or (GAP if len(behind[1]) > 1 else behind[1])
        yield KeyPlace(found.start(), found.end(), key, left, right)


def learn_layout(texts: Sequence[str], notation: Notation) -> KeyLayout | None:
    """Return where most of these lines have their key; None if no place is common to them."""
    seen: Counter[str] = Counter()
    keys: dict[str, set[str]] = {}
    is_small = sum(text == text.lower() for text in texts) >= MOST_SMALL * len(texts)
    for text in texts:
        signs = {one.left: str(one.key) for one in key_places(text, notation, is_small=is_small) if _is_apart(one)}
        seen.update(list(signs))
        for sign, key in signs.items():
            keys.setdefault(sign, set()).add(key)
    usual = [sign for sign, count in seen.most_common() if len(keys[sign]) >= FEWEST_KEYS and count >= FEWEST]
    if not usual or seen[usual[0]] < MOST * len(texts):
        return None
    return KeyLayout(usual[0], notation, is_small)


def _is_apart(place: KeyPlace) -> bool:
    """Return whether signs, and not only words, surround it: A Moth, and A in the middle of a title, are words."""
    if place.left.strip():
        return place.right != " " or place.left not in ",'"
    return bool(place.right.strip()) or (place.left == GAP) or (place.right in ("", GAP) and place.left != "")


def read_by_layout(found: Sequence[Classified], style: Style) -> KeyLayout | None:
    """Take missing keys from the list's place for keys; doubt a song that has another there."""
    songs = [one for one in found if one.took is None and one.draft]
    layout = learn_layout([one.line.text for one in songs], style.notation)
    if layout is None or layout.sign == " ":
        return layout
    for one in songs:
        assert one.draft is not None  # noqa: S101  chosen above
        place = layout.key_in(one.line.text)
        if place is None or not (_is_apart(place) or layout.sign == GAP):
            continue
        if not one.draft.has_key or _is_open(one.draft.title):
            one.draft = _read_again(one, place, style) or one.draft
        elif place.key not in (one.draft.key, one.draft.record_key) and not one.draft.doubts:
            before, one.draft = one.draft.key, _read_again(one, place, style) or one.draft
            says = f"{place.key} stands where the others have their key, {before or 'another'} does not"
            one.draft.doubts.append(doubtful_key(says, one.draft.title, str(one.draft.key)))
    return layout


def _is_open(title: str) -> bool:
    """Return whether a bracket in the title is not closed: its rest was taken for something else."""
    return any(title.count(first) != title.count(last) for first, last in ("()", "[]", "{}"))


def _read_again(one: Classified, place: KeyPlace, style: Style) -> Draft | None:
    """Read a line by its place for keys: the title before it, or after it where the key is in front."""
    text = one.line.text
    written = text[place.begin : place.end]
    if not place.left:
        title, rest = text[place.end :].lstrip(_EDGE), ""
    else:
        cut = _opens_at(text, place.begin)
        title = text[:cut].rstrip(_EDGE)
        rest = _BRACKETS.sub(", ", f"{text[cut : place.begin]}, {text[place.end :].lstrip('?')}").strip(f"{_EDGE}?")
    if not any(letter.isalnum() for letter in title):
        return None
    line = msgspec.structs.replace(one.line, text=f"{title} ({written})")
    draft = read_song(line, style)
    if place.right == "?":
        says = f"the list itself has a question mark: {written}?"
        draft.doubts.append(doubtful_key(says, draft.title, str(place.key)))
    if written == "a" and place.right == " ":
        says = f"{text[place.begin :]}: the a read as the key"  # or a word: a bit slower
        draft.doubts.append(doubtful_key(says, draft.title, str(place.key)))
    if rest:
        pieces = (read_piece(one.text, style.notation, bare_tempo=True) for one in read_pieces(rest, style.notation))
        draft.take_all(tuple(pieces), rest)
    return draft


def _opens_at(text: str, before: int) -> int:
    """Return where the part with the key begins: at its open bracket, or at the sign in front of the key."""
    for at in range(before - 1, 0, -1):
        if text[at] in ")]}":
            break
        if text[at] in _OPENS:
            return at
    return len(text[:before].rstrip(_EDGE))


def doubt_outside_layout(found: Sequence[Classified], layout: KeyLayout | None) -> None:
    """Doubt each line below the first song that has a key in the list's place and was taken for no song."""
    first = next((at for at, one in enumerate(found) if one.took is LineKind.SONG), None)
    if layout is None or layout.sign == " " or first is None:
        return
    for one in found[first:]:
        text = one.line.text
        if one.took not in (LineKind.NOTE, LineKind.LEFT) or one.doubts or one.facts or not layout.key_in(text):
            continue
        one.doubts = (note_or_song(text) if one.took is LineKind.NOTE else song_or_not(text),)
