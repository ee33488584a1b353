"""The last check of a reply: each of its facts is in a value that lands, or in words that the player sees.

It does not ask how a line was read: each key, time of day, song and stated fact of a line is looked for in the values
of that line and in the words that are shown. A line with one that is nowhere is kept whole.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, NamedTuple

from companion.leader.accounted_words import is_quoted, quoted_places, sentences
from companion.leader.clock_grammar import HALF_A_DAY
from companion.leader.courtesies import is_courtesy
from companion.leader.drop_words import SWAPPED
from companion.leader.numbering import MAY_BE_NONE
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, is_word
from companion.leader.reply_readings import NOWHERE, Unread
from companion.leader.reply_words import CLOCK, ORDINALS, SIGN, words_of
from companion.leader.settled_claims import ClaimedValue, OpenClaim, SettledReply
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import KEY_OF, MOVED_BY, StatedFact
from companion.leader.turns_of_phrase import UNKNOWN_TO_LEADER, TurnOfPhrase
from companion.leader.unlike_record import UNLIKE

Values = Mapping[tuple[int | None, int | None, str], Sequence[ClaimedValue]]
_FIGURES: Final = re.compile(r"(\d{1,2})(?:\D{1,2}(\d\d))?")
# Facts that lead to a value of another kind, or to none of their own.
_LEADS_ON: Final = ("into", KEY_OF, MOVED_BY, "yes", "capo", "shapes", "version", "minutes", "dropped", "notes", UNLIKE)

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
            case TurnOfPhrase(kind):
                return kind != UNKNOWN_TO_LEADER
            case DayReading():
                return any(field == "date" for field, _ in self.facts)
            case SongsMeant(songs) if not (item.what.is_word and _states_nothing(line)):
                is_time = bool(_may_be(line.said(item.at, item.end)) & self.times)  # from 4 to 5.30
                return not songs or is_time or bool(self.songs.intersection(songs))
            case StatedFact("clock", value):
                return bool(_may_be(str(value)) & self.times) or ("length", str(value)) in self.facts
            case StatedFact("tempo", value, firm=False) if str(value).isdecimal() and int(str(value)) in self.times:
                return True  # second set an hour, third 55
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
        kept = [words for one in shown for words in (one.words, one.words.rpartition(" (")[0]) if words in line.text]
        kept += [str(one.value) for _, one in here if one.field in _IN_WORDS]
        kept += [one.words for _, one in here if one.words and not one.doubt]  # each of whose words is explained
        doubts = [why for _, one in here for why in one.doubt.split("; ")]
        came = _CameOf(
            frozenset([*spoken_of, *(place for place, _ in here)]),
            frozenset((one.field, str(one.value)) for _, one in here),
            " ".join(f"{one.value} {one.denied}" for _, one in here if one.field in ("key", "notes")),
            times,
        )
        stays, places = _places(line, kept), _places(line, [*kept, *doubts])
        items = [item for item in line.items if item.end > item.at]
        lost = [item for item in items if not (came.has(item, line) or is_quoted(item, line, places))]
        # Words that are only in the reason for another doubt would go with that doubt.
        strays = [item for item in items if _may_state(item) and is_word(item, line.words) and not _is_name(item, line)]
        lost += [] if line.text.isupper() else [item for item in items if _may_be_key(item, line)]
        strays = [item for item in strays if not is_quoted(item, line, stays)]
        if _is_of_times(here):
            strays, lost = [], [item for item in lost if not _is_ordinal(item, line)]
        strays = strays if strays and not is_courtesy(line.said(strays[0].at, strays[-1].end)) else []
        if lost or strays:
            yield from (OpenClaim(None, words, "") for words in _around([*lost, *strays], line))


def _around(items: Sequence[ReplyItem], line: ScannedLine) -> Iterator[str]:
    """Yield the words to show for what is lost of a line: all of a short line, else the sentences that it stands in."""
    if len(line.text) <= MAX_WHOLE:
        yield line.text
        return
    for sentence in sentences(line):
        if any(one in sentence for one in items):
            yield line.said(sentence[0].at, sentence[-1].end)


def _is_of_times(here: Sequence[tuple[int | None, ClaimedValue]]) -> bool:
    """Return whether a line tells times of sets, and nothing of songs: its words are explained as those of times."""
    times = [one for _, one in here if one.field in ("starts", "minutes")]
    return bool(times) and not any(one.doubt for one in times) and all(place is None for place, _ in here)


def _is_ordinal(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item is an ordinal number alone, beside times that of a set: 2nd set an hour, third 55."""
    word = line.words[item.at]
    return isinstance(item.what, SongsMeant) and item.end == item.at + 1 and (word.low in ORDINALS or word.is_ordinal)


