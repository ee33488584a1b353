"""Which set starts when, and how long it is, by the words of a line; and which of these words nothing explains."""

from collections.abc import Callable, Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.reply_words import (
    CLOCK,
    NUMBER,
    ORDINALS,
    SIGN,
    ReplyWord,
    counted,
    low,
    phrase,
    set_of,
    words_of,
)
from companion.leader.time_words import (
    MINUTES,
    STARTING,
    TimeReading,
    evening,
    length_at,
    long_after,
    may_be_evening,
    spans,
    time_after,
    time_at,
)

A_DAY: Final = 24 * 60
# Words that mean nothing beside times of sets.
BESIDE_TIMES: Final = set_of(
    "set sets we we're were play playing on go at is are it's its the a an of for and will be start starts starting "
    "begin begins first second please so from until till to each sharp in our x then show stage us both all one long "
    "with gig tonight um uhr ab bis off kick kicks downbeat evening pm min mins minutes"
)
ABOUT: Final = set_of(
    "about around roughly ca approx ish circa back ongeveer ungefähr ungefahr environ verso sobre omkring"
)
BREAKS: Final = set_of("break breaks interval intervals pause between pausen pauses")
LISTING: Final = (",", "and", "&", "/", "+", "then")


_LISTED: Final = set_of("sets lengths length langen dauer durees duraciones durate lengtes speltijden langder")
_PLAYING: Final = set_of("play do playing doing")


class SetTime(NamedTuple):
    """When a set starts (minutes since midnight), or how long it is, by the words of a line."""

    set_at: int
    starts_min: int | None
    minutes: int | None


class SetTimes(NamedTuple):
    """The times of sets that a line states, and its words that nothing explains.

    ``doubt``: why the times are uncertain although all words are explained. ``has_others``: whether the line also has
    times of other things, such as the doors. ``of_night``: why a length from a start to an end may be no set's.
    """

    times: tuple[SetTime, ...] = ()
    left: str = ""
    doubt: str = ""
    has_others: bool = False
    of_night: str = ""


def set_times(line: str, sets: int, numbered: Callable[[int], int | None]) -> SetTimes:
    """Return the times of sets that a line without songs states; none if it leaves a doubt which set is meant.

    ``numbered``: the place of the set with a number, or None.
    """
    reader = _SetTimeReader(words_of(line), sets, numbered)
    found = tuple(dict.fromkeys(reader.times()))
    return SetTimes() if reader.is_lost else SetTimes(found, reader.left())


