"""Times of sets in lines whose every word is explained: "Block 1 um 19 Uhr, 40 Minuten", "Sets A at 18:00, B at 20:00".

A line with any other word is left to the reader of single phrases, which may doubt it.
"""

import re
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.event_words import FILLING
from companion.leader.lengths_told_again import NEXT_AT_ONCE, length_again
from companion.leader.numbers_meant import is_in_key
from companion.leader.reply_words import (
    CLOCK,
    NUMBER,
    SIGN,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    phrases,
    set_of,
)
from companion.leader.set_names import SetNames
from companion.leader.time_words import (
    LENGTHS,
    MINUTE_WORDS,
    NAMED_TIMES,
    NOON,
    OF_MORNING,
    figures_at,
    hours_and_minutes,
    lasting_said,
    length_at,
    time_at,
)
from companion.leader.times_of_sets import A_DAY, ABOUT, SetTime, SetTimes

LONGEST: Final = 5 * 60  # minutes of one set; more is a night (common practice, no source)
SHORTEST: Final = 10
# Without "am", these hours of a show's first or only set may be of the morning or of the evening.
MORNING: Final = range(9 * 60, NOON)
WHICH_HALF: Final = "in the morning or in the evening?"
OUT_OF_ORDER: Final = "the sets are not in that order"
UNNAMED: Final = "set 1"  # of a show without sets: its start has no place in the file
LATE_MORNING: Final = 10 * 60
FROM: Final = set_of(
    "ore od orario v ve den van von as at from o @ um ab a à alle las les kl klokken klockan om vanaf dalle des "
    "starting starts start begins commences commence opens beginning beginnt commencing"
)
UP_TO: Final = set_of(
    "till til until to bis - – — jusqua jusqu'à jusquà hasta fino tot finish finishes ends ending end"
)
EACH: Final = phrases(
    "telkens | chaque fois | beide sets | beide | jeder set | jedes set | jede runde | jeder block | chaque set | "
    "ogni set | cada pase | varje set | hvert saet | elke set | each | each set | per set | apiece | both | all | "
    "all of them | jeweils | je | chacun | chacune | cada uno | cada una | hver | vardera | ciascuno | elk | "
    "per stuk | both sets | each of them | for each | every set"
)
# What a night has beside its sets; their times are kept for the player.
OTHERS: Final = phrases(
    "doors | doors open | doors at | soundcheck | sound check | load in | load - in | get in | get - in | curfew | "
    "arrival | arrive | call | band call | pit call | call time | meet | rehearsal | rehearse | practice | mass | "
    "ceremony | speeches | quiz | buffet | first dance | vows | cake | meal | the meal | dinner | toast | raffle | "
    "bingo | carriages | fireworks | tea | lunch | be there | set up | einlass | aufbau | opbouw"
)
SHOW_STARTS: Final = phrases(
    "on at | on stage | on stage at | stage time | we go on | we go on at | curtain | curtain up | kick off | "
    "kickoff | kick - off | commence | commencing | we commence | downbeat | show starts | gig starts | music starts | "
    "we start | we kick off | we begin | start time | vi starter | vi begynder | vi borjar | wir beginnen | "
    "wir starten | on commence | empezamos | comecamos | wir fangen | wir fangen um | vi spelar | vi spiller | "
    "we spelen | si suona | si comincia | on joue | tocamos | wir spielen | hrajeme | jatszunk | gramy | iniziamo | "
    "we beginnen | showtime | beginn ist | beginn | on en commence"
)
# "It starts", where no set is named before: sat 2 january, starts 7.30pm.
IT_STARTS: Final = set_of("starts start starting beginnt commence empieza comienza inizia comincia borjar begint")
BREAKS: Final = set_of("paus pauza pausa przerwa break breaks interval pause entracte pausen pauses descanso")


