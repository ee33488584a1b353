"""Warnings, with their places, about what a show may say but probably does not mean."""

import functools
import itertools
import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from typing import Final

from companion.errors import Fault
from companion.files import Places, Table, Text, nearest, shown
from companion.files.nodes import place_within
from companion.how_many import how_many
from companion.music import Meter, NotMusic, read_chord_line, read_hits, shown_length
from companion.show.chords import times_of_chords
from companion.show.date_words import time_of_day
from companion.show.key_doubts import key_doubts
from companion.show.model import Section, Set, Show, Song
from companion.show.shorthand import is_shorthand

FOUR_FOUR: Final = Meter(4, 4)
DAY_MIN: Final = 24 * 60
COLON: Final = re.compile(r"([0-9]):|:\Z")
TIMES: Final = re.compile(r"\b([0-9]{1,2})[x×]")
PHRASE: Final = re.compile(r"(?:watch|hits|words|in) \S|[(*]|[0-9]{1,2}[&+e]\Z|(?:open|tacet|x[0-9]+)\Z")


def warnings_of(show: Show, places: Places, exists: Callable[[str], bool] | None = None) -> Iterator[Fault]:
    """Return all warnings. ``exists`` says whether a file named in the show exists."""
    yield from _doubles(show, places)
    for number, one in enumerate(show.sets):
        later = show.sets[number + 1].songs if number + 1 < len(show.sets) else ()
        yield from _segues(one, later, places)
        yield from _too_long(one, places)
        yield from _into_the_next(one, show.sets[number + 1] if number + 1 < len(show.sets) else None, places)
        for song in one.songs:
            yield from _numbered_names(song, places)
            yield from _slips_in_names(song, places)
            yield from key_doubts(song, places)
            for section in song.road_map:
                yield from _hits(section, song.meter or FOUR_FOUR, places)
                yield from _bars_of_chords(section, song.meter or FOUR_FOUR, places)
            if exists:
                yield from _files(song, places, exists)


def _doubles(show: Show, places: Places) -> Iterator[Fault]:
    """Warn of two songs with one title: a segue, or a place found again, would mean the first one."""
    seen: dict[str, Song] = {}
    for song in itertools.chain.from_iterable(one.songs for one in show.sets):
        title = song.title.casefold()
        if title in seen:
            problem = f"there is another song {shown(song.title)} in this show"
            yield places.fault(
                song, "title", problem=problem, write="a different title for one of them, or only one of them"
            )
        seen.setdefault(title, song)


def _segues(one: Set, later: tuple[Song, ...], places: Places) -> Iterator[Fault]:
    """Warn of a segue that does not lead to the next song."""
    for number, song in enumerate(one.songs):
        if song.segue is None:
            continue
        follows = one.songs[number + 1].title if number + 1 < len(one.songs) else None
        if follows is not None and follows.casefold() == song.segue.casefold():
            continue
        others = [other.title for other in (*one.songs, *later) if other is not song]
        meant = nearest(song.segue, others)
        if follows is not None and meant == follows:
            write = follows
        elif meant:
            write = f"{meant} as the next song, or no segue"
        else:
            write = "the title of the next song, or no segue"
        what = shown(follows) if follows else "the end of the set"
        problem = f"the segue leads to {shown(song.segue)}, but {what} follows"
        yield places.fault(song, "segue", problem=problem, write=write)


def _too_long(one: Set, places: Places) -> Iterator[Fault]:
    """Warn of a set whose known lengths already exceed its minutes."""
    planned_s = (one.minutes or 0) * 60
    known_s = sum(song.length_s or 0 for song in one.songs)
    unknown = sum(song.length_s is None for song in one.songs)
    if planned_s and known_s > planned_s:
        rest = f", with {unknown} of unknown length" if unknown else ""
        problem = (
            f"the songs of {shown(one.name)} take {shown_length(known_s)}{rest}, and {one.minutes} minutes are planned"
        )
        yield places.fault(one, "minutes", problem=problem, write=f"minutes: {-(-known_s // 60)}, or fewer songs")


