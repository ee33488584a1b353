"""Which signs and small words part the pieces of a line, and which belong to what comes before them."""

from typing import Final

from companion.leader.numbers_meant import JOINS
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import NUMBER, ReplyWord, low, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import CORRECT, HEDGE, TurnOfPhrase

MAX_LOOK_BACK: Final = 30  # items of a sentence before a dot
MAX_IN_BRACKETS: Final = 60  # words
DASHES: Final = ("-", "–", "—")
SEPARATORS: Final = frozenset(";.!?…")
PIECES: Final = set_of(
    ", men maar mais pero ale and but & ( ) – — [ ] und et aber + · | • ... then so because cos since weil og och"
)


def parting_turn(
    words: list[ReplyWord], at: int, turn: TurnOfPhrase, before: list[ReplyItem]
) -> TurnOfPhrase | Separator:
    """Return a separator for signs and words that separate pieces; a dot after a song's number separates nothing."""
    text = words[at].low
    if turn.end > at + 1:
        return turn
    if text in SEPARATORS:
        after_number = text == "." and at > 0 and words[at - 1].kind == NUMBER and _is_address(words, at, before)
        if text == "?":
            return TurnOfPhrase(HEDGE, at + 1)
        return turn if after_number or (text == "." and _is_short(words, at)) else Separator(is_strong=True)
    if text == ")" and words[at - 1].kind == NUMBER and not _in_brackets(words, at):
        return turn
    last = before[-1].what if before else None
    is_after_song = isinstance(last, SongsMeant)
    if isinstance(last, SongsMeant) and text in DASHES and last.no_song and any(map(_is_fact, before[-MAX_NEAR:])):
        return Separator(is_strong=False)  # 8 - A - 140 - drums
    if text.startswith("..") and is_after_song:
        return turn  # Moth ...... Dbm
    if text in DASHES and is_after_song and (not states_fact(before) or _songs_first(before[-MAX_LOOK_BACK:])):
        return turn  # 1 – Bb 2 – G
    if text in DASHES and states_fact(before) and not is_tight(words, at, one_side=True):
        return Separator(is_strong=False)  # Bb for 8 – guitar starts 1
    if text == "/" and 0 < at < len(words) - 1:
        return Separator(is_strong=False, joins=is_tight(words, at))
    if text in PIECES and turn.kind != CORRECT:
        return Separator(is_strong=False, joins=text in JOINS)
    return turn


_AS: Final = set_of("as like wie comme come como som als jak kuten")
MAX_NEAR: Final = 6  # items before a number that is no song's


def _is_fact(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact | KeyFact)


def is_tight(words: list[ReplyWord], at: int, *, one_side: bool = False) -> bool:
    """Return whether no space is around a sign, or on one side of it: 5/6, not 5 G / 6 A."""
    before = at > 0 and words[at - 1].end == words[at].start
    after = at + 1 >= len(words) or words[at].end == words[at + 1].start
    return before or after if one_side else before and after


def dictated_sign(words: list[ReplyWord], at: int) -> int:
    """Return the end of a sign that is said in words, "comma" or, in a line that says commas, "full stop"; else 0."""
    if words[at].low == "comma":
        return at + 1
    is_stop = words[at].low == "full" and low(words, at + 1) == "stop"
    return at + 2 if is_stop and any(word.low == "comma" for word in words) else 0


def may_be_bars(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether "the last four" may be bars of the song that its sentence names."""
    preposition = low(words, at - 1 - (low(words, at - 1) == "the"))
    if low(words, at) not in ("first", "last") or preposition not in _DURING:
        return False
    sentence = reversed(before)
    for item in sentence:
        if isinstance(item.what, Separator) and item.what.is_strong:
            return False
        if isinstance(item.what, SongsMeant) and len(item.what.songs) == 1:
            return True
    return False


_DURING: Final = set_of("on over through during across in for after")


def ends_song(before: list[ReplyItem]) -> bool:
    """Return whether the clause so far says how a song ends."""
    for item in reversed(before[-MAX_LOOK_BACK:]):
        if isinstance(item.what, StatedFact):
            return item.what.field == "ending"
        if isinstance(item.what, SongsMeant | KeyFact):
            return False
    return False


def with_beat_doubted(words: list[ReplyWord], number: SongsMeant, before: list[ReplyItem]) -> SongsMeant:
    """Doubt a low number after an ending where another song stands before it: "6 Gm, cold on 3"."""
    at = number.at
    is_low = len(number.songs) == 1 and number.end == at + 1 and words[at].text in ("1", "2", "3", "4")
    is_last = at + 1 >= len(words) or words[at + 1].text in SEPARATORS
    has_other = any(isinstance(item.what, SongsMeant) for item in before[-MAX_LOOK_BACK:])
    if is_low and is_last and has_other and low(words, at - 1) == "on" and ends_song(before):
        return number._replace(doubt=number.doubt or f"{words[at].text} may be a beat")
    return number


def states_fact(before: list[ReplyItem]) -> bool:
    """Return whether the clause so far states a fact."""
    for item in reversed(before[-MAX_LOOK_BACK:]):
        if isinstance(item.what, StatedFact | KeyFact):
            return True
        if isinstance(item.what, Separator) and not item.what.joins:
            return False
    return False


def _in_brackets(words: list[ReplyWord], at: int) -> bool:
    """Return whether a bracket is open before a word: "(capo 1)", not "1)"."""
    begins = max(at - MAX_IN_BRACKETS, 0)
    said = [word.low for word in words[begins:at]]
    return said.count("(") > said.count(")") - sum(
        1 for index in range(begins + 1, at) if words[index].low == ")" and words[index - 1].kind == NUMBER
    )


def _is_address(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether a dot belongs to the number before it, as in 2. G, and ends no sentence: "G for 2. A for 3"."""
    if at + 1 >= len(words):
        return False
    if low(words, at - 2) == "," and words[at + 1].text[:1].islower() and low(words, at + 2) != ":":
        return True  # 3, 19. has a chart
    if low(words, at - 2) in ("set", "sets") and words[at + 1].text[:1].isupper() and len(words[at + 1].text) > 3:
        return False  # sometime in set 2. Baz says G
    if before and isinstance(before[-1].what, StatedFact):
        return False  # about 66. 3 crotchet = 92; 3 mins 20. Moth in G; capo 2. 7 G
    if before and isinstance(last := before[-1].what, SongsMeant) and last.no_song and len(words[at - 1].text) > 1:
        return False  # 1 fast, 232. 3 slow
    if low(words, at - 2) == "for" or low(words, at - 2) in _AS:
        return False  # and E for 8. 9 and 10: C; 16 same as 14. Moth in G
    before = before[-MAX_LOOK_BACK:]
    for place in range(len(before) - 2, -1, -1):
        what = before[place].what
        if isinstance(what, StatedFact | KeyFact):
            return _songs_first(before[: place + 1])
        if isinstance(what, Separator) and not what.joins:
            break
    return True


def _songs_first(items: list[ReplyItem]) -> bool:
    """Return whether the last piece of these items names a song before it states a fact."""
    first: object = None
    for item in reversed(items):
        if isinstance(item.what, Separator) and not item.what.joins:
            break
        if isinstance(item.what, SongsMeant | StatedFact | KeyFact):
            first = item.what
    return isinstance(first, SongsMeant)


def _is_short(words: list[ReplyWord], at: int) -> bool:
    """Return whether a dot ends a shortened word: no. 4, approx. 112."""
    return at > 0 and words[at - 1].low in ("no", "nr", "approx", "ca", "orig", "vs", "inc")