class _SetTimeReader:
    """Reads the times of a line, and notes which words it has used."""

    def __init__(self, words: Sequence[ReplyWord], sets: int, numbered: Callable[[int], int | None]) -> None:
        self._words = words
        self._sets = sets
        self._numbered = numbered
        self._used: set[int] = set()
        self.is_lost = False  # whether it names a set that is not there

    def times(self) -> Iterator[SetTime]:
        """Yield what each set's times are."""
        words, sets = self._words, self._sets
        self._use_breaks()
        lengths = self._lengths_named() or self._lengths_listed()
        if lengths:
            yield from (SetTime(at, None, minutes) for at, minutes in lengths)
        elif (each := self._each()) is not None:
            yield from (SetTime(at, None, each) for at in range(sets))
        found = [one for one in spans(words) if one.is_clear or may_be_evening(words, one.starts)]
        named = [which for _, _, which in _sets_named(words)]
        is_one = len(found) == len(named) == 1
        plays = any(word.low in _PLAYING or word.low == "music" for word in words)
        if (
            is_one
            or len(found) == sets
            or (plays and 1 < len(found) < sets)
            or (found and "set" in {word.low for word in words})
        ):
            for at, end, _ in _sets_named(words):
                self._use(at, end)
            for at, span in enumerate(found):
                self._use(span.at, span.end)
                before = self._set_before(span.at)
                place = self._set(named[0]) if is_one else at if before is None else self._set(before)
                self.is_lost = self.is_lost or place >= sets
                yield SetTime(place, span.starts, (span.ends - span.starts) % A_DAY)
            return
        listed = tuple(self._starts_listed())
        yield from listed
        if not listed:
            yield from self._after_ordinals()
            yield from self._after_start(named)

    def _set_before(self, at: int) -> int | None:
        """Return the number of the set that is named right before a time: second 10.30, set 2 from 9."""
        at -= 1
        while at > 0 and low(self._words, at) in ("set", ":", "-", "from", "is", "at", "goes", "on", "the"):
            at -= 1
        word = self._words[at] if at >= 0 else None
        if word is None:
            return None
        if word.low in ORDINALS or word.is_ordinal:
            return ORDINALS.get(word.low) or int(word.text)
        number = counted(list(self._words), at)
        return number[0] if number and low(self._words, at - 1) == "set" else None

    def left(self) -> str:
        """Return the words that neither tell a time nor mean nothing beside one."""
        rest = [
            word.text
            for at, word in enumerate(self._words)
            if (at not in self._used or word.low in ABOUT)
            and word.kind != SIGN
            and word.low not in BESIDE_TIMES
            and not self._counts_sets(at)
        ]
        return " ".join(rest)

    def _counts_sets(self, at: int) -> bool:
        """Return whether a word is the "two" of "two sets"."""
        number = counted(list(self._words), at)
        follows = low(self._words, at + number[1]) if number else ""
        return number is not None and number[0] == self._sets and follows in ("set", "sets")

    def _use(self, at: int, end: int) -> None:
        self._used |= set(range(at, end))

    def _set(self, number: int) -> int:
        place = self._numbered(number)
        self.is_lost = self.is_lost or place is None or place >= self._sets
        return place or 0

    def _lengths_named(self) -> list[tuple[int, int]]:
        """Read a length for several sets by their numbers: set 1 60, set 2 75 mins."""
        lengths = [
            (at, which, long)
            for at, end, which in _sets_named(self._words)
            if (long := _long_at(self._words, end)) is not None
        ]
        if len(lengths) < 2 or not any(self._says_minutes(long) for _, _, long in lengths):
            return []
        for at, _, long in lengths:
            self._use(at, long.end)
        return [(self._set(which), long.minutes) for _, which, long in lengths]

    def _lengths_listed(self) -> list[tuple[int, int]]:
        """Read as many lengths as there are sets: sets 60, 60 and 75 mins; 45 min + 60 min."""
        words = self._words
        for at in range(len(words)):
            is_named = words[at].low in _LISTED or (words[at].low in _PLAYING and words[at - 1].low == "we")
            if not (is_named or words[at].kind == NUMBER) or (at and words[at - 1].kind == NUMBER):
                continue
            lengths: list[TimeReading] = []
            end = at + is_named
            while (long := _long_at(words, end)) is not None:
                lengths.append(long)
                end = long.end
                while low(words, end) in LISTING:
                    end += 1
            is_said = is_named or any(map(self._says_minutes, lengths))
            if len(lengths) == self._sets > 1 and is_said:
                self._use(at, lengths[-1].end)
                return [(place, one.minutes) for place, one in enumerate(lengths)]
        return []

    def _use_breaks(self) -> None:
        """Skip how long the breaks are: 20 min break."""
        for at in range(len(self._words)):
            long = length_at(self._words, at)
            end = long.end + (low(self._words, long.end) in ("a", "of", "for")) if long else at
            if long and low(self._words, end) in BREAKS:
                self._use(at, end + 1)
            elif long and (
                low(self._words, at - 1) in BREAKS
                or (low(self._words, at - 1) in ("of", "is", ":") and low(self._words, at - 2) in BREAKS)
            ):
                self._use(at, long.end)  # interval 25 min

    def _says_minutes(self, long: TimeReading) -> bool:
        return low(self._words, long.end - 1) in (*MINUTES, "hour", "half", "quarter")

    def _each(self) -> int | None:
        """Read how long each set is: 2 x 45, two sets of an hour, sets are 50 minutes each, 50 minutes each."""
        words = self._words
        for at in range(len(words)):
            if low(words, at) == "sets":
                long = length_at(words, at + 1 + phrase(words, at + 1, "are", "of", ":", "will be", "each", "at"))
                if long and (self._says_minutes(long) or low(words, long.end) == "each"):
                    return self._used_length(at, long)  # sets are an hour each
            if (long := length_at(words, at)) and "each" in (low(words, long.end), low(words, long.end - 1)):
                return self._used_length(at, long)
            number = counted(list(words), at)
            if number is None or number[0] != self._sets or self._sets < 2:
                continue
            after = at + number[1]
            if (long := length_at(words, after)) and low(words, long.end) in ("set", "sets"):
                return self._used_length(at, long)  # two 45 minute sets
            after += phrase(
                words, after, "x", "×", "*", "sets of", "set of", "times", "lots of", "sets at", "sets each", "sets ,"
            )
            if after > at + number[1] and (long := length_at(words, after)):
                return self._used_length(at, long)
        return None

    def _used_length(self, at: int, long: TimeReading) -> int:
        self._use(at, long.end)
        return long.minutes

    def _starts_listed(self) -> Iterator[SetTime]:
        """Read a time for each set: sets at 8 and 9.30; we go on at 8 and again at 9.15."""
        words = self._words
        for at, word in enumerate(words):
            if word.low not in ("sets", *STARTING):
                continue
            end = at + 1
            while low(words, end) in ("at", "are", "start", "starting", ":"):
                end += 1
            times: list[TimeReading] = []
            while (time := time_at(words, end)) is not None:
                times.append(time)
                end = time.end
                while low(words, end) in ("and", ",", "&", "then", "again", "at"):
                    end += 1
            if len(times) == self._sets > 1:
                self._use(at, times[-1].end)
                yield from (SetTime(place, evening(one.minutes), None) for place, one in enumerate(times))
                return

    def _after_ordinals(self) -> Iterator[SetTime]:
        """Read a time after each set: first at half eight, second set 9.30, an hour."""
        words = self._words
        for at, word in enumerate(words):
            which = ORDINALS.get(word.low) or (int(word.text) if word.is_ordinal else None)
            after = at + 1 + (low(words, at + 1) in ("set", "one"))
            after += phrase(words, after, "is", "starts", "start", "begins", ":", "kicks off")
            before = _long_at(words, after) if which else None
            if which and before and self._says_minutes(before) and (time := time_after(words, before.end)):
                self._use(at, time.end)
                yield SetTime(self._set(which), evening(time.minutes), before.minutes)  # is 40 minutes from 8
            elif which and (time := time_after(words, after)):
                long = long_after(words, time.end)
                self._use(at, long.end if long else time.end)
                yield SetTime(self._set(which), evening(time.minutes), long.minutes if long else None)

    def _after_start(self, named: Sequence[int]) -> Iterator[SetTime]:
        """Read when the first set starts: we start at 8."""
        words = self._words
        start = next((at for at, word in enumerate(words) if word.low in STARTING), None)
        if (
            start is None
            or 1 in named
            or not (start < 3 or low(words, start - 1) in ("we", ",", ".", "and") or words[start - 1].kind == CLOCK)
        ):
            return
        begins = start + 1 + phrase(words, start + 1, "off", "stage")
        is_clock = words[start - 1].kind == CLOCK or words[start].low not in ("on", "play")  # 7 on ne la fait plus
        times = (time_at(words, at) for at in range(start) if is_clock)
        before = next((one for one in times if one and one.end == start), None)
        if time := (time_after(words, begins) or before):
            self._use(start - 2 * (time is before), max(time.end, start + 1))
            before_start = self._set_before(start)  # set 2 starts at midnight
            yield SetTime(0 if before_start is None else self._set(before_start), evening(time.minutes), None)


def _sets_named(words: Sequence[ReplyWord]) -> Iterator[tuple[int, int, int]]:
    """Yield the sets that a line names: (the first word, the end, the set's number)."""
    says_set = any(word.low == "set" for word in words)
    for at, word in enumerate(words):
        if says_set and word.low in ORDINALS and low(words, at + 1) != "set" and _long_at(words, at + 1):
            yield at, at + 1, ORDINALS[word.low]  # first set 40, second an hour
        if word.low != "set":
            continue
        before = int(words[at - 1].text) if at and words[at - 1].is_ordinal else ORDINALS.get(low(words, at - 1))
        number = counted(list(words), at + 1) if at + 1 < len(words) else None
        if before:
            yield at - 1, at + 1, before
        elif number:
            yield at, at + 1 + number[1], number[0]


def _long_at(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read a length after "is", "are" or a colon; a time of day is none."""
    while low(words, at) in ("is", "are", "of", ":", "=", "-", "will", "be", "for"):
        at += 1
    long = length_at(words, at) if at < len(words) else None
    if long is None or words[long.end - 1].low == "each":
        return None
    return long if low(words, long.end) not in ("pm", "oclock", "songs", "each", *BREAKS) else None
