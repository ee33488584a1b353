"""Read a key that stands among other words in its cell, or in the cell of the notes."""

import re
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.key_layout import key_places
from companion.setlist.parsing.song_draft import Draft

_SHOUTED_MINOR: Final = re.compile(r"([A-G](?:[#♯B♭])?)M$")  # EM, F#M, BBM
_IN_FRONT: Final = re.compile(
    r"^([^\s,;:!()–—]{1,5}(?:[ -](?:flat|sharp|minor|major|moll|dur))?)(\s*(?:--?|[–—,;:!|(])\s*|\s+)(\S.*)$"
)
_NOW: Final = "now|tonight|today|jetzt|heute|maintenant|ahora|adesso|ora|nu|teraz"
_REST: Final = r"[^\s,;.:!()–—]{0,3}(?:\s(?:flat|sharp|minor|major|moll|dur)){0,2}"  # of a key, behind its letter
_NOW_IN: Final = re.compile(  # in E now (was F); E now; now E, for Ann
    rf"^(?:(?:{_NOW})\s+)?(?:in|en)\s+([A-H]{_REST})(?:\s+(?:{_NOW}|instead))?(?=$|\s*[,;!(])|"
    rf"^((?-i:[A-H]){_REST})\s+(?:{_NOW}|instead)(?!\w)|"
    rf"^(?:{_NOW})\s+(?:(?:in|en)\s+)?((?-i:[A-H]){_REST})(?=$|[\s,;.:!(])",
    re.IGNORECASE,
)


class StrayKey(msgspec.Struct, frozen=True):
    """A key among words: the key as written, the words beside it, and whether a sign parts it from them."""

    written: str
    words: str
    is_sure: bool


def take_key_cell(draft: Draft, cell: str) -> bool:
    """Take a cell of the column of keys; return False if it holds no key."""
    if draft.text.isupper() and (found := _SHOUTED_MINOR.match(cell.strip())):
        key = f"{found[1][0]}{found[1][1:].lower()}m"
        if plain_key(key) and draft.take_key(key):
            draft.doubts.append(doubtful_key(f"{cell} read as {key}", draft.title or draft.text, key))
            return True
    if draft.take_key(cell):
        return True
    if (now := _now_in(cell)) and draft.take_key(now):
        return draft.note(cell)  # in E now (was F)
    stray = _in_front(cell, draft.notation) or _only_one(cell, draft.notation)
    if stray is None or not draft.take_key(stray.written):
        return False
    draft.note(stray.words)
    if not stray.is_sure:
        says = f"{cell}: {stray.written} read as the key"
        draft.doubts.append(doubtful_key(says, draft.title or draft.text, str(draft.key)))
    return True


def _now_in(cell: str) -> str:
    """Return the key that a cell says is now the song's, as it is written; empty if it says none."""
    found = _NOW_IN.match(cell.strip())
    return next(filter(None, found.groups()), "") if found else ""


def _in_front(cell: str, notation: Notation) -> StrayKey | None:
    """Return the key that begins a cell: Eb -- no keys till chorus."""
    found = _IN_FRONT.match(cell.strip())
    if not found or not plain_key(found[1], notation=notation):
        return None
    return StrayKey(found[1], found[3].removesuffix(")") if "(" in found[2] else found[3], bool(found[2].strip()))


def _only_one(cell: str, notation: Notation) -> StrayKey | None:
    """Return the only key among the words of a cell: (same as last time, G)."""
    places = list(key_places(cell, notation))
    if len({str(place.key) for place in places}) != 1:
        return None
    return StrayKey(cell[places[-1].begin : places[-1].end], cell.strip("() "), is_sure=False)


def take_key_of_notes(draft: Draft, cell: str) -> bool:
    """Take the key that a cell of notes says instead of the one in its column, or where that is empty; in doubt.

    Return whether the cell says nothing else.
    """
    found = _now_in(cell)
    written = found or (cell.strip() if cell[:1].isupper() and len(cell.strip()) > 1 else "")
    key = plain_key(written, notation=draft.notation) if written else None
    if key is None or key == draft.key or (draft.has_key and not found):
        return False
    before, draft.key = draft.key, key
    if before or not found:
        says = f"the notes say {cell}: used {key}" + (f", not {before}" if before else "")
        draft.doubts.append(doubtful_key(says, draft.title or draft.text, str(key)))
    return not found
