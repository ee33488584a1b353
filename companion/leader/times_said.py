"""Times of a show as a leader says them: first at half eight, two sets of an hour each, 8.30 till 9.15, 2 x 45."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.reply_words import CLOCK, ORDINALS, ReplyWord, counted, low, phrase, words_of
from companion.setlist.parsing.cells import clock_cell

NOON: Final = 12 * 60
CLOCK_WORDS: Final = ("half", "quarter", "oclock", "pm", "uhr")
TO_TIME: Final = ("till", "til", "to", "until", "-", "–", "—", "bis")
STARTING: Final = ("start", "starts", "begin", "begins", "kick", "on", "play", "downbeat", "beginn", "starting")


class SetTime(NamedTuple):
    """When a set starts (minutes since midnight), or how long it is, by the words of a line."""

    set_at: int
    starts_min: int | None
    minutes: int | None


class _Time(NamedTuple):
    minutes: int
    end: int


def set_times(line: str, sets: int) -> tuple[SetTime, ...]:
    """Return the times of sets that a line without songs tells; none where it leaves a doubt which set is meant."""
    words = words_of(line)
    found = list(_told(words, sets))
    if any(one.set_at >= sets for one in found):
        return ()
    return tuple(dict.fromkeys(found))


def _told(words: Sequence[ReplyWord], sets: int) -> Iterator[SetTime]:
    each = _each(words, sets)
    if each is not None:
        yield from (SetTime(at, None, each) for at in range(sets))
    spans = [(one.starts, one.ends) for one in _spans(words) if one.is_clear or _may_be_evening(words, one.starts)]
    named = _named_sets(words)
    if len(spans) == len(named) == 1:
        yield SetTime(named[0], spans[0][0], (spans[0][1] - spans[0][0]) % (24 * 60))
        return
    if len(spans) == sets or (spans and "set" in {word.low for word in words}):
        for at, (starts, ends) in enumerate(spans):
            yield SetTime(at, starts, (ends - starts) % (24 * 60))
        return
    listed = tuple(_listed(words, sets))
    if listed:
        yield from listed
        return
    for at, word in enumerate(words):
        which = ORDINALS.get(word.low) or (int(word.text) if word.is_ordinal else None)
        after = at + 1 + (low(words, at + 1) in ("set", "one"))
        after += low(words, after) in ("is", "starts", "start", "begins", ":")
        if which and (time := _time_after(words, after)):
            yield SetTime(which - 1, evening(time.minutes), _long_after(words, time.end))
    start = next((at for at, word in enumerate(words) if word.low in STARTING), None)
    is_first = start is not None and (start < 3 or low(words, start - 1) in ("we", ",", ".", "and"))
    if start is not None and is_first and not _named_sets(words):
        begins = start + 1 + phrase(words, start + 1, "off", "stage")
        if time := _time_after(words, begins):
            yield SetTime(0, evening(time.minutes), None)


def _long_after(words: Sequence[ReplyWord], at: int) -> int | None:
    """Read how long a set is behind its start: 21.15 and it's an hour, 9.15 for 50 minutes."""
    begins = at
    while low(words, begins) in LASTING:
        begins += 1
    long = length_said(words, begins)
    is_said = long is not None and words[long.end - 1].low in ("hour", "half", "quarter", *MINUTES)
    return long.minutes if long and is_said and begins > at else None


LASTING: Final = (",", "and", "its", "it", "is", "for", "lasts", "lasting", "-", "about", "runs")
MINUTES: Final = ("min", "mins", "minute", "minutes", "each")


def _may_be_evening(words: Sequence[ReplyWord], starts: int) -> bool:
    """Return whether two plain numbers may be hours: "set 2 8 to 9" and "we play 8 to 9", not "1 to 4 are all D"."""
    said = {word.low for word in words}
    return FIRST_HOUR <= starts <= LAST_HOUR and bool(said & TIMED) and not said & {"are", "all"}


FIRST_HOUR: Final = NOON + 5 * 60  # a show in the afternoon is written with "pm" or minutes
LAST_HOUR: Final = NOON + 11 * 60
TIMED: Final = frozenset(["set", "sets", *STARTING, "playing", "plays", "tonight", "evening"])


def _time_after(words: Sequence[ReplyWord], at: int) -> _Time | None:
    """Read a time after "at", or one that is no other number: half eight, 8.30."""
    if low(words, at) in ("at", "from", "@", "around", "um"):
        return time_said(words, at + 1)
    is_time = at < len(words) and (words[at].kind == CLOCK or low(words, at) in ("half", "quarter"))
    return time_said(words, at) if is_time else None


def _named_sets(words: Sequence[ReplyWord]) -> list[int]:
    """Return the sets that a line names: set 1, second set."""
    found = []
    for at, word in enumerate(words):
        if word.low == "set":
            number = counted(list(words), at + 1) if at + 1 < len(words) else None
            before = ORDINALS.get(low(words, at - 1)) or (
                int(words[at - 1].text) if at and words[at - 1].is_ordinal else None
            )
            if before or number:
                found.append((before or (number[0] if number else 1)) - 1)
    return found


