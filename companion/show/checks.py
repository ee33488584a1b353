"""What a show still lacks, ranked by how much it matters, and what is allowed but probably not meant."""

from collections.abc import Callable, Iterator
from typing import Final

import msgspec

from companion.errors import Fault
from companion.files import Places, Table
from companion.show.chords import with_bars
from companion.show.model import Section, Set, Show, Song
from companion.show.sense import unreadable_chords, warnings_of
from companion.show.shorthand import is_shorthand
from companion.show.show_file import ReadShow

# What may be missing: its weight and the reason for it. The keyboard's own moments come first, then what no player can
# do without, then what a rehearsal would settle, then what only improves planning. (Common practice, no source.)
WEIGHTS: Final[dict[str, tuple[int, str]]] = {
    "key of a feature": (100, "people listen to the keys here, and the key is unknown"),
    "key": (90, "without its key you can neither learn nor play the song"),
    "sound of a feature": (80, "a place where people listen, with no sound set up for it"),
    "starts_with": (70, "if the keys start the song, nobody else can"),
    "road_map": (60, "the order of the sections is the first question on stage"),
    "watch": (55, "an open section ends when somebody gives the cue, and nobody is named"),
    "tempo": (50, "you need it to practise, to count in and to time the set"),
    "ending": (45, "everybody hears the last chord"),
    "count_off": (40, "the count-off sets the tempo"),
    "date": (35, "the remaining days cannot be planned"),
    "sound": (30, "any sound will do, but a chosen one is better"),
    "chart": (25, "with a chart, a song needs fewer listens"),
    "bars": (20, "a section without bars cannot be counted"),
    "length": (16, "the set cannot be timed"),
    "minutes": (14, "a set that is too long goes unnoticed"),
    "starts": (12, "the set has no start and end on the clock"),
    "meter": (10, "4/4 is assumed"),
    "known": (8, "it helps decide what to learn first"),
    "hard": (8, "it helps decide what to learn first"),
    "recording": (6, "there is nothing to listen to"),
    "band": (4, "the heading on paper needs it"),
}


class Missing(msgspec.Struct, frozen=True):
    """One thing not known yet: what it is, its place, and what to write."""

    what: str  # a key of WEIGHTS
    weight: int
    title: str  # of the song, set or show
    fault: Fault

    def __str__(self) -> str:
        return str(self.fault)


class ShowCheck(msgspec.Struct, frozen=True):
    """Faults and warnings by place; missing things by weight, heaviest first, then in show order.

    ``faults`` are unreadable chord lines: the show can still be played.
    """

    faults: tuple[Fault, ...]
    missing: tuple[Missing, ...]
    warnings: tuple[Fault, ...]


def check(read: ReadShow, exists: Callable[[str], bool] | None = None) -> ShowCheck:
    """Check a show that was read without faults. ``exists`` says whether a file named in the show exists."""
    missing = sorted(missing_from(read.show, read.places), key=lambda one: -one.weight)
    warnings = {*read.warnings, *warnings_of(read.show, read.places, exists)}
    return ShowCheck(unreadable_chords(read.show, read.places), tuple(missing), tuple(sorted(warnings)))


def missing_from(show: Show, places: Places) -> Iterator[Missing]:
    """Yield what is missing, in show order."""
    if show.date is None:
        yield _missing(
            "date",
            show.title,
            places.fault(show, problem="the show has no date", write="date: its day, such as 2027-06-19"),
        )
    if show.band is None:
        yield _missing("band", show.title, places.fault(show, problem="the show has no band", write="band: its name"))
    for one in show.sets:
        yield from _of_set(one, places)
        for song in one.songs:
            if not song.tacet:
                yield from _of_song(song, places)
                yield from _of_road_map(song, places)


SET_KEYS: Final = {"starts_min": ("starts", '"20:00"'), "minutes": ("minutes", "45")}
SONG_KEYS: Final = {  # field: the key to write, and an example
    "starts_with": ("starts_with", "keys"),
    "tempo_bpm": ("tempo", "112"),
    "ending": ("ending", "cold"),
    "count_off": ("count_off", "one bar, sticks"),
    "chart": ("chart", "no, or a file"),
    "length_s": ("length", '"3:40"'),
    "meter": ("meter", "4/4"),
    "known": ("known", "0 to 5"),
    "hard": ("hard", "0 to 5"),
    "recording": ("recording", "a file"),
}


def _of_set(one: Set, places: Places) -> Iterator[Missing]:
    for field, (key, example) in SET_KEYS.items():
        if getattr(one, field) is None:
            yield _missing(
                key, one.name, places.fault(one, problem=f"the set {one.name} has no {key}", write=f"{key}: {example}")
            )


def _of_song(song: Song, places: Places) -> Iterator[Missing]:
    if song.key is None:
        features = any(section.feature for section in song.road_map) or (song.starts_with or "").lower() == "keys"
        what = "key of a feature" if features else "key"
        yield _missing(what, song.title, places.fault(song, problem=f"{song.title} has no key", write="key: Bb"))
    for field, (key, example) in SONG_KEYS.items():
        if getattr(song, field) is None:
            yield _missing(
                key, song.title, places.fault(song, problem=f"{song.title} has no {key}", write=f"{key}: {example}")
            )


def _of_road_map(song: Song, places: Places) -> Iterator[Missing]:
    if not song.road_map:
        problem = f"{song.title} has no road_map"
        yield _missing(
            "road_map",
            song.title,
            places.fault(song, problem=problem, write="road_map: Intro 4*, Verse 16, Chorus 8, Outro open"),
        )
    heard = bool(song.sounds)
    silent: list[Section] = []
    for section, counted in zip(song.road_map, with_bars(song).road_map, strict=True):
        heard = heard or bool(section.sounds)  # a section without its own has an earlier one's
        if section.feature and not heard:
            silent.append(section)
        if section.open and not section.tacet and not (section.watch or section.cue):
            problem = f"{song.title}, {section.name}: open, but nobody is named to watch"
            write = _written(section, places, "watch: singer", f"{section.name} open watch singer")
            yield _missing("watch", song.title, places.fault(section, problem=problem, write=write))
        if counted.bars is None and not section.open:
            problem = f"{song.title}, {section.name}: its bars are missing"
            write = _written(section, places, "bars: 8", f"{section.name} 8")
            yield _missing("bars", song.title, places.fault(section, problem=problem, write=write))
    for section in silent:
        problem = f"{song.title}, {section.name}: a feature without a sound"
        write = _written(section, places, "sound: its name", "@ and the sound's name")
        yield _missing("sound of a feature", song.title, places.fault(section, problem=problem, write=write))
    if not heard and not silent:
        yield _missing(
            "sound", song.title, places.fault(song, problem=f"{song.title} has no sound", write="sound: its name")
        )


def _written(section: Section, places: Places, long: str, short: str) -> str:
    """Return what to write, in the form in which the section is written."""
    table = places.node(section)
    return short if isinstance(table, Table) and is_shorthand(table) else long


def _missing(what: str, title: str, fault: Fault) -> Missing:
    return Missing(what, WEIGHTS[what][0], title, fault)
