"""States together: every scene of the stage screen while the set runs over, ports are lost, and much else is said."""

import itertools
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from msgspec.structs import replace

from companion.music import read_key, read_meter
from companion.rig import Keyboard, Rig, Sound
from companion.screen.blocks import ScreenBlock
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of
from companion.screen.scenes import Scene, scenes
from companion.screen.screen_fonts import typeface
from companion.show import Ending, Section, Set, Show, Song, SoundCall
from companion.stage import Book, Surroundings, make_book
from companion.view import LineRole, View, ViewLine

WIDTH_MM = 345.0  # of a laptop's screen, 15.6 inches; upright, its height
SIZES = ((1024, 600), (1366, 768), (1920, 1080), (2560, 1440), (3840, 2160), (1080, 1920))
DISTANCES_M = (1.8, 3.0)
MUST = (LineRole.SECTION, LineRole.NEXT, LineRole.WATCH, LineRole.TITLE, LineRole.COUNT)
LEGIBLE_ARCMIN = 20.0

SHORT = {"solo": "Solo", "play": "Verse", "after": "Chorus", "title": "Kettle", "who": "Bo", "sound": "piano"}
LONG = {
    "solo": "Zwischenspiel",
    "play": "Instrumental after second chorus",
    "after": "Final double chorus",
    "title": "The Lamplighter's Second Daughter and the Tram Conductor (reprise)",
    "who": "second guitar player",
    "sound": "electric piano with slow tremolo",
}


class Case(NamedTuple):
    """One page: what is shown, where."""

    name: str
    view: View
    page: PageSize


def book_of(words: dict[str, str], *, road_maps: bool) -> Book:
    sound = SoundCall(words["sound"], "lower")
    road_map = (
        Section("Intro", 4, feature="riff alone", sounds=(sound,), watch=words["who"]),
        Section(words["play"], 16, first_words="under the old", chords="1 | 4 | 1 | 5"),
        Section(
            words["solo"], 8, feature="solo", open=True, watch=words["who"], cue="two fingers up is one more round"
        ),
        Section(words["after"], 8, passes=2, key=read_key("Eb"), hits="4, 4&"),
        Section(words["play"], 8, tacet=True, watch=words["who"], cue="voice and bass only, back in on the snare"),
        Section("Outro", 8, open=True, passes=2, key=read_key("E")),
    )
    known = Song(
        words["title"],
        key=read_key("D"),
        tempo_bpm=112.0,
        meter=read_meter("4/4"),
        starts_with=words["who"],
        count_off="two bars, sticks",
        ending=Ending.RITARD,
        sounds=(sound, SoundCall("tonewheel organ", "upper")),
        road_map=road_map if road_maps else (),
        notes="half-time in the bridge; this band plays it lower than the record",
    )
    follows = replace(known, title=f"Second {words['title']}", sounds=(sound,))
    sets = (
        Set("First", 1200, 45, (replace(known, segue=follows.title), follows, replace(known, title="Market Day"))),
        Set("Set 2", 1265, 45, (follows,)),
    )
    sounds = (Sound("piano", 0), Sound(LONG["sound"], 4), Sound("tonewheel organ", 16))
    boards = tuple(Keyboard(name, port=f"{name} port", sounds=sounds) for name in ("lower", "upper"))
    book, missed = make_book(Show("Pier Street midsummer dance", sets=sets), Rig("two", boards))
    assert not missed
    return book


def shows() -> Iterator[tuple[str, Book]]:
    for (said, words), road_maps in itertools.product((("short", SHORT), ("long", LONG)), (True, False)):
        yield f"{said} words, {'with' if road_maps else 'no'} road maps", book_of(words, road_maps=road_maps)


def troubles(around: Surroundings) -> Iterator[tuple[str, Surroundings]]:
    """Yield these surroundings with every combination of what may be wrong."""
    wrong: dict[str, dict[str, Any]] = {
        "over": {"over_min": 28, "ends": "22:48"},
        "notice": {"notices": ("show edited: f5 to read it",)},
        "lost": {"lost": ("lower port", "Foot Box")},
        "battery": {"battery_percent": 9},
    }
    for many in range(len(wrong) + 1):
        for names in itertools.combinations(wrong, many):
            changed = {field: value for name in names for field, value in wrong[name].items()}
            yield " ".join(names) or "calm", replace(around, **changed)


def pages() -> Iterator[tuple[str, PageSize]]:
    for (wide, high), distance_m in itertools.product(SIZES, DISTANCES_M):
        width_mm = WIDTH_MM if wide > high else WIDTH_MM * wide / high
        yield f"{wide}x{high} at {distance_m} m", page_of((wide, high), (wide, high), width_mm, distance_m)


def cases(every: int = 1) -> Iterator[Case]:
    """Yield every case, or each so-manieth; the two lights have the same layout."""
    on_pages = tuple(pages())
    number = 0
    for told, book in shows():
        for scene in scenes(book):
            for (wrong, around), (size, page) in itertools.product(tuple(troubles(scene.around)), on_pages):
                number += 1
                if number % every == 0:
                    seen = Scene(scene.name, scene.state, around, scene.looks).view
                    yield Case(f"{scene.name}; {told}; {wrong}; {size}", seen, page)


def faults(case: Case) -> Iterator[str]:
    """Yield what a player would miss or misread on this page."""
    blocks = lay_out(case.view, case.page, typeface())
    for line in must(case.view):
        here = [block for block in blocks if block.part is line.part and block.text not in ("", "→", line.label)]
        if said(here) not in {plain(form) for form in (line.text, *line.shorter)}:
            yield f"{line.part.value} {line.text!r} is {[block.text for block in here]}"
        if any(block.arcmin < LEGIBLE_ARCMIN for block in here):
            yield f"{line.part.value} is smaller than is legible"
    for block in blocks:
        if block.x < 0 or block.y < 0:
            yield f"{block} leaves the page"
        if block.x + block.width > case.page.width or block.y + block.height > case.page.height:
            yield f"{block} leaves the page"
    for one, other in itertools.combinations(blocks, 2):
        if overlap(one, other):
            yield f"{one} lies over {other}"


def must(view: View) -> Iterator[ViewLine]:
    """Yield the lines that must be on this page, whole."""
    for part in MUST:
        line = view.of(part)
        if line is not None:
            yield line


def said(blocks: Iterable[ScreenBlock]) -> str:
    return plain("".join(block.text for block in blocks))


def plain(text: str) -> str:
    return "".join(text.split())


def overlap(one: ScreenBlock, other: ScreenBlock) -> bool:
    return (
        min(one.x + one.width, other.x + other.width) - max(one.x, other.x) > 1
        and min(one.y + one.height, other.y + other.height) - max(one.y, other.y) > 1
    )
