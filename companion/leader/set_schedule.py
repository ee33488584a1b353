"""The times of the sets of a show as the clauses of a line tell them, one after the other."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.clear_times import MORNING, OUT_OF_ORDER, WHICH_HALF, may_be_morning
from companion.leader.clock_grammar import HALF_A_DAY, ClockReading
from companion.leader.length_grammar import LONGEST_SET, SHORTEST_SET
from companion.leader.set_names import SetNames
from companion.leader.time_words import OF_MORNING
from companion.leader.times_of_sets import A_DAY, SetTime

MAX_GAP: Final = 6 * 60  # minutes from one start to the next
SHORTEST_ALONE: Final = 10  # minutes of a set whose start is not given
MAX_SAID: Final = 600  # minutes that may be said of a set, if in error


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


class SetSchedule:
    """The times of the sets as clause after clause tells them."""

    def __init__(self, sets: int, now: int | None = None, *, has_begun: bool = False) -> None:
        self._sets = sets
        self._starts: dict[int, ClockReading] = {}
        self._lengths: dict[int, int] = {}
        self._ends: dict[int, ClockReading] = {}
        self._now = now  # the set being spoken of
        self._by_order = False  # whether times were given to sets in their order
        self._has_begun = has_begun  # whether a word said that something begins, or the line tells when the show is
        self._conflicts = False
        self._is_of_others = False  # whether the clause before names what has no time yet, such as the doors

    def add(self, clause: Sequence[TimeWord]) -> None:
        """Take the times of one clause."""
        kinds = [one.kind for one in clause]
        first_time = next((at for at, one in enumerate(clause) if one.kind in (START_AT, LONG)), len(clause))
        is_of_sets = bool({SET, BEGIN, NEXT, END} & {*kinds})
        if self._is_of_others and START_AT in kinds and not is_of_sets:
            self._is_of_others = False
            return  # rehearsal on the day, 3pm
        self._is_of_others = OTHER in kinds and not {START_AT, SET, NEXT} & {*kinds}
        is_before_other = OTHER in kinds[first_time:] and not is_of_sets  # 7 to set up
        if (
            BREAK in kinds
            or is_before_other
            or (OTHER in kinds[:first_time] and not {SET, BEGIN, NEXT} & {*kinds[:first_time]})
        ):
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
        if is_next and self._now is not None and self._now + 1 < self._sets and self._has_time(self._now):
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
                if self._now is None and not one.places and any(said.kind == START_AT for said in clause):
                    self._now, self._by_order = 0, True  # 45 from 8.30
                for place in one.places or several or (range(self._sets) if is_each else self._where()):
                    self._lengths.setdefault(place, one.minutes)
            elif one.kind == SAME and self._now is not None and self._lengths:
                self._lengths.setdefault(self._now, list(self._lengths.values())[-1])

    def _has_time(self, place: int) -> bool:
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
        tells_all = self._has_begun or self._sets == 1 or len(self._lengths) == self._sets  # 8.30, two sets of 40
        if self._by_order and not (len(self._starts) == self._sets or (len(self._starts) == 1 and tells_all)):
            return (), ""
        clock, doubt = self._by_evening(names)
        if self._by_order and doubt == OUT_OF_ORDER:
            return (), ""
        lengths = dict(self._lengths)
        for place, end in self._ends.items():
            if (begin := self._starts.get(place)) is None:
                continue
            is_sure = begin.is_sure and end.is_sure
            lengths.setdefault(place, (end.minutes - begin.minutes) % (A_DAY if is_sure else HALF_A_DAY))
        said = self._lengths  # a length that cannot be is in doubt with its start
        lengths = {at: long for at, long in lengths.items() if at in said or SHORTEST_SET <= long <= LONGEST_SET}
        lengths = {at: long for at, long in lengths.items() if at in clock or long >= SHORTEST_ALONE}
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
            doubt = OUT_OF_ORDER if minutes <= before else doubt
            before = max(before, minutes)
            clock[place] = minutes % A_DAY
        return clock, doubt
