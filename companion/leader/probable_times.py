"""Times of sets in a line of which not every word is explained: what they most likely mean, each with a doubt.

"Act One goes up at 7.30 and runs 65 minutes", "half nine, off at eleven, back on at half eleven till one". The line is
read from left to right: sets, starts, ends and lengths, in whatever words stand between them.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple, TypeVar

from companion.leader.clear_times import BREAKS, EACH, LONGEST, OTHERS, SHORTEST, SHOW_STARTS
from companion.leader.reply_words import (
    CLOCK,
    NUMBER,
    SIGN,
    ReplyWord,
    low,
    phrase_of,
    phrases,
    set_of,
)
from companion.leader.set_names import FOREIGN_ORDINALS, SetNames
from companion.leader.time_words import MINUTE_WORDS, NAMED_TIMES, NOON, OF_MORNING, evening, figures_at, time_at
from companion.leader.times_of_sets import SetTime, SetTimes
from companion.leader.timing_words import OF_CLOCKS, SAME_LENGTH, clock_at, length_of_time

OfSet = TypeVar("OfSet")
A_DAY: Final = 2 * NOON
# Words behind which a time is an end: "till eleven", "finish at 11", "off at ten".
UP_TO: Final = set_of(
    "- – — till til until to bis end ends ending a as à às alle ate hasta tot "
    "jusqua jusqu'a jusque fino do w fin fini finit termina acaba slutter slutar fertig ende while ad a's fins"
)
_BETWEEN_TO: Final = set_of("- – — to a as à às alle ao ad i e")  # these only right behind a time
_SMALL: Final = set_of("at um a as las les the o kl . : , the about around ca vers sobre gegen by for us we")
_NEXT: Final = phrases(
    "then | back on | back at | again | and then | puis | dann | danach | sen | sedan | poi | dopo | despues | luego | "
    "potem | pak | then back | afterwards | na de pauze | efter pausen | ensuite | depois | daarna | derefter"
)
_STARTS: Final = set_of(
    "start starts starting begin begins on beginnt beginnen start commence commencons empieza empezamos "
    "comeca comecamos inizia iniziamo borjar begynder starter startar zaczynamy gramy hrajeme begint spelen opens "
    "goes kicks up downbeat spielen tocamos suoniamo jouons spiller spelar"
)
ALIKE: Final = 4  # letters that a word for a set has in common with its name: dancing, of Dances


_OF_TIMES: Final = MINUTE_WORDS | OF_CLOCKS | NAMED_TIMES.keys()


class _Found(NamedTuple):
    """One thing that a line says of times: a ``kind`` and its value, in minutes or as the place of a set."""

    kind: str
    value: int = 0
    is_sure: bool = False  # whether a time tells the morning from the evening


SET, START, END, LONG, EACH_ONE, NEXT, SAME, BEGIN = "set", "start", "end", "long", "each", "next", "same", "begin"


def probable_times(words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int] = frozenset()) -> SetTimes:
    """Return what the times in a line most likely mean, in doubt; none if it names no time of day and no length.

    ``skip``: places of words that are read elsewhere, such as the date.
    """
    if not any(_is_of_time(words, at) for at in range(len(words))):
        return SetTimes()
    found = list(_found(words, names, skip))
    is_by_day = names.is_by_day or any(word in OF_MORNING for name in names.names for word in name.split())
    times = _Sets(len(names), found).times(is_by_day=is_by_day)
    text = " ".join(word.text for word in words)
    return SetTimes(tuple(times), "", text, has_others=True) if times else SetTimes()


def _found(words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int]) -> Iterator[_Found]:
    at = after = 0  # ``after``: where the last time ended
    last: _Found | None = None
    others = stops = -NEAR  # where the doors, or words such as "stop for tea", were named last
    while at < len(words):
        if at in skip:
            at += 1
            continue
        one, end = _at(words, at, names, behind=last if at - after <= 1 else None)
        if one is None:
            many = phrase_of(words, at, OTHERS)
            is_other = many > 0 and low(words, at + many) not in _OF_MUSIC
            is_other = is_other and not {low(words, at - 1), low(words, at - 2)} & _AROUND
            others = at if is_other else others
            stops = at if low(words, at) in _STOPS and low(words, at - 1) not in _STARTS else stops
            at += max(many, 1)
            others = -NEAR if low(words, at - 1) in (".", ";", ",") else others
            continue
        begins, at = at, end
        if one.kind == START and begins - stops < NEAR:
            one, stops = one._replace(kind=END), -NEAR
        elif one.kind in (START, END) and begins - others < NEAR:
            others = -NEAR
            continue
        if one.kind == LONG and (low(words, end) in BREAKS or low(words, end + 1) in BREAKS or _is_break(words, at)):
            continue
        others = -NEAR if one.kind in (SET, NEXT, BEGIN) else others
        after = end if one.kind in (START, SET) else after
        last = one
        yield one


def _is_of_time(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word speaks of nothing but times: 8.30, minutes, half, the 1745 of 1745-1830."""
    is_from = low(words, at + 1) in ("-", "–", "—") and figures_at(words, at) is not None
    return words[at].kind == CLOCK or words[at].low in _OF_TIMES or is_from