class TimeToken(NamedTuple):
    """What some words of a line are, and where they end: sets, a start, a span, a length, or "each"."""

    end: int
    sets: tuple[int, ...] = ()
    starts: int | None = None
    minutes: int | None = None
    is_each: bool = False
    is_sure: bool = True  # whether a time tells the morning from the evening
    is_list: bool = False  # "sets" alone, before as many times as there are sets
    is_assumed: bool = False  # whether the first set is meant because none is named: starts 20:30


def may_be_morning(place: int, starts: int, sets: int) -> bool:
    """Return whether an evening hour that was said without "pm" may be one of the morning: the first set, from 10."""
    return place == 0 and starts - NOON in MORNING and (sets == 1 or starts - NOON >= LATE_MORNING)


def clear_times(words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int] = frozenset()) -> SetTimes | None:
    """Return the times of sets that a line states; None if any of its words is not explained.

    ``skip``: places of words that are read elsewhere, such as the date.
    """
    reader = _ClearLine(words, names, skip)
    tokens = list(reader.tokens())
    if reader.is_unclear or not (reader.has_clock or any(one.minutes is not None for one in tokens)):
        return None
    is_alone = len(names) == 1 and not any(one.sets for one in tokens)  # it may be when to arrive
    assigned = _assigned(tokens, len(names))
    if not assigned or (is_alone and (not skip or names.names[0] == UNNAMED)):
        return None
    times = _settled(assigned, names)
    doubt = times.doubt or (" ".join(word.text for word in words) if reader.is_about or is_alone else "")
    return times._replace(doubt=doubt, has_others=reader.has_other)


_KEY: Final = re.compile(r"[A-G][b#♭♯]?m?$")


