"""Read the key of a song that has none in its place from the words that are kept as its notes, in doubt."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.key_layout import key_places
from companion.setlist.parsing.second_keys import CHANGES, NEAR
from companion.setlist.parsing.song_draft import Draft

MOST_KEYED: Final = 0.5  # share of the songs with a key
_NOTE: Final = r"[A-Ga-g](?:[b#♭♯]|\s?(?:flat|sharp))?(?:m|\s(?:minor|major))?"
_SAID: Final = re.compile(  # he's in f; c not d!!
    rf"\b(?:in|key|key of)\s({_NOTE})(?=$|\s*[!,.;)])|^({_NOTE})\s+not\s+(?:in\s)?{_NOTE}(?=$|\s*[!,.;)])"
)
_BEGINS: Final = re.compile(  # B minor. Piano in octaves; Fis-Moll; leise
    r"^([^\s,;:.!()–—-]{1,5}(?:[ -](?:flat|sharp|bémol|bemol|bemolle|dièse|diesis|sostenido|sustenido))?"
    r"(?:[ -](?:minor|major|moll|dur|mineur|majeur|minore|maggiore|menor|mayor|maior))?)\s?(?:[.;!]|\s[-–—])\s+(\S.*)$",
    re.IGNORECASE,
)
FEWEST_ALIKE: Final = 3  # songs below which a letter and a full stop begin the note: G. Slow
_MAY_BE_WORD: Final = frozenset(("A", "a", "am", "Am", "as", "As", "es", "Es", "e", "be"))


def take_keys_of_notes(drafts: Sequence[Draft]) -> None:
    """Take a key that the notes of a song without one name: by "in", or alone in a list whose songs have keys."""
    _take_in_front(drafts)
    are_keyed = sum(draft.has_key for draft in drafts) >= MOST_KEYED * max(len(drafts), 1)
    for draft in drafts:
        if draft.has_key:
            continue
        for words in draft.notes:
            written = _said(words) or (_alone(words, draft) if are_keyed else "")
            key = plain_key(written, notation=draft.notation) if written else None
            if key:
                draft.key = key
                draft.doubts = [each for each in draft.doubts if not each.says.endswith(words)]
                draft.doubts.append(doubtful_key(f"{words}: {written} read as the key", draft.title, str(key)))
                break


def _take_in_front(drafts: Sequence[Draft]) -> None:
    """Take the key that begins the note of a song without one; a letter alone only where several notes begin so."""
    found = []
    for draft in drafts:
        words = draft.notes[0] if draft.notes and not draft.has_key else ""
        begins = _BEGINS.match(words)
        key = plain_key(begins[1], notation=draft.notation) if begins and begins[1][0].isupper() else None
        if begins and key:
            found.append((draft, begins, key))
    are_alike = len(found) >= FEWEST_ALIKE
    for draft, begins, key in found:
        if len(begins[1]) > 1 and begins[1] not in _MAY_BE_WORD:
            draft.key, draft.notes[0] = key, begins[2]
        elif are_alike:
            draft.key = key
            draft.doubts.append(doubtful_key(f"{begins[0]}: {begins[1]} read as the key", draft.title, str(key)))


def begins_with_key(words: str, notation: Notation) -> bool:
    """Return whether a line begins with a key and goes on as another sentence: G. Slow; B minor. Brushes."""
    begins = _BEGINS.match(words)
    return bool(begins and begins[1][0].isupper() and plain_key(begins[1], notation=notation))


def _said(words: str) -> str:
    found = _SAID.search(words)
    if not found or CHANGES.search(words[: found.start()]):
        return ""
    return found[1] or found[2]


def _alone(words: str, draft: Draft) -> str:
    """Return the only key that the words name, if it is neither a word nor what the song goes to."""
    places = list(key_places(words, draft.notation, is_small=draft.text.islower()))
    written = {words[place.begin : place.end] for place in places}
    if len(written) != 1 or written & _MAY_BE_WORD:
        return ""
    return "" if CHANGES.search(words[max(0, places[0].begin - NEAR) : places[0].begin]) else written.pop()