NEAR: Final = 5  # words between "stop" or "doors" and their time
_AROUND: Final = set_of("after before nach vor apres avant despues dopo efter na po")  # set 2 after the raffle
_OF_MUSIC: Final = set_of("music set jazz songs band playing show part half")
_STOPS: Final = set_of("stop stops off finish finishes out stopping finishing")


def _is_break(words: Sequence[ReplyWord], end: int) -> bool:
    return any(low(words, at) in BREAKS for at in range(max(0, end - 4), end))


def _at(words: Sequence[ReplyWord], at: int, names: SetNames, behind: _Found | None) -> tuple[_Found | None, int]:
    """Read what stands at a word. ``behind``: what was read last, right before it."""
    if (place := _half_at(words, at, names) or _set_at(words, at, names)) is not None:
        return _Found(SET, place[0]), place[1]
    if many := phrase_of(words, at, SAME_LENGTH):
        return _Found(SAME), at + many
    if long := length_of_time(words, at):
        return _Found(LONG, long.minutes), long.end
    if many := phrase_of(words, at, EACH):
        return _Found(EACH_ONE), at + many
    if low(words, at) in UP_TO and (low(words, at) not in _BETWEEN_TO or (behind and behind.kind == START)):
        begins = at + 1
        while low(words, begins) in _SMALL:
            begins += 1
        if time := clock_at(words, begins, may_be_bare=True):
            return _Found(END, time.minutes, time.is_sure), time.end
    may_be_bare = (behind is not None and behind.kind == SET) or low(words, at - 1) in _BEFORE_HOUR
    if time := clock_at(words, at, may_be_bare=may_be_bare):
        return _Found(START, time.minutes, time.is_sure), time.end
    if many := phrase_of(words, at, _NEXT):
        return _Found(NEXT), at + many
    if low(words, at) in _STARTS or phrase_of(words, at, SHOW_STARTS):
        return _Found(BEGIN), at + 1
    return None, at + 1


_BEFORE_HOUR: Final = set_of(
    "at from @ um ab von a las às à alle dalle kl od v om van fra fran från o de das dalle vers"
)


def _half_at(words: Sequence[ReplyWord], at: int, names: SetNames) -> tuple[int, int] | None:
    """Read the set of "first half nine o'clock" and "second half ten fifteen", whose half is no time."""
    place = names.by_bare_ordinal(words, at)
    if place is None or low(words, at + 1) != "half" or (time := time_at(words, at + 2)) is None:
        return None
    is_time = time.end > at + 3 or low(words, time.end) == "oclock" or low(words, time.end - 1) == "oclock"
    return (place, at + 2) if is_time or words[at + 2].kind == CLOCK else None


def _set_at(words: Sequence[ReplyWord], at: int, names: SetNames) -> tuple[int, int] | None:
    """Read a set: by any of its names, by an ordinal number alone, or by a word that begins as its name does."""
    meant = names.meant(words, at)
    if meant is not None and len(meant.places) == 1:
        return meant.places[0], meant.end
    if words[at].kind == NUMBER and low(words, at + 1) in (".", "a", "o", "ª", "º", ")") and len(words[at].text) == 1:
        place = names.numbered(int(words[at].text))
        follows = at + 2 < len(words) and words[at + 2].kind not in (NUMBER, SIGN, CLOCK)
        if place is not None and follows and low(words, at + 2) not in ("januar", "jan", "dez", "dec"):
            return place, at + 2
    which = names.by_bare_ordinal(words, at) if words[at].low != "half" else None
    which = which if which is not None else names.numbered(_MORE_ORDINALS.get(words[at].low, 0))
    if which is not None:
        return which, at + 1
    said = words[at].low
    alike = [
        place
        for place, name in enumerate(names.names)
        if any(one == said or (len(said) >= ALIKE and one[:ALIKE] == said[:ALIKE]) for one in name.split())
    ]
    return (alike[0], at + 1) if len(alike) == 1 and len(said) > 2 and said not in _NO_SETS else None


_NO_SETS: Final = FOREIGN_ORDINALS.keys() | set_of("set sets half part block show act the and for evening night party")
_MORE_ORDINALS: Final = {
    word: number
    for number, words in enumerate(
        (
            "prvni pierwszy pierwsza pierwszego forsta forste primeira primer premiere erste ersti prva prvi",
            "druhy druha drugi druga drugiego andra andre anden segunda segon deuxieme zweite zwoate zweiti toinen",
            "treti trzeci trzecia tredje terceira tercer troisieme dritte tretji kolmas",
        ),
        start=1,
    )
    for word in words.split()
}