def _states_nothing(line: ScannedLine) -> bool:
    """Return whether a line states no fact, so that a number in words may be part of a heading: "Act One"."""
    return not any(isinstance(item.what, KeyFact | StatedFact) for item in line.items)


def _may_state(item: ReplyItem) -> bool:
    """Return whether nothing explains an item, or it is a number in words beside figures, which may be no song's."""
    return item.what is None or (isinstance(item.what, SongsMeant) and item.what.doubt.endswith(MAY_BE_NONE))


def _may_be_key(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether a capital within a sentence may be a key and no small word: "Moth A stops cold"."""
    before = line.words[item.at - 1] if item.at else None
    within = before is not None and before.kind != SIGN
    return within and isinstance(item.what, TurnOfPhrase) and line.said(item.at, item.end) in ("A", "E")


def _is_name(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item is the name of who writes: "ellie: 3 D 4 A"."""
    return item.at == 0 and item.end < len(line.words) and line.words[item.end].text == ":"


def _places(line: ScannedLine, words: Sequence[str]) -> list[tuple[int, int]]:
    return quoted_places(line.text, [Unread(NOWHERE, one) for one in words])


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


def joined_again(left: Sequence[OpenClaim], lines: Sequence[ScannedLine], values: Values) -> list[OpenClaim]:
    """Join words that are left from one line with only a comma or the like between them, if they are about one song.

    A line of which a few words are left, and nothing else came, is left whole.
    """
    kept: list[OpenClaim] = []
    for one in left:
        last = kept[-1] if kept else None
        is_one = last and (_same_song(last, one) or _swaps(last))
        whole = last and is_one and next(filter(None, (_whole(last, one, line) for line in lines)), "")
        if last and whole:
            song = last.song if last.song is not None else one.song
            kept[-1] = last._replace(song=song, words=whole, field=last.field or one.field)
        else:
            kept.append(one)
    read = {value.line for said in values.values() for value in said}
    whole_lines = [line.text for line in lines if line.text not in read and len(line.text) <= MAX_WHOLE]
    for text in whole_lines:
        inside = [at for at, one in enumerate(kept) if one.words in text]
        if len(inside) == 1 and not kept[inside[0]].to:
            kept[inside[0]] = kept[inside[0]]._replace(words=text)
    return kept


MAX_WHOLE: Final = 120  # characters of a line that is shown whole for a few of its words


def _swaps(one: OpenClaim) -> bool:
    """Return whether words move songs about: swap 14 and 15 round."""
    first = words_of(one.words[:MAX_VERB])
    return bool(first) and first[0].low in SWAPPED


MAX_VERB: Final = 24  # letters


def _same_song(one: OpenClaim, other: OpenClaim) -> bool:
    is_song = one.song == other.song or None in (one.song, other.song)
    return is_song and one.set_at == other.set_at and (one.field == other.field or "" in (one.field, other.field))


def _whole(one: OpenClaim, other: OpenClaim, line: ScannedLine) -> str:
    """Return the text of two pieces of a line that follow each other; "" if they do not."""
    start = line.text.find(one.words)
    after = line.text.find(other.words, start + len(one.words)) if start >= 0 and one.words and other.words else -1
    between = line.text[start + len(one.words) : after].strip(" ,").casefold() if after >= 0 else None
    return line.text[start : after + len(other.words)] if between in _JOINING else ""


_JOINING: Final = ("", "and", "und", "et", "y", "e", "och", "og", "en", "then", "so", "but")
