"""Times of sets in a line of which not every word is explained: what a human would take from it, always in doubt."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.clear_times import MORNING, WHICH_HALF, may_be_morning
from companion.leader.clock_grammar import HALF_A_DAY, ClockReading, TimedText, clock_at
from companion.leader.event_words import (
    AMONG,
    BEFORE_LENGTH,
    BREAKS_SAID,
    DENYING,
    EACH_SAID,
    ENDING,
    FROM_SAID,
    NEXT_SET,
    OTHER_EVENTS,
    PARTING,
    SAME_LENGTH,
    STARTING_SAID,
    UNTIL,
    UP_TO_SAID,
)
from companion.leader.length_grammar import LONGEST_SET, SHORTEST_SET, LengthReading, length_said
from companion.leader.probable_sets import probable_set
from companion.leader.reply_words import NUMBER, SIGN, ReplyWord, low, phrase_of
from companion.leader.set_names import SetNames
from companion.leader.time_words import OF_MORNING
from companion.leader.times_of_sets import SetTime, SetTimes

A_DAY: Final = 2 * HALF_A_DAY
MAX_WORDS: Final = 120  # of a line; a longer one is no line of times
MAX_GAP: Final = 6 * 60  # minutes from one start to the next
MAX_SAID: Final = 600  # minutes that may be said of a set, if in error
SHORTEST_ALONE: Final = 25  # minutes; a smaller plain number is no length


class TimeWord(NamedTuple):
    """What the words of a line from ``at`` to ``end`` are: a kind of word, and its sets, time or length.

    ``is_named``: the set is said by its name, and not by an ordinal number alone.
    """

    kind: str
    end: int
    at: int = 0
    is_named: bool = False
    places: tuple[int, ...] = ()
    clock: ClockReading | None = None
    ends: ClockReading | None = None
    minutes: int | None = None


SET, START_AT, UNTIL_AT, LONG, WHOLE, SAME = "set", "clock", "until", "length", "each", "same"
OTHER, BREAK, NEXT, BEGIN, END, PART, STRAY = "other", "break", "next", "begin", "end", "part", "stray"
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
    if len(words) > MAX_WORDS or not len(names):
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
    schedule = _SetSchedule(len(names), now)
    for clause in clauses:
        schedule.add(clause)
    times, doubt = schedule.settled(names)
    text = " ".join(word.text for word in words)
    return SetTimes(times, "", f"{text}; {doubt}" if doubt else text, has_others=True) if times else SetTimes()


def _names_set(clause: Sequence[TimeWord]) -> bool:
    return any(one.kind == SET and one.is_named for one in clause)


def _states(clause: Sequence[TimeWord], facts: frozenset[int]) -> bool:
    return any(at in facts for one in clause for at in range(one.at, one.end) if one.kind not in (START_AT, LONG, SET))


class _TimedLine:
    """Reads what the words of a line are, one after the other."""

    def __init__(self, words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int], now: int | None) -> None:
        self._words = words
        self._line = TimedText(words)
        self._names = names
        self._skip = skip
        self._now = now
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
            last = last if one.kind in (AMONG_WORDS, STRAY) else one
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
        is_named = self._names.meant(words, at) is not None
        if not is_named and (long := self._length(at, last, after_from=after_from)) is not None:
            self.is_firm = self.is_firm or long.end > at + 1 or words[at].kind != NUMBER
            return TimeWord(LONG, long.end, minutes=long.minutes)
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
            if self._words[place].low in PARTING - {"is"} and place > at:
                return False
            if clock_at(self._line, place) or length_said(self._line, place) or self._words[place].kind == NUMBER:
                return True
            if phrase_of(self._words, place, FROM_SAID) and clock_at(self._line, place + 1, is_asked=True):
                return True
        return False

    def _length(self, at: int, last: TimeWord, *, after_from: bool) -> LengthReading | None:
        before = low(self._words, at - 1)
        is_asked = before == "(" or before in BEFORE_LENGTH or (last.kind == START_AT and not after_from)
        if (long := length_said(self._line, at, is_asked=is_asked)) is not None:
            clock = clock_at(self._line, at, is_asked=after_from)
            is_clock = clock is not None and (clock.end > long.end or (after_from and clock.end == long.end))
            return None if is_clock and before not in BEFORE_LENGTH else long
        number = self._words[at]
        is_plain = number.kind == NUMBER and not number.is_ordinal and SHORTEST_ALONE <= int(number.text) <= LONGEST_SET
        follows = phrase_of(self._words, at + 1, EACH_SAID) > 0
        is_said = before in BEFORE_LENGTH or (last.kind == WHOLE and last.end == at) or follows
        is_said = is_said or low(self._words, at + 1) == "more" or self._is_from(at + 1)
        return LengthReading(int(number.text), at + 1) if is_plain and is_said else None

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
        is_after = last.kind in (SET, BEGIN, END, NEXT) and last.end == at
        is_after = is_after or self._is_second(at) or (at == 0 and self._now is not None)
        clock = clock_at(self._line, at, is_asked=after_from or is_after)
        plain = clock or clock_at(self._line, at, is_asked=True)
        if plain is None or (at and words[at - 1].kind == NUMBER and words[at - 1].end == words[at].start):
            return None
        end = plain.end + (low(words, plain.end) == "," and phrase_of(words, plain.end + 1, UP_TO_SAID) > 0)
        up_to = phrase_of(words, end, UP_TO_SAID)
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
            or (at == 0 and self._now is not None)
        )
        return TimeWord(START_AT, (second or plain).end, clock=plain, ends=second)


_FROM: Final = ("from", "ab", "vanaf", "od", "fra", "från", "dès", "desde", "dalle")
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


class _SetSchedule:
    """The times of the sets as clause after clause tells them."""

    def __init__(self, sets: int, now: int | None = None) -> None:
        self._sets = sets
        self._starts: dict[int, ClockReading] = {}
        self._lengths: dict[int, int] = {}
        self._ends: dict[int, ClockReading] = {}
        self._now = now  # the set being spoken of
        self._by_order = False  # whether times were given to sets in their order
        self._has_begun = False  # whether a word said that something begins
        self._conflicts = False

    def add(self, clause: Sequence[TimeWord]) -> None:
        """Take the times of one clause."""
        kinds = [one.kind for one in clause]
        first_time = next((at for at, one in enumerate(clause) if one.kind in (START_AT, LONG)), len(clause))
        if BREAK in kinds or (OTHER in kinds[:first_time] and not {SET, BEGIN, NEXT} & {*kinds[:first_time]}):
            return
        named = [one for one in clause if one.kind == SET]
        starts = [one for one in clause if one.kind == START_AT]
        self._has_begun = self._has_begun or BEGIN in kinds
        if len(named) > 1 and len(named) == len(starts) and all(len(one.places) == 1 for one in named):
            for which, start in zip(named, starts, strict=True):
                self._starts_at(which.places[0], start)
            self._now = named[-1].places[0]
            return
        self._one_after_another(clause, is_single=len(named) == 1)

    def _one_after_another(self, clause: Sequence[TimeWord], *, is_single: bool) -> None:
        if is_single:
            places = next(one.places for one in clause if one.kind == SET)
            self._now = places[0] if len(places) == 1 else self._now
        several = next((one.places for one in clause if one.kind == SET and len(one.places) > 1), ())
        is_each = bool(several) or any(one.kind == WHOLE for one in clause)
        ends = False
        is_next = not is_single and any(one.kind == NEXT for one in clause)
        if is_next and self._now is not None and self._now + 1 < self._sets and self._is_told(self._now):
            self._now += 1
        for one in clause:
            ends = one.kind == END or (ends and one.kind != BEGIN)
            if one.kind == SET and len(one.places) == 1:
                self._now = one.places[0]
            elif one.kind == START_AT and ends and one.ends is None and one.clock is not None:
                if self._now is not None and self._now in self._starts:
                    self._ends.setdefault(self._now, one.clock)  # an end alone tells no length
            elif one.kind == UNTIL_AT and one.clock is not None and self._now is not None:
                if self._now not in self._starts and self._ends:
                    self._starts[self._now] = list(self._ends.values())[-1]  # 8 to 8.45, then the jam till eleven
                self._ends.setdefault(self._now, one.clock)
            elif one.kind == START_AT:
                begins = any(said.kind == BEGIN for said in clause)
                self._unnamed(one, is_set=is_single or is_next, begins=begins)
            elif one.kind == LONG and one.minutes is not None:
                if self._now is None and any(said.kind == START_AT for said in clause):
                    self._now, self._by_order = 0, True  # 45 from 8.30
                for place in several or (range(self._sets) if is_each else self._where()):
                    self._lengths.setdefault(place, one.minutes)
            elif one.kind == SAME and self._now is not None and self._lengths:
                self._lengths.setdefault(self._now, list(self._lengths.values())[-1])

    def _is_told(self, place: int) -> bool:
        return place in self._starts or place in self._lengths

    def _where(self) -> tuple[int, ...]:
        if self._now is None and self._sets == 1:
            return (0,)
        return (self._now,) if self._now is not None else ()

    def _unnamed(self, one: TimeWord, *, is_set: bool, begins: bool) -> None:
        """Take a start of the set that was named last, or of the next one where sets go by their order.

        ``begins``: a word says that something begins, as in "Ceremony is 2pm so your bit starts 1.45".
        """
        if self._now is None:
            self._now, self._by_order = 0, True
        elif self._now in self._starts and not is_set:
            if begins and not self._by_order:
                self._starts.pop(self._now)
            elif not self._by_order or self._now + 1 >= self._sets:
                self._conflicts = True
                return
            else:
                self._now += 1
        self._starts_at(self._now, one)

    def _starts_at(self, place: int, one: TimeWord) -> None:
        if one.clock is None or (place in self._starts and self._starts[place].minutes != one.clock.minutes):
            self._conflicts = True
            return
        self._starts[place] = one.clock
        if one.ends is not None:
            self._ends[place] = one.ends

    def settled(self, names: SetNames) -> tuple[tuple[SetTime, ...], str]:
        """Return the times by set, and why they are in doubt beyond the words; none if they cannot all be right."""
        if self._by_order and not (
            len(self._starts) == self._sets or (len(self._starts) == 1 and (self._has_begun or self._sets == 1))
        ):
            return (), ""
        clock, doubt = self._by_evening(names)
        lengths = dict(self._lengths)
        for place, end in self._ends.items():
            if (begin := self._starts.get(place)) is None:
                continue
            is_sure = begin.is_sure and end.is_sure
            lengths.setdefault(place, (end.minutes - begin.minutes) % (A_DAY if is_sure else HALF_A_DAY))
        said = self._lengths  # a length that cannot be is in doubt with its start
        lengths = {at: long for at, long in lengths.items() if at in said or SHORTEST_SET <= long <= LONGEST_SET}
        if any(long > MAX_SAID for long in lengths.values()):
            return (), ""
        found = tuple(SetTime(at, clock.get(at), lengths.get(at)) for at in sorted({*clock, *lengths}))
        return found, doubt or ("it names several times" if self._conflicts else "")

    def _by_evening(self, names: SetNames) -> tuple[dict[int, int], str]:
        """Return each start as minutes after midnight: of the evening, unless the sets say otherwise by their order."""
        clock: dict[int, int] = {}
        doubt, before = "", -1
        for place, said in sorted(self._starts.items()):
            minutes = said.minutes
            is_early = minutes in MORNING and (names.is_by_day or bool(OF_MORNING & {*" ".join(names.names).split()}))
            if not said.is_sure and not is_early:
                later = [
                    one for one in (minutes, minutes + HALF_A_DAY, minutes + A_DAY) if before < one <= before + MAX_GAP
                ]
                minutes = later[0] if before >= 0 and later else minutes + HALF_A_DAY
                doubt = doubt or (WHICH_HALF if may_be_morning(place, minutes, self._sets) else "")
            elif minutes < before and minutes + A_DAY - before <= MAX_GAP:
                minutes += A_DAY  # 23:30, then 0:30
            doubt = doubt or ("the sets are not in that order" if minutes <= before else "")
            before = max(before, minutes)
            clock[place] = minutes % A_DAY
        return clock, doubt
