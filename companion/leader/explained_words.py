"""Words beside a fact that another fact of the same song explains: "5 F, final en seco" asks for the ending alone."""

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from companion.leader.guess_words import (
    ALL_OF_BAND,
    BEGINS,
    BRINGS,
    DENIES,
    DIES,
    ENDS,
    GONE,
    PAST,
    SMALL,
    YOU,
    manner_of,
    player_of,
)
from companion.leader.guessed_endings import AGAIN, ENDING_PHRASES, UNTIL, ending_of
from companion.leader.hour_words import folded_words
from companion.leader.left_over import REACHING
from companion.leader.phrase_lists import HEDGES
from companion.leader.reply_words import SIGN, WORD, ReplyWord, phrase_of, words_of
from companion.leader.settled_claims import ENDING_KINDS, ClaimedValue, ReplySettling

_DOUBTED: Final = ("key", "tempo", "length")
_SIGNS: Final = frozenset((",", "-", "–", "—", "(", ")", ".", ":"))
_NO_SMALL: Final = folded_words("but which so or wo wie wer que che dass jo git isch")
_OF_END: Final = folded_words(
    "last line lines chord note verse chorus outro close bottom we i you wir ich man nous vi jag jeg ik suddenly "
    "abruptly slowly gradually simply gently just letzte letzten letzter letztem strophe refrain zeile takte schlag "
    "dernier derniere derniers ultimo ultima ultimos ultimas sista siste laatste langsam sanft doucement lentement "
    "poco volumen volume nett hard plots ineens meteen direkt direct daar zum am aufs auf sind werden wird werde va vai"
)
_CHANGES: Final = re.compile(r"(?:[A-H](?:[b#♭♯]|is|es|s)?(?:m|min|maj|moll|dur)?\d?|\d.*)")


def explain_words(settling: ReplySettling) -> None:
    """Take back why a key, tempo or length is in doubt where its words only say how its song ends, or who starts it.

    They are asked as such; the words of the fact itself are all explained, or it would have a further reason.
    """
    for (set_at, place, field), values in settling.values.items():
        if place is None or field not in _DOUBTED:
            continue
        asked = list(_asked(settling.values.get((set_at, place, "ending"), ()), says_only_ending))
        asked += _asked(settling.values.get((set_at, place, "starts_with"), ()), says_only_start)
        for at, value in enumerate(values):
            kept = [why for why in value.doubt.split("; ") if not any(_is_said(why, value, one) for one in asked)]
            if value.doubt:
                values[at] = value._replace(doubt="; ".join(kept))


def _asked(values: Sequence[ClaimedValue], explains: Callable[[ClaimedValue], bool]) -> Iterator[ClaimedValue]:
    yield from (one for one in values if one.doubt and explains(one))


def _is_said(why: str, value: ClaimedValue, other: ClaimedValue) -> bool:
    return bool(why) and why in other.doubt.split("; ") and value.line == other.line


def says_only_ending(value: ClaimedValue) -> bool:
    """Return whether each word why an ending is in doubt says how a song ends: on ralentit à la fin."""
    return value.value in ENDING_KINDS and all(
        _explained(words_of(why), starts=False) and ending_of(words_of(why), 0, len(words_of(why))) == value.value
        for why in value.doubt.split("; ")
    )


def says_only_start(value: ClaimedValue) -> bool:
    """Return whether each word why a start is in doubt says who starts: c'est l'accordéon qui commence."""
    return all(
        _explained(words_of(why), starts=True) and any(word.low in BEGINS for word in words_of(why))
        for why in value.doubt.split("; ")
    )


def _explained(words: Sequence[ReplyWord], *, starts: bool) -> bool:
    """Return whether a closed list explains each word; behind "until" any word tells how long."""
    if any(phrase_of(words, at, HEDGES) or word.low in DENIES | PAST | GONE for at, word in enumerate(words)):
        return False
    at = 0
    while at < len(words):
        if not starts and words[at].low in _HOW_LONG:
            return at > 0 and not any(_may_change(word) for word in words[at + 1 :])
        many = _phrase(words, at, starts=starts)
        if not many and not _is_small(words[at], starts=starts):
            return False
        at += many or 1
    return bool(words)


_HOW_LONG: Final = UNTIL | {"while"}


def _phrase(words: Sequence[ReplyWord], at: int, *, starts: bool) -> int:
    """Return how many words say how a song ends, or who starts it; 0 if none do."""
    lists = (BRINGS,) if starts else (*ENDING_PHRASES, DIES)
    many = max(phrase_of(words, at, one) for one in lists)
    low = words[at].low
    if starts:
        is_said = low in BEGINS | YOU | ALL_OF_BAND or bool(player_of(low))
    else:
        is_said = low in ENDS | AGAIN or bool(manner_of(low, ends=True))
    return many or int(is_said)


def _is_small(word: ReplyWord, *, starts: bool) -> bool:
    if word.kind == SIGN:
        return word.text in _SIGNS
    is_small = word.low in SMALL and word.low not in _NO_SMALL
    return (
        word.kind == WORD and (is_small or (word.low in _OF_END and not starts)) and not _CHANGES.fullmatch(word.text)
    )


def _may_change(word: ReplyWord) -> bool:
    """Return whether a word behind "until" may be more than a cue: another key, a number, a condition."""
    return word.low in REACHING or word.low in _OR or _CHANGES.fullmatch(word.text) is not None


_OR: Final = folded_words("or oder ou o eller of albo lub nebo then dann puis luego poi sedan")