class _ClearLine:
    """Reads the words of a line one after the other."""

    def __init__(self, words: Sequence[ReplyWord], names: SetNames, skip: frozenset[int]) -> None:
        self._words = words
        self._names = names
        self._skip = skip
        self._place = 0  # the set that was named last
        self._long: int | None = None  # how long the set before is
        self.is_unclear = self.has_clock = self.has_other = self.is_about = False

    def tokens(self) -> Iterator[TimeToken]:
        at = 0
        last: TimeToken | None = None
        while at < len(self._words) and not self.is_unclear:
            if at in self._skip:
                at += 1
                continue
            if self._words[at].is_ordinal and low(self._words, at - 1) == "the":
                self.has_other, at = True, at + 1  # on the 23rd
                continue
            if self._names.meant(self._words, at) is None and (end := self._other_time(at)):
                self.has_other, at = True, end
                continue
            if (found := self._token(at, last)) is not None:
                yield found
                self._long = found.minutes or self._long
                last, at = found, found.end
            elif self._words[at].low in ABOUT:
                self.is_about, at = True, at + 1
            elif many := phrase_of(self._words, at, NEXT_AT_ONCE):
                at += many
            elif self._words[at].kind == SIGN or (
                self._words[at].low in FILLING | FROM and not is_in_key(self._words, at)
            ):
                at += 1
            else:
                self.is_unclear = True

    def _token(self, at: int, last: TimeToken | None) -> TimeToken | None:
        words = self._words
        is_length = last is not None and last.minutes is not None and last.starts is None and last.end == at
        if is_length and (many := phrase_of(words, at, EACH)) and words[at].low not in ("beide", "both", "all"):
            return TimeToken(at + many, is_each=True)  # we start at 7, 50 minutes each set
        if (sets := self._sets(at, last)) is not None:
            self._place = sets.sets[0] if sets.sets else self._place
            return sets
        if low(words, at) == "again" and self._place + 1 < len(self._names) and self._may_begin_time(at + 1):
            self._place += 1
            return TimeToken(at + 1, sets=(self._place,))  # on at 8, then again at 10
        if many := phrase_of(words, at, EACH):
            return TimeToken(at + many, is_each=True)
        if lasting := lasting_said(words, at):
            return TimeToken(lasting[1], minutes=lasting[0])
        again = length_again(words, at, self._long) if last is not None and last.sets else None
        if long := self._length(at) or again:
            return TimeToken(long[1], minutes=long[0])
        is_after_set = last is not None and bool(last.sets or last.is_list)
        is_asked = low(words, at - 1) in FROM or is_after_set or (last is not None and last.starts is not None)
        if (time := self._time(at, is_asked=is_asked)) is None:
            return None
        starts, end, is_sure = time
        before = low(words, at - 2) if low(words, at - 1) == "." else low(words, at - 1)
        is_bare = words[at].kind == NUMBER and before not in FROM and last is not None and bool(last.sets)
        if is_bare and end < len(words) and _KEY.match(words[end].text):
            return None  # encore 2 A
        if is_bare and not any(word.kind == CLOCK for word in words) and low(words, end) not in UP_TO:
            self.is_about = True  # set 2 9
        end += low(words, end) == "sharp"
        end += low(words, end) == "," and low(words, end + 1) in UP_TO - {"-", "–", "—"}
        is_italian = low(words, end) == "alle" and low(words, at - 1) in ("dalle", "dale")
        if (low(words, end) in UP_TO or is_italian) and (second := self._time(end + 1, is_asked=True)):
            self.has_clock = True
            later = second[0] if second[0] > starts or second[2] else second[0] + NOON
            lasts = (later - starts) % A_DAY
            lasts -= NOON if lasts > NOON else 0  # 11 till half 12
            return TimeToken(second[1], starts=starts, minutes=lasts, is_sure=is_sure)
        self.has_clock = True
        return TimeToken(end, starts=starts, is_sure=is_sure)

    def _sets(self, at: int, last: TimeToken | None) -> TimeToken | None:
        words, names = self._words, self._names
        if low(words, at) in ("sets", "set") and names.lettered(words, at + 1) is not None:
            at += 1
        place = names.lettered(words, at)
        if place is not None and (
            low(words, at + 1) in FROM | {":", "="} or {one.kind for one in words[at + 1 : at + 2]} == {CLOCK}
        ):
            return TimeToken(at + 1, sets=(place,))
        found = names.meant(words, at)
        if found is not None:
            self.is_unclear = self.is_unclear or bool(found.missing)
            return TimeToken(found.end, sets=found.places)
        is_first = last is None and (at == 0 or words[at - 1].kind == SIGN or at - 1 in self._skip)
        many = phrase_of(words, at, SHOW_STARTS) or (is_first and words[at].low in IT_STARTS)
        if many and self._may_begin_time(at + many):
            is_headed = last is not None and last.starts is None and names.heads(words, at)
            return TimeToken(at + many, sets=() if is_headed else (0,), is_assumed=not is_headed)
        is_behind = last is not None and last.starts is not None and names.ends_clause(words, at)
        is_behind = is_behind or length_again(words, at + 1, self._long) is not None
        if (is_behind or self._may_begin_time(at + 1)) and (bare := names.by_bare_ordinal(words, at)) is not None:
            return TimeToken(at + 1 + (low(words, at + 1) == "one"), sets=(bare,))
        if low(words, at) == "sets" and last is None:
            return TimeToken(at + 1, is_list=True)
        return None

    def _may_begin_time(self, at: int) -> bool:
        words = self._words
        while low(words, at) in FROM | {":", "is", "one"} or (low(words, at - 1), low(words, at)) == ("kl", "."):
            at += 1
        return at < len(self._words) and (
            self._words[at].kind == CLOCK or (figures_at(self._words, at) or time_at(self._words, at)) is not None
        )

    def _length(self, at: int) -> tuple[int, int] | None:
        """Read a length in minutes and its end: 40 Minuten, an hour, (45), 1 x 45."""
        words = self._words
        if hours := hours_and_minutes(words, at):
            return hours
        for text, minutes in LENGTHS.items():
            if many := phrase(words, at, text):
                return minutes, at + many
        if low(words, at) == "1" and low(words, at + 1) in ("x", "×", "*") and (long := length_at(words, at + 2)):
            return long.minutes, long.end + (low(words, long.end) in MINUTE_WORDS)
        number = counted(list(words), at)
        if number is None or number[0] > LONGEST:
            return None
        end = at + number[1]
        if low(words, end) in MINUTE_WORDS:
            return number[0], end + 1
        if number[0] < SHORTEST:
            return None
        in_brackets = low(words, at - 1) == "(" and low(words, end) == ")"
        is_long = in_brackets or low(words, at - 1) in ("for", "runs", "lasts", "lasting", "dure", "dura")
        return (number[0], end) if is_long and number[0] > 24 else None

    def _time(self, at: int, *, is_asked: bool) -> tuple[int, int, bool] | None:
        """Read a time of day: minutes after midnight, the end, whether it is sure to be of the evening or so."""
        words = self._words
        at += low(words, at) in ("a", "las", "les") and at + 1 < len(words)
        if at >= len(words) or (low(words, at) == "." and low(words, at - 1) == "kl"):
            at += 1
        time = (figures_at(words, at) if is_asked else None) or time_at(words, at)
        if time is None or not (is_asked or words[at].kind == CLOCK or _is_named(words, at, time.end)):
            return None
        minutes, end = time
        self.is_about = self.is_about or low(words, end - 1) == "ish"
        if low(words, end) in MINUTE_WORDS | {"x", "×"} or low(words, end - 1) in MINUTE_WORDS:
            return None
        text = " ".join(word.low for word in words[at:end])
        said = next((one for one in ("am", "pm") if one in text), "")
        half = low(words, end) if low(words, end) in ("am", "pm") else said
        if end < len(words) and words[end].text == "Am":
            return None  # the first song in A minor
        end += low(words, end) in ("am", "pm", "oclock", "uhr", "h", "hrs", "hours", "sharp")
        if half == "am":
            return minutes % NOON, end, True
        is_whole_day = text.startswith("0") or minutes >= NOON or minutes == 0
        if half == "pm":
            return (minutes + NOON if minutes < NOON else minutes), end, True
        return (minutes if is_whole_day else minutes + NOON), end, is_whole_day

    def _other_time(self, at: int) -> int:
        """Return the end of "doors 7", "load in from 16:00", "20 min break"; 0 elsewhere."""
        words = self._words
        if long := self._length(at):
            end = long[1] + (low(words, long[1]) in ("a", "of"))
            return end + 1 if low(words, end) in BREAKS else 0
        is_break = low(words, at) in BREAKS
        many = phrase_of(words, at, OTHERS) or is_break
        if not many:
            return 0
        end = at + many
        while low(words, end) in FROM | {":", "=", "of", "is", "by"}:
            end += 1
        if is_break:
            long = self._length(end)
            return long[1] if long else end
        time = self._time(end, is_asked=True) if end < len(words) else None
        return time[1] if time else end


