"""The reader of show files: their keys and the values of each. It reports all faults of a file at once."""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import msgspec

from companion.changes import Change
from companion.errors import Fault, FaultyFile
from companion.files import (
    Form,
    Items,
    Many,
    Node,
    Places,
    Reading,
    SourceFile,
    Table,
    Text,
    choice,
    clock_time,
    date,
    length,
    parse,
    read_root,
    schema_of,
    whole,
    words,
    yes_no,
)
from companion.files.kinds import Schema
from companion.files.text_file import open_source
from companion.music import NotMusic, read_key
from companion.show.chords import written_while_in
from companion.show.model import Begins, Ending, Section, Set, Show, Song, Steps
from companion.show.practice_time import PRACTICE
from companion.show.roadmap import RoadMap
from companion.show.songbook import USE, Songbooks, is_songbook
from companion.show.value_kinds import (
    CHART,
    CHORDS,
    FEATURE,
    KEY,
    LINE,
    METER,
    NOTES,
    RHYTHM,
    SOUNDS,
    TEMPO,
    TITLE,
)


class ReadShow(msgspec.Struct, frozen=True):
    """A show with the place of each part, the warnings, and the songbooks that it uses.

    ``sources`` are its texts: the show file first, then its songbooks.
    """

    show: Show
    places: Places
    warnings: tuple[Fault, ...] = ()
    songbooks: tuple[Path, ...] = ()
    sources: tuple[SourceFile, ...] = ()


class ShowReading(Reading):
    """The state of reading a show file and its songbooks."""

    def __init__(self, path: str | os.PathLike[str]) -> None:
        super().__init__()
        self.songbooks = Songbooks(path)


SECTION = Form(
    Section,
    "a section",
    {
        "section": words(80, description="its name").into("name"),
        "bars": whole(1, 400, "whole bars"),
        "passes": whole(1, 32, "passes"),
        "open": yes_no(),
        "feature": FEATURE,
        "sound": SOUNDS.into("sounds"),
        "change": choice(Change),
        "chords": CHORDS,
        "hits": RHYTHM,
        "cue": LINE,
        "watch": LINE,
        "key": KEY,
        "first_words": LINE,
        "tacet": yes_no(),
        "ending": yes_no(),
    },
)


