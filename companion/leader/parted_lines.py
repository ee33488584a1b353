"""Lines of which one sentence is about the times of sets: it is read apart from what stands beside it."""

import datetime as dt
import re
from collections.abc import Sequence
from typing import Final

from companion.leader.clear_times import SHOW_STARTS, clear_times
from companion.leader.reply_dates import day_in
from companion.leader.reply_words import CLOCK, COUNTED, NUMBER, ReplyWord, phrase_of, set_of, words_of
from companion.leader.set_names import SetNames
from companion.leader.time_words import CLOCK_WORDS
from companion.leader.turns_of_phrase import CORRECT, HEDGE, NOT, UNKNOWN_TO_LEADER, turn_at

_ANY_DAY: Final = dt.date(2000, 1, 1)
_CUT: Final = re.compile(r"[.!;,]\s+(?=\S)")
MAX_CUTS: Final = 12
MAX_BEFORE_SET: Final = 4  # words before the first set, as in "and so the first set"
# Words beside the times that may change them: "Set 1 at 8. Check that with Jo."
_CHANGING: Final = set_of("that thats it its or but though unless if wait check no not otherwise both each them these")
_IN: Final = ("no", "na")  # Portuguese, before a place: no largo da igreja
_UNSURE: Final = (HEDGE, CORRECT, NOT, UNKNOWN_TO_LEADER)


def parted_times(text: str, names: SetNames) -> tuple[str, str] | None:
    """Return the two parts of a line if one of them only tells the times of sets; None if it is read as a whole.

    A comma parts only a date from the times: "Samedi 6 mars, premier set à 20h30".
    """
    words = words_of(text)
    if not any(word.kind == CLOCK or word.low in CLOCK_WORDS or word.low == "kl" for word in words):
        return None
    if clear_times(words, names, _of_day(text, words)) is not None:
        return None
    for cut in list(_CUT.finditer(text))[:MAX_CUTS]:
        head, tail = text[: cut.start() + 1].strip(), text[cut.end() :].strip()
        is_sentence = cut[0][0] != ","
        if _tells_times(tail, names) and _may_stand_beside(head) and (is_sentence or day_in(head, _ANY_DAY)):
            return head.rstrip(","), tail
        if is_sentence and _tells_times(head, names) and _may_stand_beside(tail) and not _counts(tail):
            return head, tail
    return None


def _of_day(text: str, words: Sequence[ReplyWord]) -> frozenset[int]:
    day = day_in(text, _ANY_DAY)
    return frozenset(at for at, one in enumerate(words) if day and day.start <= one.start < day.end)


def _tells_times(text: str, names: SetNames) -> bool:
    """Return whether words name a set, or the start of the show, and are explained as its times."""
    words = words_of(text)
    starts = range(min(len(words), MAX_BEFORE_SET))
    names_set = any(names.meant(words, at) is not None or phrase_of(words, at, SHOW_STARTS) for at in starts)
    return names_set and clear_times(words, names) is not None


def _counts(text: str) -> bool:
    """Return whether words have a number, which may be another time: "Nine would suit the bar"."""
    return any(word.kind == NUMBER or word.low in COUNTED for word in words_of(text))


def _may_stand_beside(text: str) -> bool:
    """Return whether words tell no time, and do not change or doubt one."""
    words = words_of(text)
    words = words[1:] if day_in(text, _ANY_DAY) and words[0].low in ("its", "it's") else words
    if any(word.kind == CLOCK or word.low in CLOCK_WORDS or word.low in _CHANGING for word in words):
        return False
    turns = (turn_at(words, at) for at, word in enumerate(words) if word.text not in _IN)
    return not any(turn is not None and turn.kind in _UNSURE for turn in turns)
