"""A road map as it is typed: in shorthand, or one field of one section; what it counts, and faults at their letter."""

import functools
import re
from collections.abc import Callable, Sequence
from typing import Any, Final

import msgspec

from companion.edits import AddSection, Edit, MoveSection, Remove, SectionNamed, SetValue
from companion.errors import CompanionError, Fault
from companion.files import Reading, SourceFile, Text
from companion.how_many import how_many
from companion.music import NotMusic, read_chord_line, shown_length, song_seconds
from companion.music.chord_line_signs import FOUR_FOUR
from companion.pages.desk import SongOnDesk, Stack
from companion.pages.song_fields import (
    CHANGES,
    FIELDS,
    SOUND_ON,
    ChangedMeanwhile,
    FieldRefused,
    SongField,
    edits_for,
    key_value,
    one_of,
    sounds_text,
    sounds_value,
    yes_shown,
    yes_value,
)
from companion.pages.wanted import WantedEdit, WantedRow
from companion.show import Section, Set, Show, Song
from companion.show.chords import needs_chords_in, record_letters_key, times_of_chords, with_bars
from companion.show.road_map_text import short_road_map
from companion.show.roadmap import RoadMap
from companion.show.sense import unreadable_chords, warnings_of
from companion.show.show_file import SECTION
from companion.show.songbook import CHORDS_IN

ROAD_MAP: Final = "road_map"
LONGEST_MAP: Final = 60_000  # characters: 400 sections with chords
CHANGE: Final = one_of(CHANGES)
PLAIN: Final = "feature"  # a plain * in the margin
WHOLE: Final = re.compile(r"[0-9]{1,3}")


def _whole(typed: str) -> object:
    if not WHOLE.fullmatch(typed):
        raise FieldRefused("a number, please")
    return int(typed)


def _feature(typed: str) -> object:
    return True if typed in ("yes", "*", PLAIN) else typed


def _feature_shown(section: Section) -> str:
    return "yes" if section.feature == PLAIN else section.feature or ""


def _text(typed: str) -> object:
    return typed


def _shown(name: str) -> Callable[[Any], str]:
    def shown(section: Section) -> str:
        value = getattr(section, name)
        return "yes" if value is True else "" if value in (None, False) else str(value)

    return shown


SECTION_FIELDS: Final = {
    one.key: one
    for one in (
        SongField("section", "Section", _shown("name"), _text),
        SongField("bars", "Bars", _shown("bars"), _whole),
        SongField("passes", "Times", lambda one: str(one.passes) if one.passes > 1 else "", _whole),
        SongField("sound", "Sound", lambda one: sounds_text(one.sounds), sounds_value),
        SongField("feature", "Feature", _feature_shown, _feature),
        SongField("open", "Open", yes_shown("open"), yes_value, is_flag=True),
        SongField("tacet", "Tacet", yes_shown("tacet"), yes_value, is_flag=True),
        SongField("key", "Key", _shown("key"), key_value),
        SongField("watch", "Watch", _shown("watch"), _text),
        SongField("cue", "Cue", _shown("cue"), _text),
        SongField("first_words", "First words", _shown("first_words"), _text),
        SongField("hits", "Hits", _shown("hits"), _text),
        SongField(
            "change", "Sound changes", lambda one: one.change.value if one.change else "", CHANGE, choices=CHANGES
        ),
        SongField("ending", "The ending starts here", yes_shown("ending"), yes_value, is_flag=True),
        SongField("chords", "Chords", _shown("chords"), _text, is_long=True),
    )
}
MAP_FIELD: Final = SongField(ROAD_MAP, "Road map", lambda song: map_text(song), _text, is_long=True)  # noqa: PLW0108  defined below
ROW_SAYS: Final = {
    "add-row": "a section more",
    "row-up": "a section moved up",
    "row-down": "a section moved down",
    "row-out": "a section taken out",
}


class MapRead(msgspec.Struct, frozen=True):
    """A road map in shorthand as far as it can be read; the faults' lines and columns count in the typed text."""

    sections: tuple[Section, ...]
    faults: tuple[Fault, ...]
    warnings: tuple[Fault, ...] = ()