def _is_named(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether a time is said as nothing else is: half eight, eight o'clock, 7 pm, midnight."""
    last = low(words, end - 1)
    return (
        low(words, at) in ("half", "quarter")
        or low(words, at) in NAMED_TIMES
        or last in ("oclock", "pm")
        or (low(words, end) in ("pm", "am", "oclock", "uhr"))
    )


def _assigned(tokens: Sequence[TimeToken], many: int) -> list[tuple[int, TimeToken]]:
    """Assign each time and length to its set; nothing if one could belong to two, or to none."""
    named = [one for one in tokens if one.sets]
    if len(named) > 1 and tokens[0].is_assumed and named[1:] == [tokens[-1]]:
        tokens, named = tokens[1:], named[1:]  # Starts 20:30 Finishes 23:00 (Party)
    facts = [one for one in tokens if one.starts is not None or one.minutes is not None]
    if not facts:
        return []
    if not named:
        return _without_sets(tokens, facts, many)
    found: list[tuple[int, TimeToken]] = []
    each = [at for at, one in enumerate(tokens) if one.is_each]
    sets_first = tokens.index(named[0]) < tokens.index(facts[0])
    about: TimeToken | None = None
    waiting: list[TimeToken] = []
    for at, one in enumerate(tokens):
        is_of_each = one.minutes is not None and one.starts is None and any(abs(at - place) == 1 for place in each)
        if one.sets:
            if not sets_first:
                found += [(place, fact) for fact in waiting for place in one.sets]
                waiting = []
            about = one
        elif one.is_each or one.is_list:
            continue
        elif is_of_each:
            everyone = sorted({place for said in named for place in said.sets})
            found += [(place, one) for place in (everyone if len(everyone) > 1 else range(many))]
        elif not sets_first:
            waiting.append(one)
        elif about is not None:
            if one.starts is not None and len(about.sets) > 1:
                return []
            found += [(place, one) for place in about.sets]
    return [] if waiting or _is_twice(found) else found


def _without_sets(tokens: Sequence[TimeToken], facts: Sequence[TimeToken], many: int) -> list[tuple[int, TimeToken]]:
    """Assign times in the order of the sets where there are as many: sets at 7, 8.15 and 9.30, 50 minutes each."""
    starts, lengths = [one for one in facts if one.starts is not None], [one for one in facts if one.starts is None]
    if many == len(facts) > 1 and all(one.starts is not None and one.minutes is not None for one in facts):
        return list(enumerate(facts))  # 7 to 8 and again 9.30 to 11
    is_listed = any(one.is_list for one in tokens)
    is_each = any(one.is_each for one in tokens)
    if many == len(starts) == 1 and len(lengths) < 2 and starts[0].minutes is None:
        return [(0, one) for one in facts]  # Sunday 4 October at 3 pm, where the show has one set
    if many < 2 or len(starts) not in (0, many) or len(lengths) > 1 or (lengths and not is_each):
        return []
    if not (is_listed if starts else is_each and lengths):
        return []
    return [*enumerate(starts), *((place, one) for one in lengths for place in range(many))]


def _is_twice(found: Sequence[tuple[int, TimeToken]]) -> bool:
    """Return whether a set has two starts or two lengths."""
    starts = [place for place, one in found if one.starts is not None]
    lengths = [place for place, one in found if one.minutes is not None]
    return len(starts) > len(set(starts)) or len(lengths) > len(set(lengths))


def _settled(found: Sequence[tuple[int, TimeToken]], names: SetNames) -> SetTimes:
    """Return the times by set, in doubt where the hour may be of the morning, or the sets are not in their order."""
    starts = {place: one for place, one in found if one.starts is not None}
    lengths = {place: one.minutes for place, one in found if one.minutes is not None}
    doubt = ""
    clock: dict[int, int] = {}
    latest = -1
    for place, one in sorted(starts.items()):
        minutes = one.starts or 0
        is_morning = not one.is_sure and minutes - NOON in MORNING
        if is_morning and (
            (names.is_by_day and place == 0) or any(word in OF_MORNING for word in names.names[place].split())
        ):
            minutes -= NOON
        elif is_morning and may_be_morning(place, minutes, len(names)):
            doubt = doubt or WHICH_HALF
            later = starts[1].starts if 1 in starts else None  # from 11 to 12, and from half past two
            minutes -= NOON if later is not None and minutes - NOON < later <= minutes else 0
        after_midnight = minutes < latest and minutes < 6 * 60
        if minutes <= latest and not after_midnight:
            doubt = doubt or OUT_OF_ORDER
        latest = max(latest, minutes + (A_DAY if after_midnight else 0))
        clock[place] = minutes
    if any(not SHORTEST <= (one or 0) <= LONGEST for one in lengths.values()):
        doubt = doubt or "is that the length of one set?"
    times = tuple(SetTime(place, clock.get(place), lengths.get(place)) for place in sorted({*clock, *lengths}))
    return SetTimes(times, "", doubt)
