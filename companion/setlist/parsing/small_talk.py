"""Talk in a chat that begins with a small letter, between titles that begin with capitals."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.song_draft import UNSURE, Draft

FEWEST_SENT: Final = 4  # messages that may be songs
_TALKS: Final = re.compile(  # a sentence ends and another begins, a clause follows, or somebody is unsure
    rf"[.?!,][?!]?\s+[^\W\d_]|{UNSURE.pattern}", re.IGNORECASE
)
MAX_FALLEN: Final = 0.3  # share of the titles that may begin with a small letter
MAX_SMALL: Final = 0.5  # share of the messages


class Rises(msgspec.Struct, frozen=True):
    """Whether a list's titles begin with capitals, and most messages of a chat."""

    titles: bool
    messages: bool


def learn_rises(sure: Sequence[Draft], opened: Sequence[Classified]) -> Rises:
    """Return what begins with capitals. ``sure``: certain songs; ``opened``: the lines that are open."""
    fallen = sum(draft.title[:1].islower() and "?" not in draft.text for draft in sure)
    sent = [one.line.text for one in opened if one.line.message.sender]
    small = sum(text[:1].islower() for text in sent)
    return Rises(
        titles=bool(sure) and fallen <= MAX_FALLEN * len(sure),
        messages=len(sent) >= FEWEST_SENT and small <= MAX_SMALL * len(sent),
    )


def is_small_talk(one: Classified, rises: Rises, *, is_keyed: bool, is_shaped: bool) -> bool:
    """Return whether a line without the mark of the songs is talk: yes we did it in March; no c."""
    draft, text = one.draft, one.line.text
    has_key = draft is not None and draft.has_key
    if not text[:1].islower() or (has_key and draft is not None and draft.title[:1].isupper()):
        return False
    if is_keyed and rises.titles and not (has_key and draft is not None and not _says_only_key(draft)):
        return True
    return (is_shaped and rises.titles) or (not is_keyed and rises.messages)


def leaves_count(found: Sequence[Classified], at: int) -> bool:
    """Return whether a message begins with a number that counts no song here, and talks: 54 I think. Don't panic."""
    line, draft = found[at].line, found[at].draft
    number = draft.number if draft else line.number
    if number is None or draft is None or not line.message.sender or draft.has_fact:
        return False
    before = [one for one in found[:at] if one.draft and one.draft.number is not None]
    if not before or before[-1].line.message.message == line.message.message:
        return False
    last = before[-1].draft
    counts_on = last is not None and number in (1, (last.number or 0) + 1)
    return not counts_on and _TALKS.search(draft.title) is not None


def _says_only_key(draft: Draft) -> bool:
    """Return whether a small word comes before a small letter for a key: no c."""
    return draft.title.islower() and " " not in draft.title
