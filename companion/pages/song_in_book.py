"""A song that the show takes from a songbook: what is typed is for tonight alone, or for every show that plays it."""

import functools
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import (
    AddSection,
    Edit,
    FileText,
    MoveSection,
    NewText,
    Remove,
    SectionNamed,
    SetValue,
    applied_in_book,
    open_text,
)
from companion.edits.addresses import found_song
from companion.edits.spans import spans_of
from companion.errors import CompanionError, FaultyFile
from companion.files import SourceFile, Table, parse
from companion.files.text_file import open_source
from companion.pages.desk import SongOnDesk, Stack
from companion.show.road_map_text import short_road_map
from companion.show.show_file import SONG, ShowReading
from companion.show.songbook import USE

ROAD_MAP: Final = "road_map"
MAX_SHOWS: Final = 96
MAX_BESIDE: Final = 64
MOVES_WITH_KEY: Final = ("key", ROAD_MAP, "chords_in")


class SongInBook(msgspec.Struct, frozen=True):
    """A song's place in its songbook, and the keys that the show writes itself."""

    path: Path
    slug: str
    own: frozenset[str]

    def is_own(self, edit: Edit) -> bool:
        """Whether the show has this value already: then it is tonight's."""
        return _key_of(edit) in self.own


def song_in_book(stack: Stack, one: SongOnDesk) -> SongInBook | None:
    """Return where a song of the show comes from; None if it is the show's own."""
    path = stack.file.path
    try:
        song = found_song(spans_of(stack.file.text or "", str(path)), one.named)[1]
    except (CompanionError, FaultyFile):
        return None
    used = song.value_of(USE) if song.kind == "table" else None
    name, _, slug = used.text.partition("#") if used is not None else ("", "", "")
    if not slug:
        return None
    return SongInBook(path.parent / name, slug, frozenset(typed.text for typed, _ in song.entries) - {USE})


def for_tonight(stack: Stack, one: SongOnDesk, edits: Sequence[Edit]) -> tuple[Edit, ...]:
    """Return the edits for the show alone; the first one of a section copies the road map from the songbook.

    Raises CompanionError.
    """
    touched = [edit for edit in edits if _key_of(edit) == ROAD_MAP]
    book = song_in_book(stack, one) if touched else None
    if book is None or ROAD_MAP in book.own:
        return tuple(edits)
    copied: list[Edit] = []
    if one.song.road_map and any(_is_of_section(edit) for edit in touched):
        copy = short_road_map(one.song.road_map)
        if not copy:
            raise CompanionError("this road map cannot be copied for tonight: change it in the songbook")
        copied.append(SetValue((one.named, ROAD_MAP), copy))
    if (
        one.song.chords_in is not None and "chords_in" not in book.own
    ):  # its letters stay in the key they were written in
        copied.append(SetValue((one.named, "chords_in"), str(one.song.chords_in)))
    return (*copied, *edits)


def for_the_book(one: SongOnDesk, book: SongInBook, edits: Sequence[Edit], folder: Path | None = None) -> NewText:
    """Return the songbook's text with these edits. ``folder`` holds the undo lists.

    Raises CompanionError or FaultyFile.
    """
    if "key" in book.own and any(_key_of(edit) in MOVES_WITH_KEY for edit in edits):
        raise CompanionError(f"{one.song.title} is in another key in this show: change this for tonight only")
    file: FileText = open_text(book.path, folder)
    after = applied_in_book(file.text or "", book.slug, edits, str(book.path))
    _check(SourceFile(str(book.path), after), book.slug)
    return NewText(file, after)


def other_shows(book: SongInBook, show: Path, known: Iterable[Path]) -> tuple[str, ...]:
    """Return the titles of the other shows that take this song from the songbook: those known, and those beside it."""
    wanted = (book.path.resolve(), book.slug)
    seen, found = {show.resolve()}, []
    for path in (*known, *_beside(book.path.parent)):
        with suppress(OSError):
            if (real := path.resolve()) not in seen:
                seen.add(real)
                title, used = _used_in(path, path.stat().st_mtime_ns)
                found += [title] if wanted in used else []
    return tuple(found)


def _beside(folder: Path) -> tuple[Path, ...]:
    """Return the files of a folder that may be shows, the newest names first, up to a limit."""
    with suppress(OSError):
        return tuple(sorted(folder.glob("*.yaml"), reverse=True)[:MAX_BESIDE])
    return ()


@functools.lru_cache(MAX_SHOWS)
def _used_in(path: Path, changed_ns: int) -> tuple[str, frozenset[tuple[Path, str]]]:
    """Return a show's title, and the songs that it takes from songbooks; read again when the file has changed."""
    del changed_ns
    try:
        root = parse(open_source(path), [])
    except FaultyFile:
        return "", frozenset()
    title = root.entries.get("show") if isinstance(root, Table) else None
    return getattr(title[1], "text", "") if title else path.stem, frozenset(_uses(root, path.parent))


def _uses(node: object, folder: Path) -> Iterator[tuple[Path, str]]:
    """Yield the songbook and the slug of each song below a node."""
    if isinstance(node, Table):
        used = getattr(node.entries[USE][1], "text", "") if USE in node.entries else ""
        name, _, slug = used.partition("#")
        if slug:
            yield (folder / name).resolve(), slug
        for key in ("sets", "songs"):
            if key in node.entries:
                yield from _uses(node.entries[key][1], folder)
    for each in getattr(node, "nodes", ()):
        yield from _uses(each, folder)


def _key_of(edit: Edit) -> str:
    """Return the key of the song that an edit changes, or "" for the whole song."""
    if isinstance(edit, AddSection | MoveSection):
        return ROAD_MAP
    return str(edit.where[1]) if isinstance(edit, SetValue | Remove) and len(edit.where) > 1 else ""


def _is_of_section(edit: Edit) -> bool:
    if isinstance(edit, AddSection | MoveSection):
        return True
    return isinstance(edit, SetValue | Remove) and len(edit.where) > 2 and isinstance(edit.where[2], SectionNamed)


def _check(book: SourceFile, slug: str) -> None:
    """Raise FaultyFile if the song cannot be read any more."""
    reading = ShowReading(book.path)
    root = parse(book, reading.faults)
    if isinstance(root, Table) and slug in root.entries:
        SONG.read(root.entries[slug][1], reading)
    if reading.faults:
        raise FaultyFile(tuple(reading.faults))
