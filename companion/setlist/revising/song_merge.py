"""One song of the show with what the list's next version says of it; the rest of its work stays."""

import unicodedata
from collections.abc import Callable, Sequence
from typing import Final

import msgspec

from companion.music import shown_length
from companion.setlist.revising.differences import Difference, Differs
from companion.show import Song
from companion.show.chords import moved_words, written_while_in
from companion.show.notes_in_key import notes_written_in
from companion.show.titles import folded

TAKEN_FROM_LIST: Final = (
    "key",
    "record_key",
    "tempo_bpm",
    "meter",
    "length_s",
    "artist",
    "starts_with",
    "ending",
    "recording",
)
ALMOST_THE_SAME: Final = 85.0  # of 100: a word or two differ
SAID_IN_NOTES: Final = ("starts_with", "ending")  # read from notes, and reported with them
SPOKEN: Final = {
    "record_key": "record's key",
    "tempo_bpm": "tempo",
    "length_s": "length",
    "starts_with": "starts with",
}


def merge(
    old: Song, new: Song, alike: float, name: str = "", takes: Callable[[str], bool] = lambda _name: True
) -> tuple[Song, list[Difference]]:
    """Return the show's song with the list's values, and the differences.

    ``name``: the song's own among all of the list; ``takes``: whether a difference of this name is taken.
    """
    differences: list[Difference] = []
    changes: dict[str, object] = {}
    said: dict[str, object] = {}
    taken: list[str] = []  # new notes

    def differs(kind: Differs, of: str, says: str, before: object = None, after: object = None) -> bool:
        """Note a difference; return whether it is taken."""
        named = f"{kind.value}:{of}:{name}"
        if not takes(named):
            return False
        was, now = (None if value is None else _said(of, value) for value in (before, after))
        old_title = old.title if kind in (Differs.RENAMED, Differs.SPELLING) else ""
        differences.append(Difference(kind, title, says, old_title, was, now, named))
        return True

    is_renamed, is_respelled = alike < 100, is_better_spelling(new.title, old.title)
    title = new.title if is_renamed or is_respelled else old.title
    if is_renamed or is_respelled:
        kind = Differs.RENAMED if is_renamed else Differs.SPELLING
        says = f"was {old.title}, {_likeness(alike)}" if is_renamed else f"was {old.title}"
        if differs(kind, "title", says, old.title, new.title):
            changes["title"] = new.title
        else:
            title = old.title
    for field in TAKEN_FROM_LIST:
        before, after = getattr(old, field), getattr(new, field)
        if after is None or after == before or (field == "artist" and before and folded(before) == folded(after)):
            continue
        arrow = f"{_said(field, before)} → {_said(field, after)}"
        if field in SAID_IN_NOTES:
            said[field] = after
            continue
        if field == "key":
            moves = moved_words(old, after) if old.key else ""
            arrow, kind = (f"{arrow}; {moves}" if moves else arrow), Differs.KEY
        else:
            arrow, kind = f"{SPOKEN.get(field, field)} {arrow}", Differs.CHANGED
        if differs(kind, field, arrow, before, after):
            changes[field] = after
    if new.chart is not None and old.chart is None:
        changes["chart"] = new.chart
    if new.segue and folded(new.segue) != folded(old.segue or ""):
        says = f"segue {old.segue or '-'} → {new.segue}"
        if differs(Differs.CHANGED, "segue", says, old.segue, new.segue):
            changes["segue"] = new.segue
    more = [note for note in (new.notes or "").split("; ") if note and note not in (old.notes or "")]
    words = more or [f"{SPOKEN.get(field, field)} {_said(field, value)}" for field, value in said.items()]
    if words and differs(Differs.NOTE, "notes", f"+ {'; '.join(words)}", old.notes, "; ".join(words)):
        changes |= said
        taken += more
    return _in_its_key(msgspec.structs.replace(old, **changes), old, taken), differences


def _likeness(alike: float) -> str:
    """Return how alike two titles are, of 100, in words."""
    return "almost the same title" if alike >= ALMOST_THE_SAME else "a similar title"


def _in_its_key(merged: Song, old: Song, more: Sequence[str]) -> Song:
    """Return the merged song with its letters and notes, written in the old key, and these new ones."""
    notes = notes_written_in(old.notes, old.key, merged.key) if old.key else old.notes
    notes = "; ".join(filter(None, (notes, *more))) if more else notes
    merged = msgspec.structs.replace(merged, notes=notes)
    return written_while_in(merged, old.key) if old.key else merged


def is_better_spelling(new: str, old: str) -> bool:
    """Return whether a title that is the same but for case, accents and signs is written better in the list.

    >>> is_better_spelling("Café Morgenrot", "Cafe Morgenrot"), is_better_spelling("MOTH", "Moth")
    (True, False)
    """
    if new == old or folded(new) != folded(old) or _shouts(new):
        return False
    return _shouts(old) or _signs(new) > _signs(old)


def _shouts(title: str) -> bool:
    """Return whether a title is all in capitals or all in small letters, so that its case says nothing."""
    letters = [sign for sign in title if sign.isalpha()]
    return len(letters) > 3 and ("".join(letters).isupper() or "".join(letters).islower())


def _signs(title: str) -> int:
    """Count accents and apostrophes, which are left out and never typed by mistake."""
    plain = unicodedata.normalize("NFKD", title)
    return sum(bool(unicodedata.combining(sign)) or sign in "'’" for sign in plain)


def _said(field: str, value: object) -> str:
    if value is None:
        return "-"
    if field == "length_s" and isinstance(value, int):
        return shown_length(value)
    return f"{value:g}" if isinstance(value, float) else str(getattr(value, "value", value))
