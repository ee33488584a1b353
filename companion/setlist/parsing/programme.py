"""Rows of an evening's programme or a rider that are no songs: 15:00 Photos, INPUT LIST with its channels."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import any_date_in, clock_cell
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.line_kinds import is_chat, is_line
from companion.setlist.parsing.patterns import BARE_NUMBER
from companion.setlist.parsing.set_headings import (
    SetHeading,
    bare,
    clock_in_front,
    heading_in,
    heading_of,
    read_set,
    times_in,
)
from companion.setlist.parsing.words_of_events import is_event

FEWEST_TIMES = 2
EARLIEST_MIN = 10 * 60  # since midnight; what is earlier, without am or pm, may be a length
LONGEST_NAME = 70  # characters of a heading with its time
_TIME_BEHIND = re.compile(  # Late bar 22:30; Ball 2 (0:30); Vin d'honneur (17h30); Ballroom, Queens Lounge 21:00-22:00
    r"^(\D{3,60}(?:\d\D{1,20})?)(\d{1,2}(?:[:.h]\d\d\s?(?:am|pm|uhr)?|\s?(?:am|pm|uhr|h)))(?:\s?(?:-|–|—|to|bis|till?)\s?"
    r"\d{1,2}(?:[:.h]\d\d)?\s?(?:am|pm|uhr|h)?)?\s?(?:hrs?|uhr)?\)?$",
    re.IGNORECASE,
)
_AT_BEHIND = re.compile(r"[\s,(–—@-](?:at|um|kl\.?|kell|à|alle|ore|a las|às|ab|from)\s*$", re.IGNORECASE)
MAX_UNDERLINED = 0.34  # share of the lines; where more are underlined, the songs are
FEWEST_SONGS = 3  # with a key, and without a time
_OTHER_LIST = re.compile(
    r"^(?:(?:input|channel|patch|line|mic|microphone|backline|equipment|gear|contact|guest|rooming)s? "
    r"(?:list|plan|plot)s?|inputs|stage plot|stage plan|backline|kanalliste|patch)$",
    re.IGNORECASE,
)
_NUMBERS = re.compile(r"\d+")
_HASHES = re.compile(r"^(#{2,6})\s+\S")
_PART = re.compile(r"^((?:part|set|half|teil)\s\d)\b(.{0,60})$", re.IGNORECASE)
_SONGS_BEGIN = re.compile(
    r"^(?:set ?lists?|songs?|song list|repertoire|repertoar|programme|program|running order|setliste|titel|tunes)$",
    re.IGNORECASE,
)


def take_programme(found: Sequence[Classified], notation: Notation) -> None:
    """Take the rows of a programme or of another list for what they are, where the songs stand apart from them."""
    _take_other_lists(found)
    _take_hashes(found)
    _take_underlined(found, notation)
    _take_parts(found)
    _take_times(found, notation)
    _take_times_behind(found, notation)


def _take_other_lists(found: Sequence[Classified]) -> None:
    """Keep a list of channels or people as notes, from its heading to the heading of the songs."""
    begins = next((at for at, one in enumerate(found) if _OTHER_LIST.match(bare(one.line.whole))), None)
    if begins is None:
        return
    ends = next(
        (
            at
            for at, one in enumerate(found)
            if at > begins and (_SONGS_BEGIN.match(bare(one.line.whole)) or one.took is LineKind.SET)
        ),
        None,
    )
    for one in found[begins:ends] if ends is not None else ():
        one.took = LineKind.LEFT


def _take_times(found: Sequence[Classified], notation: Notation) -> None:
    """Take a row with a time for a heading if songs are below it; for a note of the evening if none do."""
    times = [clock_in_front(one.line.text) if one.line.number is None else (None, "") for one in found]
    timed = [at for at, (minutes, _) in enumerate(times) if minutes is not None]
    songs = sum(one.took is None and times[at][0] is None and _is_keyed(one, notation) for at, one in enumerate(found))
    keyed = [at for at in timed if _is_keyed(found[at], notation)]
    if len(timed) < FEWEST_TIMES or songs < FEWEST_SONGS or 2 * len(keyed) > len(timed):
        return
    for at in keyed:  # 20:15 First dance: Moth (G), where the other songs have no time
        if found[at].took is None:
            found[at].line = msgspec.structs.replace(found[at].line, text=times[at][1])
    bare_times = {at: time for at, one in enumerate(found) if (time := clock_cell(one.line.text)) is not None}
    timed += [at for at in bare_times if found[at].took is None]
    for at in (at for at in timed if at not in keyed):
        one, (minutes, words) = found[at], times[at]
        if one.took is None and (one.heading is None or not one.heading.name):
            has_song = at + 1 < len(found) and found[at + 1].took is None and at + 1 not in timed
            has_song = has_song and not is_event(words) and not (at in bare_times and at - 1 in timed)
            one.took = LineKind.SET if has_song else LineKind.LEFT
            heading = SetHeading("", bare_times[at]) if at in bare_times else heading_in(words)
            starts_min = heading.starts_min if minutes is None else minutes
            one.heading = msgspec.structs.replace(heading, starts_min=starts_min) if has_song else None


def _take_times_behind(found: Sequence[Classified], notation: Notation) -> None:
    """Take a line that ends in a time for a heading, where it has no key and the songs below have: Late bar 22:30."""
    timed = [at for at, one in enumerate(found[:-1]) if one.took is None and _time_behind(one)]
    keyed = [one.took is None and _is_keyed(one, notation) for one in found]
    timed = [at for at in timed if not keyed[at] and not found[at].line.is_marked]
    forms = {_form(found[at]) for at in timed}
    alike = [at for at, one in enumerate(found[:-1]) if one.took is None and at not in timed and _form(one) in forms]
    timed = sorted((*timed, *(at for at in alike if not keyed[at] and _time_behind(found[at], earliest_min=0))))
    if sum(keyed) < FEWEST_SONGS or len(timed) > MAX_UNDERLINED * len(found):
        return
    for at in timed:
        one, time = found[at], _time_behind(found[at], earliest_min=0)
        has_song = keyed[at + 1] or (at + 2 < len(found) and keyed[at + 2] and found[at + 1].took is not LineKind.SET)
        is_parted = one.line.row.blank_before or not at or not keyed[at - 1]
        is_one = len(timed) > 1 or is_parted or times_in(one.line.text)
        if time is None or not has_song or not is_one or is_event(one.line.text) or is_chat(one.line.text):
            continue
        times = heading_of(one.line.text) if times_in(one.line.text) else SetHeading(time[0], time[1])
        if "(" in time[0]:
            times = heading_in(one.line.text)  # Giardino (trio, 18.30)
        one.took = LineKind.SET
        one.heading = times if one.heading is None else msgspec.structs.replace(times, name=one.heading.name)


def _form(one: Classified) -> str:
    """Return a line with a sign for each number: BALL # (#:#) of BALL 2 (0:30)."""
    return _NUMBERS.sub("#", one.line.text)


