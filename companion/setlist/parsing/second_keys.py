"""Doubt a key where its line holds another one, and a title that goes on in small letters after its capitals."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, LineKind
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_layout import key_places
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_draft import Draft

FEWEST: Final = 4  # titles
MIN_CAPITALS: Final = 2  # words of a title with a capital, after which small ones are a remark
MAX_SMALL: Final = 0.5  # share of the titles that may end so
CHANGES: Final = re.compile(  # what a song goes to, or what its shapes, its record or its charts are in
    r"\b(?:to|then|into|up|down|capo|mod|modulates?|key|change|shapes?|orig|original(?:ly)?|record(?:ing|ed)?|rec|album|"
    r"was|not|from|chart|no|solo|bridge|chorus|verse|outro|intro|ending|end|tag|last|for|on|with|drop)\b|→|>|=",
    re.IGNORECASE,
)
NEAR: Final = 18  # characters in front of a key
_SURE: Final = re.compile(r"^[A-H](?:[b#♭♯]|is|es)?m?$")
_SMALL: Final = frozenset(
    ("a", "an", "the", "of", "in", "on", "at", "to", "and", "or", "for", "my", "y", "de", "la", "el")
)


def doubt_second_keys(found: Sequence[Classified]) -> None:
    """Doubt each key beside which the line names another, unless that is a change or the record's key."""
    for one in found:
        draft = one.draft
        if one.took is not LineKind.SONG or not draft or any(each.asks_for == "key" for each in draft.doubts):
            continue
        if draft.key and (other := _other_key(one.line.text, draft)):
            says = f"the line names {other} too"
            draft.doubts.append(doubtful_key(says, draft.title, str(draft.key)))


def _other_key(text: str, draft: Draft) -> str:
    """Return another key after the title, written as its own is; "" if there is none."""
    title_ends = text.find(draft.title) + len(draft.title) if draft.title in text else len(text)
    for place in key_places(text, draft.notation):
        written = text[place.begin : place.end]
        is_apart = (len(written) > 1 and written not in ("As", "Es", "Am")) or bool(
            place.left.strip() and place.right != " "
        )
        is_apart = is_apart and written not in draft.notes  # the letter of a singer
        is_other = place.key not in (draft.key, draft.record_key) and place.begin >= title_ends
        if (
            is_other
            and is_apart
            and _SURE.match(written)
            and not CHANGES.search(text[max(title_ends, place.begin - NEAR) : place.begin])
        ):
            return written
    return ""


def part_small_ends(found: Sequence[Classified], style: Style) -> None:
    """Take small words after a title in capitals for a remark, in doubt, where no key is between them."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft and one.draft.title and not one.inline]
    ends = [(one.draft, parted) for one in songs if one.draft and (parted := _small_end(one.draft, style))]
    if not style.capitals or len(songs) < FEWEST or len(ends) > MAX_SMALL * len(songs):
        return
    for draft, (title, said) in ends:
        whole, draft.title = draft.title, title
        draft.note(said)
        yes = DoubtAnswer("yes", (FieldCorrection("title", whole),))
        draft.doubts.append(
            Doubt(f"{said}: read as a note", f"Is {whole!r} the whole title?", (DoubtAnswer("no"), yes), "title")
        )


def _small_end(draft: Draft, style: Style) -> tuple[str, str] | None:
    """Return a title and the small words after it, if these are no part of it as far as its shape tells."""
    if draft.doubts or (draft.has_key and not style.key_in_front):
        return None
    words = draft.title.split()
    at = len(words)
    while at and words[at - 1].islower():
        at -= 1
    title, said = words[:at], words[at:]
    capitals = sum(word[:1].isupper() for word in title)
    if not said or not title or said[0] in _SMALL or said[-1] in _SMALL:
        return None
    may_be_remark = len(said) > 1 and capitals >= MIN_CAPITALS
    if not capitals or not (may_be_remark or is_remark(" ".join(said))):
        return None  # Old Moon again
    if sum(word.islower() and word not in _SMALL for word in title):
        return None
    return " ".join(title), " ".join(said)
