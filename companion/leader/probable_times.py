"""Times of sets in a line of which not every word is explained: what a human would take from it, always in doubt."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.clock_grammar import ClockReading, TimedText, clock_at
from companion.leader.day_words import PLAIN_WEEKDAYS
from companion.leader.event_words import (
    AMONG,
    BEFORE_LENGTH,
    BREAKS_SAID,
    DENYING,
    EACH_SAID,
    ENDING,
    FROM_SAID,
    LIMITING,
    MOVED,
    NEXT_SET,
    OTHER_EVENTS,
    PARTING,
    PARTS_OF_SONG,
    PAST_SAID,
    SAME_LENGTH,
    STARTING_SAID,
    UNTIL,
    UP_TO_SAID,
)
from companion.leader.hour_words import folded_words
from companion.leader.length_grammar import LONGEST_SET, SHORTEST_SET, LengthReading, length_said
from companion.leader.probable_sets import SET_NOUNS, probable_set
from companion.leader.reply_words import NUMBER, SIGN, ReplyWord, counted, low, phrase, phrase_of
from companion.leader.set_names import SetNames
from companion.leader.set_schedule import (
    BEGIN,
    BREAK,
    END,
    LONG,
    NEXT,
    OTHER,
    PART,
    SAME,
    SET,
    START_AT,
    STRAY,
    UNTIL_AT,
    WHOLE,
    SetSchedule,
    TimeWord,
)
from companion.leader.times_of_sets import SetTimes

MAX_WORDS: Final = 120  # of a line; a longer one is no line of times
SHORTEST_ALONE: Final = 25  # minutes; a smaller plain number is no length


_PHRASES: Final = (
    (BREAK, BREAKS_SAID),
    (SAME, SAME_LENGTH),
    (WHOLE, EACH_SAID),
    (NEXT, NEXT_SET),
    (END, ENDING),
    (BEGIN, STARTING_SAID),
    (OTHER, OTHER_EVENTS),
)


def probable_times(
    words: Sequence[ReplyWord],
    names: SetNames,
    skip: frozenset[int] = frozenset(),
    facts: frozenset[int] = frozenset(),
    *,
    now: int | None = None,
    beside_songs: bool = False,
) -> SetTimes:
    """Return the times that a line probably tells, each in doubt; none if it names none that can be nothing else.

    ``skip``: places of words that are read elsewhere, such as the date. ``facts``: places of words that state facts of
    songs. ``now``: the set that the lines before are about. ``beside_songs``: read only clauses that name their set and
    state no such fact; otherwise a line with such a fact is none of times.
    """
    is_past = any(phrase_of(words, at, PAST_SAID) for at in range(len(words)))
    if len(words) > MAX_WORDS or not len(names) or is_past or any(word.low in PARTS_OF_SONG for word in words):
        return SetTimes()
    reader = _TimedLine(words, names, skip, now)
    said = list(reader.said())
    if not reader.is_firm:
        return SetTimes()
    clauses = list(_clauses(said))
    if beside_songs:
        clauses = [one for one in clauses if _names_set(one) and not _states(one, facts)]
    elif facts - {at for one in said if one.kind in (SET, START_AT, LONG) for at in range(one.at, one.end)}:
        return SetTimes()
    with_day = bool(skip) or any(word.low in PLAIN_WEEKDAYS for word in words)
    has_begun = now is None and not beside_songs and _is_of_show(said, with_day=with_day)
    schedule = SetSchedule(len(names), now, has_begun=has_begun)
    for clause in clauses:
        schedule.add(clause)
    times, doubt = schedule.settled(names)
    text = " ".join(word.text for word in words)
    return SetTimes(times, "", f"{text}; {doubt}" if doubt else text, has_others=True) if times else SetTimes()


def _is_of_show(said: Sequence[TimeWord], *, with_day: bool) -> bool:
    """Return whether words tell one time of the evening and no more, or also the day: Saturday 5 December, 20:00."""
    times = [one for one in said if one.kind == START_AT and one.clock is not None]
    if len(times) != 1 or any(one.kind not in (START_AT, PART, STRAY) for one in said):
        return False
    clock = times[0].clock
    hour = clock.minutes // 60 if clock is not None else 0
    is_evening = hour >= EVENING or (clock is not None and not clock.is_sure and hour >= EVENING - HALF_A_DAY)
    return is_evening and (with_day or all(one.kind != STRAY for one in said))


HALF_A_DAY: Final = 12
EVENING: Final = 17  # the hour of a day; a time before it may be that of the rehearsal


def _names_set(clause: Sequence[TimeWord]) -> bool:
    return any(one.kind == SET and one.is_named for one in clause)


def _states(clause: Sequence[TimeWord], facts: frozenset[int]) -> bool:
    """Return whether words of a clause that are no times and no sets state facts of songs."""
    told = {at for one in clause if one.kind in (START_AT, LONG, SET) for at in range(one.at, one.end)}
    return bool(facts & {*range(clause[0].at, clause[-1].end + 1)} - told)


class _TimedLine:
    """Reads what the words of a line are, one after the other."""

    def __init__(self, words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int], now: int | None) -> None:
        self._words = words
        self._line = TimedText(words)
        self._names = names
        self._skip = skip
        self._now = now
        self._is_moved = any(word.low in MOVED for word in words)
        self._asked_at = -1  # after a word such as "at"
        self._after = 0  # where the last start ended
        self.is_firm = False  # whether a time or a length is there that can be nothing else

    def said(self) -> Iterator[TimeWord]:
        at, last = 0, TimeWord(PART, 0)
        while at < len(self._words):
            one = self._word(at, last) if at not in self._skip else TimeWord(AMONG_WORDS, at + 1)
            one = one._replace(at=at)
            at = one.end
            self._after = at if one.kind == START_AT else self._after
            last = last if one.kind in (AMONG_WORDS, STRAY, PART) else one
            if one.kind != AMONG_WORDS:
                yield one

    def _word(self, at: int, last: TimeWord) -> TimeWord:
        words = self._words
        if (many := phrase_of(words, at, DENYING)) and (denied := self._clock(at + many, is_asked=True)):
            return TimeWord(AMONG_WORDS, denied.end)  # 8.15, not 7.45
        many = phrase_of(words, at, UNTIL) if last.kind != START_AT else 0
        if many and (end := self._clock(at + many, is_asked=True)):
            return TimeWord(UNTIL_AT, end.end, clock=end)
        after_from = self._asked_at == at
        is_old = self._is_moved and last.kind == START_AT and low(words, at) in _FROM
        if is_old and (old := self._clock(at + 1, is_asked=True)):
            return TimeWord(AMONG_WORDS, old.end)  # moved to 7.45 from 8.15
        is_named = self._names.meant(words, at) is not None
        if not is_named and (long := self._length(at, last, after_from=after_from)) is not None:
            self.is_firm = self.is_firm or long.end > at + 1 or words[at].kind != NUMBER
            places = tuple(range(len(self._names))) if self._of_each(at) else ()
            return TimeWord(LONG, long.end, minutes=long.minutes, places=places)
        if (found := self._start(at, last, after_from=after_from)) is not None:
            return found
        if (which := probable_set(words, at, self._names)) is not None and (which.is_named or self._tells(which.end)):
            return TimeWord(SET, which.end, is_named=which.is_named, places=which.places)
        for kind, phrases in _PHRASES:
            if many := phrase_of(words, at, phrases):
                return TimeWord(kind, at + many)
        if words[at].low in PARTING:
            return TimeWord(PART, at + 1)
        if many := phrase_of(words, at, FROM_SAID):
            self._asked_at = at + many
            return TimeWord(AMONG_WORDS, at + many)
        if words[at].kind == SIGN or words[at].low in AMONG:
            return TimeWord(AMONG_WORDS, at + 1)
        return TimeWord(STRAY, at + 1)

    def _tells(self, at: int) -> bool:
        """Return whether a time or a length follows in the clause."""
        for place in range(at, min(at + MAX_BEFORE_TIME, len(self._words))):
            if self._words[place].low in PARTING and place > at:
                return False
            if clock_at(self._line, place) or length_said(self._line, place) or self._words[place].kind == NUMBER:
                return True
            if phrase_of(self._words, place, FROM_SAID) and clock_at(self._line, place + 1, is_asked=True):
                return True
        return False

    def _length(self, at: int, last: TimeWord, *, after_from: bool) -> LengthReading | None:
        if (each := self._of_each(at)) is not None:
            return each
        before = low(self._words, at - 1)
        if before in LIMITING:
            return None  # nothing over 3 minutes
        is_asked = before in BEFORE_LENGTH or (last.kind == START_AT and not after_from)
        if (long := length_said(self._line, at, is_asked=is_asked, in_brackets=before == "(")) is not None:
            clock = clock_at(self._line, at, is_asked=after_from)
            is_clock = clock is not None and (clock.end > long.end or (after_from and clock.end == long.end))
            return None if is_clock and before not in BEFORE_LENGTH else long
        number = self._words[at]
        is_plain = number.kind == NUMBER and not number.is_ordinal and SHORTEST_ALONE <= int(number.text) <= LONGEST_SET
        follows = phrase_of(self._words, at + 1, EACH_SAID) > 0
        is_said = before in BEFORE_LENGTH or (last.kind == WHOLE and last.end == at) or follows
        is_said = is_said or low(self._words, at + 1) == "more" or self._is_from(at + 1)
        is_said = is_said or (last.kind == SET and last.end == at)  # the first 45
        return LengthReading(int(number.text), at + 1) if is_plain and is_said else None

    def _of_each(self, at: int) -> LengthReading | None:
        """Read how long each of the sets is: 2 x 45, two 45s, two forty-five minute sets."""
        number = counted(list(self._words), at)
        if number is None or not 1 < number[0] == len(self._names) or low(self._words, at - 1) in SET_NOUNS:
            return None
        begins = at + number[1]
        joins = phrase(
            self._words, begins, "x", "×", "*", "times", "sets of", "lots of", "sets at", "mal", "fois", "por"
        )
        begins += joins
        long = length_said(self._line, begins)
        plain = counted(list(self._words), begins) if begins < len(self._words) else None
        if long is None and plain is not None and plain[0] >= SHORTEST_ALONE:
            long = LengthReading(plain[0], begins + plain[1])
            is_said = joins > 0 or low(self._words, long.end) == "s"
        else:
            is_said = long is not None and (joins > 0 or low(self._words, long.end) in ("set", "sets"))
        if long is None or not is_said or not SHORTEST_SET <= long.minutes <= LONGEST_SET:
            return None
        return long._replace(end=long.end + (low(self._words, long.end) in ("s", "set", "sets")))

    def _is_second(self, at: int) -> bool:
        """Return whether a plain number is a second start: 8.15 and 10, 45 mins each."""
        is_joined = at > 1 and self._after == at - 1 and low(self._words, at - 1) in _ANDS
        ends = at + 1 >= len(self._words) or self._words[at + 1].kind == SIGN
        return is_joined and ends and self._words[at].kind == NUMBER

    def _is_from(self, at: int) -> bool:
        """Return whether "from" and a time follow: 45 from 8.30."""
        return low(self._words, at) in _FROM and clock_at(self._line, at + 1, is_asked=True) is not None

    def _clock(self, at: int, *, is_asked: bool) -> ClockReading | None:
        begins = at + (phrase_of(self._words, at, FROM_SAID) if is_asked else 0)
        begins += low(self._words, begins) == "." and low(self._words, begins - 1) in ("kl", "klo")
        return clock_at(self._line, begins, is_asked=is_asked)

    def _start(self, at: int, last: TimeWord, *, after_from: bool) -> TimeWord | None:
        """Read a time of day, or two of which the second is the end."""
        words = self._words
        if phrase_of(words, at, FROM_SAID) and clock_at(self._line, at, is_asked=False) is None:
            return None
        if (number := counted(list(words), at)) and low(words, at + number[1]) in SET_NOUNS:
            return None  # one set
        is_after = last.kind in (SET, BEGIN, END, NEXT) and last.end == at
        is_after = is_after or self._is_second(at) or (at == 0 and self._now is not None)
        clock = clock_at(self._line, at, is_asked=after_from or is_after)
        plain = clock or clock_at(self._line, at, is_asked=True)
        if plain is None or (at and words[at - 1].kind == NUMBER and words[at - 1].end == words[at].start):
            return None
        end = plain.end + (low(words, plain.end) == "," and phrase_of(words, plain.end + 1, UP_TO_SAID) > 0)
        up_to = phrase_of(words, end, UP_TO_SAID)
        if low(words, plain.end - 1).endswith("ig") and last.kind == START_AT:
            return TimeWord(UNTIL_AT, plain.end, clock=plain)  # Hungarian for "until"
        second = self._clock(end + up_to, is_asked=True) if up_to else None
        if second is not None and not (second.is_firm or clock is not None or plain.is_firm):
            second = None
        if (
            second is not None
            and length_said(self._line, end + up_to) is not None
            and low(words, end) in ("-", "–", "—")
        ):
            second = None  # quarter past 8 - 50 mins
        if clock is None and second is None:
            return None
        self.is_firm = (
            self.is_firm
            or plain.is_firm
            or len(words[at].text) == FIGURES
            or (second is not None and second.is_firm)
            or (after_from and last.kind == SET and last.is_named)
            or (after_from and low(words, at - 1) in _OCLOCK)
            or (at == 0 and self._now is not None)
        )
        if second is not None and self._is_moved and after_from:
            return TimeWord(START_AT, second.end, clock=second)  # moved from 8 to 8.30
        return TimeWord(START_AT, (second or plain).end, clock=plain, ends=second)


_FROM: Final = folded_words("from ab vanaf od fra från dès desde dalle")
_OCLOCK: Final = frozenset(("ore", "orario", "kl", "klo", "klockan", "klokken", "klokka"))
_ANDS: Final = frozenset(("and", "&", "und", "et", "y", "e", "en", "og", "och", "a", "i", "ja", "+"))
AMONG_WORDS: Final = "among"
MAX_BEFORE_TIME: Final = 6  # words from "second" to its time
FIGURES: Final = 4  # digits of 1745


def _clauses(said: Sequence[TimeWord]) -> Iterator[list[TimeWord]]:
    clause: list[TimeWord] = []
    for one in said:
        if one.kind in (PART, NEXT) and clause:
            yield clause
            clause = []
        if one.kind != PART:
            clause.append(one)
    if clause:
        yield clause
