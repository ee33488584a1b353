"""How long a set is by the set before it: "first set is 55 mins, 2nd the same", "1st set an hour, 2nd 45"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.event_words import SAME_LENGTH
from companion.leader.hour_words import folded_phrases
from companion.leader.reply_words import NUMBER, SIGN, ReplyWord, low, phrase_of, set_of

# A set that follows without a break, at no time of its own.
NEXT_AT_ONCE: Final = folded_phrases(
    "straight after | right after | straight on | straight afterwards | directly after | immediately after | "
    "direkt danach | gleich danach | juste après | justo después | subito dopo | direct erna | direkt efter | zaraz po"
)
_BEFORE: Final = set_of("is are : - – — also for too ist est es è dura")
_PLAIN: Final = range(25, 121)  # minutes that a number alone may be


def length_again(words: Sequence[ReplyWord], at: int, before: int | None) -> tuple[int, int] | None:
    """Read the length of a set at the end of its clause: the same as ``before``, or a number without its unit.

    None if no set before has a length. Returns the minutes and where the words end.
    """
    while low(words, at) in _BEFORE:
        at += 1
    if before is None or at >= len(words):
        return None
    many = phrase_of(words, at, SAME_LENGTH)
    number = words[at]
    is_plain = number.kind == NUMBER and not number.is_ordinal and int(number.text) in _PLAIN
    end = at + (many or is_plain)
    if end == at or (end < len(words) and words[end].kind != SIGN):
        return None  # the second the same key
    return (before if many else int(number.text)), end