class SongForm(Form[Song]):
    """A song: keys and values, a title alone, or a song from a songbook plus what differs."""

    def read(self, node: Node, reading: Reading) -> Song | None:
        """Merge the songbook's song in, then read like any form."""
        if not (type(node) is Table and USE in node.entries and isinstance(reading, ShowReading)):
            return super().read(node, reading)
        table, written_for = reading.songbooks.with_used(node, reading)
        song = super().read(table, reading)
        return _moved(song, written_for, reading) if song and isinstance(written_for, Text) else song

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Require a title unless a songbook can supply it."""
        here = super().schema(parts)
        if parts["Song"].pop("required", None):
            parts["Song"]["anyOf"] = [{"required": ["title"]}, {"required": [USE]}]
        return here


def _moved(song: Song, written_for: Text, reading: Reading) -> Song:
    """Move the road map of a songbook's song into the show's key."""
    try:
        moved = written_while_in(song, read_key(written_for.text))
    except NotMusic:
        return song
    reading.places.move(song, moved)
    for before, after in zip(song.road_map, moved.road_map, strict=True):
        reading.places.move(before, after)
    return moved


SONG = SongForm(
    Song,
    "a song",
    {
        "title": TITLE,
        USE: LINE,
        "artist": LINE,
        "key": KEY,
        "record_key": KEY,
        "fingered_in": KEY,
        "chords_in": KEY,
        "first_words": LINE,
        "tempo": TEMPO.into("tempo_bpm"),
        "meter": METER,
        "length": length().into("length_s"),
        "starts_with": LINE,
        "count_off": LINE,
        "begins": choice(Begins),
        "steps": choice(Steps),
        "ending": choice(Ending),
        "sound": SOUNDS.into("sounds"),
        "change": choice(Change),
        "chart": CHART,
        "known": whole(0, 5, "how well it is known"),
        "hard": whole(0, 5, "how hard it is"),
        "recording": words(400),
        "notes": NOTES,
        "road_map": RoadMap(SECTION),
        "segue": TITLE,
        "tacet": yes_no(),
    },
    alone="title",
)


SET = Form(
    Set,
    "a set",
    {
        "set": words(80).into("name"),
        "starts": clock_time().into("starts_min"),
        "minutes": whole(1, 600, "minutes"),
        "songs": Many(SONG, "songs"),
    },
    optional=("name",),
    build=lambda values, _node, _reading: Set(**{"name": "", **values}),
)


def _show(values: dict[str, Any], node: Table, reading: Reading) -> Show | None:
    """Build the show: sets without a name get a number, songs without a set form one."""
    songs = values.pop("songs", None)
    if songs is not None and "sets" in values:
        reading.fault(node.entries["songs"][0], "with sets, songs belong inside them", "them under a set")
        return None
    if songs is not None:
        values["sets"] = (Set("", songs=songs),)
        reading.places.keep(values["sets"][0], node)
    named = []
    for number, one in enumerate(values.get("sets", ()), start=1):
        named.append(one if one.name else msgspec.structs.replace(one, name=f"Set {number}"))
        reading.places.move(one, named[-1])
    return Show(**{**values, "sets": tuple(named)})


SHOW = Form(
    Show,
    "a show",
    {
        "show": TITLE.into("title"),
        "band": LINE,
        "date": date(),
        "venue": LINE,
        "notes": NOTES,
        "practice": PRACTICE,
        "sets": Many(SET, "sets"),
        "songs": Many(SONG, "songs"),
    },
    build=_show,
)


def read_show(path: str | os.PathLike[str]) -> ReadShow:
    """Read a show file and the songbooks that it uses. Raises FaultyFile with all their faults."""
    return show_in(open_source(path))


def show_in(source: SourceFile) -> ReadShow:
    """Read a text as the show file at its path. Raises FaultyFile."""
    reading = ShowReading(source.path)
    root = parse(source, reading.faults)
    if is_songbook(root):
        slug = next(iter(root.entries)) if isinstance(root, Table) else ""
        write = f"a show whose songs use it: - use: {Path(source.path).name}#{slug}"
        raise FaultyFile((Fault(source.path, 0, 0, "this is a songbook, not a show", write),))
    show = read_root(root, SHOW, reading)
    books = reading.songbooks
    return ReadShow(show, reading.places, tuple(sorted(set(reading.warnings))), books.paths, (source, *books.sources))


def read_songbook(path: str | os.PathLike[str]) -> ReadShow | None:
    """Read a songbook as a show of all its songs; None if the file is not a songbook. Raises FaultyFile."""
    source = open_source(path)
    reading = ShowReading(path)
    root = parse(source, [])
    if not isinstance(root, Table) or not is_songbook(root):
        return None
    name = Path(path).name
    songs = []
    for slug, (key, _) in root.entries.items():
        named = Text(f"{name}#{slug}", source, key.line, key.column)
        songs.append(Table({USE: (named, named)}, source, key.line, key.column))
    title = Text(f"Songbook {name}", source, 1, 1)
    show = Table(
        {"show": (title, title), "songs": (title, Items(tuple(songs), source, 1, 1))}, source, root.line, root.column
    )
    return ReadShow(read_root(show, SHOW, reading), reading.places, tuple(sorted(set(reading.warnings))))


def songs_of_books(show_path: str | os.PathLike[str], books: Sequence[Path]) -> Iterator[Song]:
    """Yield the songs of these songbooks of the show, without faulty ones, up to the limit of a show."""
    for path in books:
        for _, song in book_songs(show_path, path):
            yield song


def book_songs(show_path: str | os.PathLike[str], path: Path) -> Iterator[tuple[str, Song]]:
    """Yield the songs of a songbook by slug, as this show would read them, without faulty ones."""
    reading = ShowReading(show_path)
    try:
        root = parse(open_source(path), [])
    except FaultyFile:
        return  # it became unreadable meanwhile
    for slug, (key, node) in root.entries.items() if isinstance(root, Table) else ():
        named = Text(f"{path.name}#{slug}", SourceFile(str(path), ""), node.line, node.column)
        faults = len(reading.faults)
        song = SONG.read(Table({USE: (key, named)}, named.source, node.line, node.column), reading)
        if song is not None and len(reading.faults) == faults:
            yield slug, song


def show_schema() -> Schema:
    """Return the JSON Schema (2020-12) of a show file, for editors that complete and check as you type."""
    return schema_of(SHOW, "A show")