def _listed(words: Sequence[ReplyWord], sets: int) -> Iterator[SetTime]:
    """Read a time for each set: sets at 8 and 9.30; sets are 50 minutes each, start 8 and 9.15."""
    if "sets" not in {word.low for word in words}:
        return
    for at, word in enumerate(words):
        if word.low not in ("sets", *STARTING):
            continue
        begins = at + 1
        while low(words, begins) in ("at", "are", "start", "starting", ":"):
            begins += 1
        times: list[int] = []
        while (time := time_said(words, begins)) is not None:
            times.append(evening(time.minutes))
            begins = time.end + (low(words, time.end) in ("and", ",", "&", "then"))
        if len(times) == sets:
            yield from (SetTime(one, starts, None) for one, starts in enumerate(times))
            return


def _each(words: Sequence[ReplyWord], sets: int) -> int | None:
    """Read how long each set is: 2 x 45, two sets of an hour, sets are 50 minutes each."""
    for at in range(len(words)):
        if low(words, at) == "sets":
            long = length_said(words, at + 1 + phrase(words, at + 1, "are", "of", ":", "will be", "each", "at"))
            if long and (words[long.end - 1].low in MINUTES or low(words, long.end) == "each"):
                return long.minutes  # sets are an hour each
        number = counted(list(words), at)
        if number is None or number[0] != sets or sets < 2:
            continue
        after = at + number[1]
        if (long := length_said(words, after)) and low(words, long.end) in ("set", "sets"):
            return long.minutes  # two 45 minute sets
        after += phrase(
            words, after, "x", "×", "*", "sets of", "set of", "times", "lots of", "sets at", "sets each", "sets ,"
        )
        if after > at + number[1] and (long := length_said(words, after)):
            return long.minutes
    return None


class _Span(NamedTuple):
    """Two times; ``is_clear``: their words can be nothing else, as in 8.30 till 9.15."""

    starts: int
    ends: int
    is_clear: bool


def _spans(words: Sequence[ReplyWord]) -> Iterator[_Span]:
    """Yield times from and to: 8.30 till 9.15."""
    at = 0
    while at < len(words):
        first = time_said(words, at)
        if first and low(words, first.end) in TO_TIME and (second := time_said(words, first.end + 1)):
            is_clear = any(word.kind == CLOCK or word.low in CLOCK_WORDS for word in words[at : second.end])
            yield _Span(evening(first.minutes), evening(second.minutes), is_clear)
            at = second.end
        else:
            at += 1


def evening(minutes: int) -> int:
    """Return a time of a show: before noon it is of the evening, except in the small hours when a night ends."""
    return minutes + NOON if minutes < NOON else minutes


def time_said(words: Sequence[ReplyWord], at: int) -> _Time | None:
    """Read a time of day: 8.30, 8pm, half eight, quarter past nine, nine thirty, nine."""
    if at >= len(words):
        return None
    if words[at].kind == CLOCK:
        minutes = clock_cell(words[at].text)
        return _Time(minutes, at + 1) if minutes is not None else None
    if low(words, at) == "half" and (
        hour := counted(list(words), at + 1 + (low(words, at + 1) == "past"))
        if at + 1 + (low(words, at + 1) == "past") < len(words)
        else None
    ):
        return _Time(hour[0] * 60 + 30, at + 1 + (low(words, at + 1) == "past") + hour[1]) if hour[0] <= 12 else None
    if low(words, at) == "quarter" and low(words, at + 1) in ("past", "to") and at + 2 < len(words):
        hour = counted(list(words), at + 2)
        if hour and hour[0] <= 12:
            return _Time(hour[0] * 60 + (15 if low(words, at + 1) == "past" else -15), at + 2 + hour[1])
        return None
    hour = counted(list(words), at)
    if hour is None or not 1 <= hour[0] <= 24:
        return None
    end = at + hour[1]
    if end < len(words) and (rest := counted(list(words), end)) and rest[0] in (15, 20, 30, 40, 45):
        return _Time(hour[0] * 60 + rest[0], end + rest[1])
    if low(words, end) in ("min", "mins", "minutes", "sets", "songs", "x", "hours", "hour"):
        return None
    return _Time(hour[0] * 60, end + phrase(words, end, "oclock", "sharp", "ish", "pm"))


def length_said(words: Sequence[ReplyWord], at: int) -> _Time | None:
    """Read a length in minutes: 45, 45 min, an hour, an hour and a half, three quarters of an hour."""
    for said, minutes in LENGTHS.items():
        if many := phrase(words, at, said):
            return _Time(minutes, at + many)
    number = counted(list(words), at) if at < len(words) else None
    if number and 10 <= number[0] <= 240 and low(words, at + number[1]) not in ("pm", "songs"):
        end = at + number[1]
        return _Time(
            number[0], end + phrase(words, end, "min", "mins", "minute", "minutes", "minutes each", "each", "s")
        )
    return None


LENGTHS: Final = {
    "an hour and a half": 90,
    "an hour and a quarter": 75,
    "three quarters of an hour": 45,
    "half an hour": 30,
    "an hour": 60,
    "one hour": 60,
}