def _time_behind(one: Classified, earliest_min: int = EARLIEST_MIN) -> tuple[str, int] | None:
    """Split a time of day off a line's end: (the words, minutes since midnight)."""
    text = bare(one.line.text)
    found = _TIME_BEHIND.match(text) if len(text) < LONGEST_NAME else None
    minutes = clock_cell(found[2]) if found else None
    if found is None or minutes is None or found[1][-1].isalpha() or not any(map(str.isalpha, found[1])):
        return None
    if minutes < earliest_min and not times_in(text) and found[2][-1:].isdecimal():
        return None  # 3:20 is a length
    if any(map(str.isdecimal, found[1])) and any_date_in(found[1]):
        return None  # Sunday 6 December, 10.30
    name = _AT_BEHIND.sub("", found[1]).strip(" -–—:,(@")
    return _as_name(name), minutes


def _as_name(words: str) -> str:
    return words.capitalize() if words.isupper() else words


def _take_hashes(found: Sequence[Classified]) -> None:
    """Take a heading of Markdown for a set's where another of its depth is one: ## Teatime (16:00)."""
    depths = {_depth(one) for one in found if one.took is LineKind.SET or one.heading} - {0}
    if not depths or sum(_depth(one) in depths for one in found) < FEWEST_TIMES:
        return
    for at, one in enumerate(found[:-1]):
        if one.took is None and _depth(one) in depths and found[at + 1].took is None:
            name, _, rest = bare(one.line.whole).partition("(")
            minutes = clock_in_front(f"{rest.rstrip(')')} x")[0]
            one.took = LineKind.SET
            one.heading = one.heading or SetHeading(
                name.strip(" -–—:"), minutes, also="" if minutes else rest.rstrip(")")
            )


def _take_underlined(found: Sequence[Classified], notation: Notation) -> None:
    """Take several lines that are underlined for headings: Dancing, and ======= below it."""
    heads = [
        at
        for at in range(len(found) - 2)
        if found[at].took is None
        and not found[at].line.is_marked
        and not (_is_keyed(found[at], notation) and _number(found[at]) is not None)
        and found[at + 1].took is LineKind.RULE
        and is_line(found[at + 1].line.whole)
        and not found[at + 1].line.row.blank_before
        and found[at + 2].took is None
    ]
    if len(heads) < FEWEST_TIMES or len(heads) > MAX_UNDERLINED * sum(one.took is None for one in found):
        return
    for at in heads:
        one = found[at]
        one.took, one.heading = LineKind.SET, one.heading or SetHeading(bare(one.line.text))


def _depth(one: Classified) -> int:
    found = _HASHES.match(one.line.row.text)
    return len(found[1]) if found else 0


def _take_parts(found: Sequence[Classified]) -> None:
    """Take part 2 after the buffet for a heading, where the numbers of the songs begin again below it."""
    numbers = [_number(one) for one in found]
    for at, one in enumerate(found):
        part = _PART.match(one.line.text)
        above = next((number for number in reversed(numbers[:at]) if number is not None), None)
        below = next((number for number in numbers[at + 1 :] if number is not None), None)
        if one.took is None and part and below == 1 and (above is None or above > 1):
            heading = read_set(part[1])
            one.took = LineKind.SET if heading else None
            one.heading = msgspec.structs.replace(heading, also=part[2].strip(" -–—:(),.")) if heading else None


def _number(one: Classified) -> int | None:
    found = BARE_NUMBER.match(one.line.text)
    return one.line.number if one.line.number is not None or not found else int(found[1])


def _is_keyed(one: Classified, notation: Notation) -> bool:
    text = one.line.text
    bracket = re.search(r"\(([^()]+)\)", text)
    words = f"{text[: bracket.start()]} {bracket[1]}" if bracket else text
    end = key_at_end(words, notation)
    return (end is not None and not end.may_be_title) or any(
        key_at_end(f"x {part}", notation) for part in re.split(r"\s[-–—|]\s|\s{2,}", text)[1:]
    )
