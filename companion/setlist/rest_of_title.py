"""What a line's title held beside the title that the player says: its key, and words for the notes."""

import re
from typing import Final

from companion.setlist.model import DoubtAnswer, FieldCorrection
from companion.setlist.notation import Notation
from companion.setlist.parsing.bracketed_keys import key_said
from companion.setlist.parsing.key_cells import plain_key
from companion.show import Song

_BRACKET: Final = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_SEPARATORS: Final = " -–—:,;|/=•·.…_>→"


def with_rest(answer: DoubtAnswer, song: Song | None, notation: Notation) -> DoubtAnswer:
    """Return an answer that only shortens the title, with what is left of the title: a key, and notes.

    >>> cut = DoubtAnswer("Moth", (FieldCorrection("title", "Moth"),))
    >>> [one.value for one in with_rest(cut, Song("Moth (Em) NEW"), Notation.LETTERS).corrections]
    ['Moth', 'Em', 'NEW']
    """
    if song is None or len(answer.corrections) != 1:
        return answer
    only = answer.corrections[0]
    if not isinstance(only, FieldCorrection) or only.field != "title" or not only.value:
        return answer
    title = song.title
    at = title.casefold().find(only.value.casefold())
    if at < 0 or title.casefold() == only.value.casefold():
        return answer
    key, notes = None, []
    for part in _parts(title[:at], title[at + len(only.value) :]):
        found = None if song.key or key else _key_in(part, notation)
        key = key or found
        if not found or not plain_key(part, notation=notation):
            notes.append(part)
    more = [FieldCorrection("key", key)] if key else []
    more += [FieldCorrection("notes", "; ".join(notes))] if notes else []
    return DoubtAnswer(answer.word, (only, *more))


def _parts(*rest: str) -> list[str]:
    """Return the brackets and what stands around them."""
    parts = [part.strip(_SEPARATORS) for each in rest for part in _BRACKET.split(each)]
    return [part for part in parts if any(map(str.isalnum, part))]


def _key_in(part: str, notation: Notation) -> str | None:
    key = plain_key(part, notation=notation) or key_said(part, notation)
    return str(key) if key else None