def _into_the_next(one: Set, follows: Set | None, places: Places) -> Iterator[Fault]:
    """Warn of a set that still runs when the next one starts; times more than half a day apart are not compared."""
    if follows is None or one.starts_min is None or follows.starts_min is None:
        return
    lasts_min = one.minutes or -(-sum(song.length_s or 0 for song in one.songs) // 60)
    until_next = (follows.starts_min - one.starts_min) % DAY_MIN
    if until_next < lasts_min <= DAY_MIN // 2:
        ends = time_of_day((one.starts_min + lasts_min) % DAY_MIN)
        starts = time_of_day(follows.starts_min)
        problem = f"{shown(one.name)} runs until {ends}, and {shown(follows.name)} starts at {starts}"
        yield places.fault(follows, "starts", problem=problem, write=f"starts: {ends}, or fewer minutes before it")


def _numbered_names(song: Song, places: Places) -> Iterator[Fault]:
    """Warn of Verse 1, Verse 2 in a short road map: they mean one bar and two bars."""
    bars = defaultdict(list)
    for section in song.road_map:
        bars[section.name].append(section)
    for name, sections in bars.items():
        if len(sections) > 1 and [section.bars for section in sections] == list(range(1, len(sections) + 1)):
            problem = f"{name} 1 and {name} 2 are read as one bar and two bars of {name}"
            yield places.fault(sections[0], problem=problem, write=f"{name} 1 16 for a first {name} of 16 bars")


def _slips_in_names(song: Song, places: Places) -> Iterator[Fault]:
    """Warn of signs that shorthand read as a part of a section's name."""
    for section in song.road_map:
        table = places.node(section)
        if not (isinstance(table, Table) and is_shorthand(table)):
            continue
        name = section.name
        if PHRASE.match(name):  # Outro 8 open, watch singer
            problem = f"{shown(name)} is read as a section, because of the comma before it"
            yield places.fault(section, problem=problem, write=f"no comma before {name}")
        elif COLON.search(name):  # Intro: 4
            problem = f"{shown(name)} is read as the name, with its colon"
            yield places.fault(section, problem=problem, write=COLON.sub(r"\1", name))
        elif times := TIMES.search(name):  # Chorus 2x
            problem = f"{shown(name)} is read as the name"
            write = f"{TIMES.sub('', name).strip()} x{times[1]}, to play it {times[1]} times"
            yield places.fault(section, problem=problem, write=write)


@functools.lru_cache(4096)
def _no_hits(hits: str, meter: Meter) -> NotMusic | None:
    try:
        read_hits(hits, meter)
    except NotMusic as error:
        return error
    return None


def _hits(section: Section, meter: Meter, places: Places) -> Iterator[Fault]:
    """Warn of words in hits, which should be a rhythm."""
    if section.hits is not None and (error := _no_hits(section.hits, meter)):
        yield _within(section, "hits", error, places)


@functools.lru_cache(4096)
def _chord_bars(chords: str, meter: Meter) -> int | NotMusic:
    try:
        return read_chord_line(chords, meter).bars
    except NotMusic as error:
        return error


def unreadable_chords(show: Show, places: Places) -> tuple[Fault, ...]:
    """Return a fault for each unreadable chord line, at its character; a songbook's line only once."""
    faults = {
        _within(section, "chords", read, places)
        for one in show.sets
        for song in one.songs
        for section in song.road_map
        if section.chords is not None
        and isinstance(read := _chord_bars(section.chords, song.meter or FOUR_FOUR), NotMusic)
    }
    return tuple(sorted(faults))


def _bars_of_chords(section: Section, meter: Meter, places: Places) -> Iterator[Fault]:
    """Warn of a chord line with more or fewer bars than its section, and say if it is repeated to fill it."""
    if section.chords is None or section.bars is None:
        return
    bars = _chord_bars(section.chords, meter)
    if isinstance(bars, int) and bars != section.bars:
        difference = abs(bars - section.bars)
        more = "more" if bars > section.bars else "fewer"
        have = f"the chords of {section.name} have {how_many(bars, 'bar')}"
        table = places.node(section)
        short = isinstance(table, Table) and is_shorthand(table)
        write = f"{section.name} {bars}, or the other chords" if short else f"bars: {bars}, or the other chords"
        times = times_of_chords(section.bars, bars)
        if times > 1:
            problem = f"{have} and are played {times} times, to fill its {section.bars}"
            chords = section.chords.strip(" |")
            again = f"{'| ' if short else ''}({chords}) x{times} if that is right"
            write = again if "(" not in chords and "\n" not in chords else write
        else:
            problem = f"{have}, {difference} {more} than its {section.bars}"
        yield places.fault(section, "chords", problem=problem, write=write)


def _files(song: Song, places: Places, exists: Callable[[str], bool]) -> Iterator[Fault]:
    for key, path in (("chart", song.chart), ("recording", song.recording)):
        if isinstance(path, str) and "://" not in path and not exists(path):
            yield places.fault(
                song, key, problem=f"there is no file {shown(path, 80)}", write="the path of one, or yes or no"
            )


def _within(section: Section, key: str, error: NotMusic, places: Places) -> Fault:
    """Return a fault at a character of a section's text."""
    node = places.node(section, key)
    if not isinstance(node, Text):
        return places.fault(section, key, problem=error.problem, write=error.write)
    line, column = place_within(node, error.column)
    return Fault(node.source.path, line, column, error.problem, error.write)
