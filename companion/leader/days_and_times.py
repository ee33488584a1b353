"""The day of the show and the times of its sets, as a line of a reply says them."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.clear_times import WHICH_HALF, clear_times, may_be_morning
from companion.leader.event_words import PARTS_OF_SONG
from companion.leader.places_said import TAKEN, is_place, place_claim, without_preposition
from companion.leader.probable_sets import SET_NOUNS
from companion.leader.probable_times import probable_times
from companion.leader.reply_dates import ANY_DAY, DayReading, day_in
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine
from companion.leader.reply_readings import NOWHERE, DayClaim, ReplyReading, TimeClaim, Unread, VenueClaim, in_doubt
from companion.leader.reply_words import CLOCK, ORDINALS
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.time_words import CLOCK_WORDS, NOON
from companion.leader.times_of_sets import SetTime, SetTimes, set_times

# What a night has beside its sets: "doors 7" is kept for the player, and changes no time of a set.
_OTHER_TIMES: Final = re.compile(
    r"\b(?:doors|sound ?check|load[- ]?in|get[- ]?in|curfew|bar)(?: opens?)?"
    r"(?: (?:[\d.:]{1,5}(?:am|pm)?|half|past|quarter))*",
    re.IGNORECASE,
)
_DAY_NAMED: Final = re.compile(r"^(?:the )?(?:date|day|datum)\b(?: is| ist|:|'s)?\s*", re.IGNORECASE)


def at_times(said: SetTimes, line: ScannedLine, place: str) -> Iterator[ReplyReading]:
    """Yield what a line about the times of sets says: the times, the day and the place."""
    days = [item for item in line.items if isinstance(item.what, DayReading)]
    if not said.left and (said.doubt or said.has_others):
        yield from _clear(said, line, days)
        if place:
            yield place_claim(place)
        return
    named = " ".join(line.said(item.at, item.end) for item in days)
    left = " ".join(word for word in said.left.split() if word not in named)
    others = _OTHER_TIMES.search(left)
    left = _OTHER_TIMES.sub("", left).strip()
    if left and days and is_place(left):
        yield VenueClaim(without_preposition(left), TAKEN)
        left = ""
    yield from _claims(said, left or said.doubt)
    for item in days:
        if isinstance(item.what, DayReading):
            claim = DayClaim(item.what, line.text)
            yield in_doubt(claim, left) if left else claim
    says_length = any(isinstance(item.what, StatedFact) and item.what.field == "minutes" for item in line.items)
    if left or others or (says_length and not any(one.minutes is not None for one in said.times)):
        yield Unread(NOWHERE, line.text)
    if place:
        yield place_claim(place)


def _clear(said: SetTimes, line: ScannedLine, days: Sequence[ReplyItem]) -> Iterator[ReplyReading]:
    """Yield the times of a line whose every word is explained, and its other times for the player."""
    yield from _claims(said, said.doubt)
    yield from (DayClaim(item.what, line.text) for item in days if isinstance(item.what, DayReading))
    if said.has_others:
        yield Unread(NOWHERE, line.text)


def _claims(said: SetTimes, doubt: str) -> Iterator[TimeClaim]:
    """Yield the times of a line; a length that may be that of the whole night has a doubt of its own."""
    for one in said.times:
        if said.of_night and one.minutes is not None and one.starts_min is not None:
            yield TimeClaim(one._replace(minutes=None), doubt)
            yield TimeClaim(one._replace(starts_min=None), doubt or said.of_night)
        else:
            yield TimeClaim(one, doubt)


def times_in(line: ScannedLine, names: SongNames, about: Sequence[int] = ()) -> SetTimes:
    """Return the times of sets that a line states, where it says more so than word by word, and nothing of songs.

    ``about``: the sets that the lines before are about.
    """
    said = _times_in(line, names, about)
    names_set = any(isinstance(item.what, SongsMeant) and item.what.sets for item in line.items)
    names_set = names_set or any(word.low in SET_NOUNS - _OTHER_NOUNS for word in line.words)
    is_long = any((one.minutes or 0) > LONG_SET for one in said.times)
    return said._replace(of_night=OF_NIGHT) if is_long and len(names.show.sets) == 1 and not names_set else said


_OTHER_NOUNS: Final = frozenset(["go", "one", "lot", "bit", "turn"])  # we go 7 to 10
LONG_SET: Final = 90  # minutes; from 7 to 10, where no set is named, may be a night with a break
OF_NIGHT: Final = "is that one set, or the night with a break?"


def _times_in(line: ScannedLine, names: SongNames, about: Sequence[int]) -> SetTimes:
    skip = _places_of_days(line)
    if (clear := clear_times(line.words, names.named_sets, skip)) is not None:
        return clear
    said = SetTimes() if _is_of_other_times(line) else _by_phrases(line, names)
    if said.times and not said.left:
        return said
    now = about[0] if len(about) == 1 else None
    probable = probable_times(line.words, names.named_sets, skip, _places_of_facts(line), now=now)
    stated = sum(isinstance(item.what, StatedFact) and item.what.field in ("clock", "minutes") for item in line.items)
    if now is not None and stated >= _facts(probable):
        return said  # each of its words is read as a fact of that set
    is_more = _facts(probable) >= _facts(said) or _is_doubled(said)
    return probable if probable.times and is_more else said


def _is_of_other_times(line: ScannedLine) -> bool:
    """Return whether a line speaks of parts of a song, so that 1:20 is a time within it."""
    return any(word.low in PARTS_OF_SONG for word in line.words)


def _is_doubled(said: SetTimes) -> bool:
    """Return whether two sets have the same start: "First dance 7.30", where the first set has another name."""
    starts = [one.starts_min for one in said.times if one.starts_min is not None]
    return len(starts) > len(set(starts))


def times_beside(line: ScannedLine, names: SongNames) -> Iterator[TimeClaim]:
    """Yield the times of sets in the clauses of a line that has facts of songs in others, each in doubt."""
    facts = _places_of_facts(line)
    if not facts:
        return
    first = line.items[0].what
    now = first.sets[0] if isinstance(first, SongsMeant) and len(first.sets) == 1 and not first.songs else None
    said = probable_times(line.words, names.named_sets, _places_of_days(line), facts, now=now, beside_songs=True)
    yield from (TimeClaim(one, said.doubt) for one in said.times)


def _facts(said: SetTimes) -> int:
    return sum((one.starts_min is not None) + (one.minutes is not None) for one in said.times)


def _places_of_days(line: ScannedLine) -> frozenset[int]:
    """Return the places of words that name a day."""
    of_days = (item for item in line.items if isinstance(item.what, DayReading))
    return frozenset(at for item in of_days for at in range(item.at, item.end))


def _places_of_facts(line: ScannedLine) -> frozenset[int]:
    """Return the places of words that state facts of songs."""
    return frozenset(
        at
        for item in line.items
        if (isinstance(item.what, KeyFact) and line.said(item.at, item.end) not in _NO_KEYS)
        or (isinstance(item.what, StatedFact) and _is_of_song(item.what))
        for at in range(item.at, item.end)
    )


_NO_KEYS: Final = ("do", "a", "si", "la", "à")  # od 21 do 23, de 23:30 a 01:30, we do 45 from 8


def _is_of_song(fact: StatedFact) -> bool:
    return fact.firm and not _is_time(fact)


def _by_phrases(line: ScannedLine, names: SongNames) -> SetTimes:
    """Return the times that single phrases of a line tell."""
    facts = [item.what for item in line.items if isinstance(item.what, StatedFact | KeyFact)]
    if any(fact.firm and not _is_time(fact) for fact in facts):
        return SetTimes()
    others = any(not (_is_time(fact) or (isinstance(fact, StatedFact) and fact.is_lone)) for fact in facts)
    if others and not any(word.kind == CLOCK or word.low in CLOCK_WORDS for word in line.words):
        return SetTimes()  # 1 to 4 are all D
    said = set_times(_with_sets_counted(line, names), len(names.show.sets), names.set_numbered)
    names_set = any(isinstance(item.what, SongsMeant) and item.what.sets for item in line.items)
    stated = sum(_is_time(fact) for fact in facts) if names_set else 0
    # from and to are three facts: when it starts, when it ends, how long it is
    more = sum(3 if one.starts_min is not None and one.minutes is not None else 1 for one in said.times)
    if more < stated or (more == stated and said.left):
        return SetTimes()
    is_evening = any(word.low in _OF_EVENING or word.low.endswith(("pm", "uhr")) for word in line.words)
    unclear = not is_evening and any(
        may_be_morning(one.set_at, one.starts_min or 0, len(names.show.sets)) for one in said.times
    )
    if unclear and names.named_sets.is_by_day:
        return said._replace(times=tuple(_in_the_morning(one, len(names.show.sets)) for one in said.times))
    return said._replace(doubt=WHICH_HALF) if unclear else said


def _in_the_morning(one: SetTime, sets: int) -> SetTime:
    is_early = may_be_morning(one.set_at, one.starts_min or 0, sets) and one.starts_min is not None
    return one._replace(starts_min=(one.starts_min or 0) - NOON) if is_early else one


_OF_EVENING: Final = frozenset(["pm", "evening", "night", "tonight", "abends"])


def _with_sets_counted(line: ScannedLine, names: SongNames) -> str:
    """Return a line's text with the names of sets as numbers: "Late 9pm" is "second set 9pm", the first half a set."""
    text = line.text
    counts = list(ORDINALS)
    for item in reversed(line.items):
        meant = item.what
        is_named = isinstance(meant, SongsMeant) and len(meant.sets) == 1 and not meant.songs
        said = line.said(item.at, item.end).casefold().split()
        if not isinstance(meant, SongsMeant) or not is_named or set(said) - {"set"} <= ORDINALS.keys():
            continue
        number = meant.sets[0] + 1
        if said[0] == "set" or names.set_numbered(number) != meant.sets[0]:
            continue
        word = next((one for one in counts if ORDINALS[one] == number), None)
        if word is not None:
            text = f"{text[: line.words[item.at].start]}{word} set{text[line.words[item.end - 1].end :]}"
    return _HALVES.sub(r"\1 set", text)


_HALVES: Final = re.compile(
    r"\b(first|second|1st|2nd)(?: half\b(?! past)|:?(?= \d{1,2}[:.]\d\d\s?[-–]))", re.IGNORECASE
)


def _is_time(what: object) -> bool:
    return isinstance(what, StatedFact) and what.field in ("clock", "minutes", "tempo")


def names_day(reading: ReplyReading) -> bool:
    """Return whether words are only about the day that is known by now: Date is Sat 28 Nov."""
    if not isinstance(reading, Unread) or reading.about is not NOWHERE:
        return False
    words = _DAY_NAMED.sub("", reading.words).strip(" .!")
    day = day_in(words, ANY_DAY, asked=True)
    return day is not None and (day.start, day.end) == (0, len(words))


def doubted_day(reading: ReplyReading, doubt: str, today: dt.date) -> ReplyReading:
    """Doubt a date that may be that of the message, or that is past."""
    if not isinstance(reading, DayClaim) or reading.day.day is None:
        return reading
    doubt = doubt or ("it is past" if reading.day.day < today else "")
    return in_doubt(reading, doubt) if doubt else reading