class _Sets:
    """Shares out among the sets what a line says of times."""

    def __init__(self, many: int, found: Sequence[_Found]) -> None:
        self._many = many
        self._found = found
        self._starts: dict[int, _Found] = {}
        self._ends: dict[int, _Found] = {}
        self._long: dict[int, int] = {}
        self._free: list[int] = []  # the entries that name no set, as places from the number of sets on

    def times(self, *, is_by_day: bool) -> list[SetTime]:
        """Return the times by set."""
        self._share()
        if not (self._starts or self._long) or max([-1, *self._starts, *self._long]) >= self._many:
            return []
        clock = self._clock(is_by_day=is_by_day)
        for place, end in self._ends.items():
            if place in clock and place not in self._long:
                long = (end.value - clock[place]) % NOON
                if SHORTEST <= long <= LONGEST:
                    self._long[place] = long
        return [SetTime(place, clock.get(place), self._long.get(place)) for place in sorted({*clock, *self._long})]

    def _clock(self, *, is_by_day: bool) -> dict[int, int]:
        """Return when each set starts: in the evening, unless it is after midnight, or before a set of the day."""
        clock: dict[int, int] = {}
        latest = -1
        for place, one in sorted(self._starts.items()):
            minutes = one.value if one.is_sure or (is_by_day and one.value >= 9 * 60) else evening(one.value)
            if minutes <= latest and one.value < 6 * 60:
                minutes = one.value + A_DAY  # after midnight
            latest = minutes
            clock[place] = minutes
        follows = 2 * A_DAY
        for place, one in sorted(self._starts.items(), reverse=True):
            if clock[place] > follows and not one.is_sure and 9 * 60 <= one.value < follows:
                clock[place] = one.value
            follows = clock[place]
        return {place: minutes % A_DAY for place, minutes in clock.items()}

    def _share(self) -> None:
        nameless: list[int] = []
        at: int | None = None  # the set being spoken of; a set without a name counts from ``_many`` on
        last: int | None = None  # the set before a word such as "then"
        begins = is_each = False
        for place, one in enumerate(self._found):
            behind = self._found[place + 1] if place + 1 < len(self._found) else None
            if one.kind == SET:
                at = one.value
            elif one.kind == NEXT:
                last, at = (at if at is not None else last), None
            elif one.kind in (BEGIN, EACH_ONE):
                begins, is_each = begins or one.kind == BEGIN, is_each or one.kind == EACH_ONE
                at = None if one.kind == EACH_ONE else at
            elif one.kind == START:
                if place == 0 and behind is not None and behind.kind == SET and self._begins_with_time():
                    at = behind.value  # 13:00 Ceremony
                elif at is None or at in self._starts:
                    at = self._many + len(nameless)
                    nameless.append(at)
                self._starts.setdefault(at, one)
            elif one.kind == END and at is not None:
                if at not in self._starts and self._ends:
                    self._starts[at] = list(self._ends.values())[-1]  # 8 to 8.45, then the jam till eleven
                self._ends.setdefault(at, one)
            elif one.kind == LONG:
                self._length(one.value, last + 1 if at is None and last is not None else at, is_each=is_each)
            elif one.kind == SAME and at is not None and self._long:
                self._long[at] = list(self._long.values())[-1]
        if is_each and len(set(self._long.values())) == 1:
            self._long = dict.fromkeys(range(self._many), next(iter(self._long.values())))
        self._name(nameless, [place for place in range(self._many) if place not in self._starts], begins=begins)

    def _begins_with_time(self) -> bool:
        """Return whether each set stands behind its time: "13:00 Ceremony, 15:00 Drinks"."""
        kinds = [one.kind for one in self._found if one.kind in (SET, START)]
        return kinds == [START, SET] * (len(kinds) // 2)

    def _length(self, minutes: int, at: int | None, *, is_each: bool) -> None:
        if is_each and at is None:
            self._long |= dict.fromkeys(range(self._many), minutes)
        elif at is not None:
            self._long.setdefault(at, minutes)
        elif self._many == 1:
            self._long[0] = minutes

    def _name(self, nameless: Sequence[int], free: Sequence[int], *, begins: bool) -> None:
        """Give starts without a set to the sets that are not named, where they are as many, or one opens the night."""
        is_list = len(nameless) == len(free) or (
            len(nameless) < len(free) and any(one < self._many for one in self._starts)
        )
        places = dict(zip(nameless, free, strict=False)) if is_list else {}
        if not places and len(nameless) == 1 and begins and free[:1] == [0]:
            places = {nameless[0]: 0}
        self._starts = _named(self._starts, places, self._many)
        self._ends = _named(self._ends, places, self._many)
        self._long = _named(self._long, places, self._many)


def _named(held: dict[int, OfSet], places: Mapping[int, int], many: int) -> dict[int, OfSet]:
    """Return values by their sets: those of one of ``places`` under its set, without those that have none."""
    kept = {place: value for place, value in held.items() if place < many}
    return {**{places[place]: value for place, value in held.items() if place in places}, **kept}