def read_map(typed: str, song: Song) -> MapRead:
    """Read a road map in shorthand for a song of this meter."""
    reading = Reading()
    text = Text(typed, SourceFile("", f"|\n{typed}"), 1, 1, "|")  # as below its key in a file
    sections = RoadMap(SECTION).read(text, reading) or ()
    alone = msgspec.structs.replace(song, road_map=sections, segue=None, chart=None, recording=None)
    show = Show("", sets=(Set("", songs=(alone,)),))
    faults = (*reading.faults, *unreadable_chords(show, reading.places))
    warnings = (*reading.warnings, *warnings_of(show, reading.places))
    return MapRead(sections, _in_typed(faults), _in_typed(warnings))


def _in_typed(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the faults with lines that count in the typed text, in order."""
    return tuple(sorted({fault._replace(line=fault.line - 1) for fault in faults}))


def counted(song: Song, sections: Sequence[Section]) -> str:
    """Return how many bars a road map has, and how long they last at the song's tempo."""
    if not sections:
        return ""
    whole = with_bars(msgspec.structs.replace(song, road_map=tuple(sections))).road_map
    bars = sum((section.bars or 0) * section.passes for section in whole)
    unknown = sum(section.bars is None for section in whole)
    words = f"{how_many(len(whole), 'section')}, {how_many(bars, 'bar')}"
    if unknown:
        words += f", {unknown} without bars"
    if song.tempo_bpm and bars:
        words += f", {shown_length(song_seconds(bars, song.meter or FOUR_FOUR, song.tempo_bpm))} at {song.tempo_bpm:g}"
    return words


def chords_counted(typed: str, song: Song, section: Section) -> tuple[str, int | None]:
    """Return the words about a chord line that is being typed, and the column of its fault, from 0."""
    if not typed.strip():
        return "", None
    try:
        bars = read_chord_line(typed, song.meter or FOUR_FOUR).bars
    except NotMusic as wrong:
        return str(wrong), wrong.column
    words = how_many(bars, "bar")
    times = times_of_chords(section.bars, bars)
    if times > 1:
        words += f" of chords, {times} times in the section's {section.bars}"
    elif section.bars is not None and bars != section.bars:
        words += f" of chords; the section has {section.bars}"
    return words, None


def map_text(song: Song) -> str:
    """Return a song's road map in shorthand; "" if shorthand cannot hold it."""
    return _short(song.road_map)


@functools.lru_cache(8)  # an answer compares it before and after
def _short(sections: tuple[Section, ...]) -> str:
    return short_road_map(sections)


def named(song: Song, at: int) -> SectionNamed:
    """Return a section's name for edits. Raises CompanionError if there is none."""
    if not 0 <= at < len(song.road_map):
        raise CompanionError("that section is no longer in the road map")
    name = song.road_map[at].name
    return SectionNamed(name, [one.name for one in song.road_map[: at + 1]].count(name))


def map_edits(stack: Stack, one: SongOnDesk, typed: str, was: str) -> tuple[Edit, ...]:
    """Return the edits that write a road map in shorthand. Raises FieldRefused, ChangedMeanwhile."""
    text, now = typed.strip().replace("\r\n", "\n"), map_text(one.song)
    if text == now.strip():
        return ()
    if now.strip() != was.strip().replace("\r\n", "\n"):
        raise ChangedMeanwhile(now)
    if len(text) > LONGEST_MAP:
        raise FieldRefused(f"{len(text):,} characters are too many: at most {LONGEST_MAP:,}")
    if not text:
        return (Remove((one.named, ROAD_MAP)),)
    faults = read_map(text, one.song).faults
    if faults:
        first = faults[0]
        write = f". Write: {first.write}" if first.write else ""
        raise FieldRefused(f"line {first.line}, column {first.column}: {first.problem}{write}")
    node = stack.read.places.node(one.song, ROAD_MAP)
    ends = "\n" if isinstance(node, Text) and node.text.endswith("\n") else ""  # as the one that it replaces
    return (SetValue((one.named, ROAD_MAP), text + ends),)


def section_edits(one: SongOnDesk, at: int, field: SongField, typed: str, was: str) -> tuple[Edit, ...]:
    """Return the edits that write one field of a section. Raises FieldRefused, ChangedMeanwhile, CompanionError."""
    where = named(one.song, at)
    text, now = typed.strip(), field.shown(one.song.road_map[at])
    if text == now:
        return ()
    if now != was.strip():
        raise ChangedMeanwhile(now)
    if not field.is_long and not text.isprintable():
        raise FieldRefused("one line of letters, please")
    if field.key == "chords":
        words, column = chords_counted(text, one.song, one.song.road_map[at])
        if column is not None:
            raise FieldRefused(words)
    place = (one.named, ROAD_MAP, where, field.key)
    if not text:
        if field.key == "section":
            raise FieldRefused("a section has a name")
        return (Remove(place),)
    return (SetValue(place, field.value(text)),)


def field_of(wanted: WantedEdit) -> SongField:
    """Return the field that a page means. Raises CompanionError."""
    fields = FIELDS | {ROAD_MAP: MAP_FIELD} if wanted.section is None else SECTION_FIELDS
    field = fields.get("sound" if wanted.field.startswith(SOUND_ON) else wanted.field)
    if field is None:
        raise CompanionError("there is no such field")
    return field


def edits_of_field(stack: Stack, one: SongOnDesk, field: SongField, wanted: WantedEdit) -> tuple[Edit, ...]:
    """Return the edits of one typed field. Raises FieldRefused, ChangedMeanwhile, CompanionError."""
    if wanted.section is not None:
        return section_edits(one, wanted.section, field, wanted.value, wanted.was)
    if field.key == ROAD_MAP:
        edits = map_edits(stack, one, wanted.value, wanted.was)
        return (*edits, *_chords_in_edits(one, wanted.value)) if edits and wanted.heard else edits
    return edits_for(stack, one, field, wanted.value, wanted.was)


def _chords_in_edits(one: SongOnDesk, heard: str) -> tuple[Edit, ...]:
    """Return the edit that says in which key the letters of a heard road map are. Raises FieldRefused."""
    if not any(section.chords for section in read_map(heard, one.song).sections):
        return ()
    key = record_letters_key(one.song)
    if key is None:
        raise FieldRefused("the key of these chords is not known. Write the key on the record first")
    return (SetValue((one.named, CHORDS_IN), str(key)),) if needs_chords_in(one.song, key) else ()


def row_edits(one: SongOnDesk, wanted: WantedRow) -> tuple[Edit, ...]:
    """Return the edits that add, move or take out a section. Raises CompanionError."""
    match wanted.does:
        case "add-row":
            return with_new(one, wanted.at)
        case "row-out":
            return without_one(one, wanted.at)
        case "row-up" | "row-down":
            return moved_by(one, wanted.at, -1 if wanted.does == "row-up" else 1)


def with_new(one: SongOnDesk, at: int) -> tuple[Edit, ...]:
    """Return the edits that add a section after the one at ``at``; at the end of an empty road map for -1."""
    after = named(one.song, at) if at >= 0 else None
    like = one.song.road_map[at] if at >= 0 else None
    section: dict[str, object] = {
        "section": like.name if like else "Verse",
        "bars": like.bars if like and like.bars else 8,
    }
    return (AddSection(one.named, section, after),)


def without_one(one: SongOnDesk, at: int) -> tuple[Edit, ...]:
    """Return the edits that take a section out."""
    return (Remove((one.named, ROAD_MAP, named(one.song, at))),)


def moved_by(one: SongOnDesk, at: int, by: int) -> tuple[Edit, ...]:
    """Return the edits that move a section up (-1) or down (1). Raises CompanionError at the edge."""
    to = at + by
    this = named(one.song, at)
    if not 0 <= to < len(one.song.road_map):
        raise CompanionError(f"{this.name} is {'first' if by < 0 else 'last'} already")
    if by > 0:
        return (MoveSection(one.named, this, named(one.song, to)),)
    return (MoveSection(one.named, this, named(one.song, to - 1) if to else None),)
