"""The last account of a reply: each fact that stands in it is in what lands, or in words that the player sees.

It does not ask how a line was read: each key, time of day, song and stated fact of a line is looked for in the values
of that line and in the words that are shown. A line with one that is nowhere is kept whole.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from companion.leader.accounted_words import quoted_places
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine
from companion.leader.reply_readings import NOWHERE, Unread
from companion.leader.reply_words import CLOCK
from companion.leader.settled_claims import ClaimedValue, OpenClaim, SettledReply
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import KEY_OF, MOVED_BY, StatedFact

Values = Mapping[tuple[int | None, int | None, str], Sequence[ClaimedValue]]
HALF_A_DAY: Final = 12 * 60
_FIGURES: Final = re.compile(r"(\d{1,2})(?:\D{1,2}(\d\d))?")
# Facts that lead to a value of another kind, or to none of their own.
_LEADS_ON: Final = ("into", KEY_OF, MOVED_BY, "yes", "capo", "shapes", "version", "minutes", "dropped", "notes")

_IN_WORDS: Final = ("venue", "notes", "ending", "recording", "version")


class _CameOf(NamedTuple):
    """What came of one line: the songs that have values, these values, and the times of day and lengths of all sets."""

    songs: frozenset[int | None]
    facts: frozenset[tuple[str, str]]
    keys: str
    times: frozenset[int]

    def has(self, item: ReplyItem, line: ScannedLine) -> bool:
        """Return whether a value accounts for an item; what states nothing needs none."""
        match item.what:
            case KeyFact(key):
                return key in self.keys.split()
            case DayReading():
                return any(field == "date" for field, _ in self.facts)
            case SongsMeant(songs):
                is_time = bool(_may_be(line.said(item.at, item.end)) & self.times)  # from 4 to 5.30
                return not songs or is_time or bool(self.songs.intersection(songs))
            case StatedFact("clock", value):
                return bool(_may_be(str(value)) & self.times) or ("length", str(value)) in self.facts
            case StatedFact(field, value) if field not in _LEADS_ON and not item.what.is_lone:
                return (field, str(value)) in self.facts
        clocks = [word.text for word in line.words[item.at : item.end] if word.kind == CLOCK]
        return all(_may_be(said) & self.times for said in clocks)


def unaccounted_lines(lines: Sequence[ScannedLine], settled: SettledReply) -> Iterator[OpenClaim]:
    """Yield each line with a fact that is neither in a value nor in words that the player sees."""
    values, shown = settled.values, (*settled.left, *settled.passed)
    times = frozenset(_times(values))
    spoken_of = {*settled.left_out, *(one.song for one in (*shown, *settled.confirms))}
    for line in lines:
        here = [(place, one) for (_, place, _), said in values.items() for one in said if one.line in line.text]
        seen = [words for one in shown for words in (one.words, one.words.rpartition(" (")[0]) if words in line.text]
        seen += [why for _, one in here for why in one.doubt.split("; ")]
        seen += [str(one.value) for _, one in here if one.field in _IN_WORDS]
        came = _CameOf(
            frozenset([*spoken_of, *(place for place, _ in here)]),
            frozenset((one.field, str(one.value)) for _, one in here),
            " ".join(f"{one.value} {one.denied}" for _, one in here if one.field in ("key", "notes")),
            times,
        )
        places = quoted_places(line.text, [Unread(NOWHERE, words) for words in seen])
        if any(not (came.has(item, line) or _is_seen(item, line, places)) for item in line.items if item.end > item.at):
            yield OpenClaim(None, line.text, "")


def _is_seen(item: ReplyItem, line: ScannedLine, places: Sequence[tuple[int, int]]) -> bool:
    start, end = line.words[item.at].start, line.words[item.end - 1].end
    return any(at <= start and end <= to for at, to in places)


def _may_be(said: str) -> set[int]:
    """Return what a time of day or a length may be in minutes: 7.30 is 450 or 1170."""
    minutes = _minutes(said)
    return {minutes, (minutes + HALF_A_DAY) % (2 * HALF_A_DAY)}


def _minutes(said: str) -> int:
    found = _FIGURES.search(said)
    return 60 * int(found[1]) + int(found[2] or 0) if found else -1


def _times(values: Values) -> Iterator[int]:
    """Yield when the sets start and end, and how long they are, in minutes."""
    for (at, place, field), said in values.items():
        if place is not None or field not in ("starts", "minutes"):
            continue
        for one in said:
            minutes = int(one.value) if field == "minutes" else _minutes(str(one.value))
            yield minutes
            lengths = values.get((at, None, "minutes"), ()) if field == "starts" else ()
            yield from ((minutes + int(long.value)) % (2 * HALF_A_DAY) for long in lengths)
