"""How an edit names its place: a song by title, a set or section by name, each with its occurrence; then keys."""

from collections import Counter
from typing import Final

import msgspec

from companion.edits.spans import ValueSpan, spans_of
from companion.edits.splicing import NodePath
from companion.errors import CompanionError
from companion.show.songbook import USE

NO_SONG: Final = 'the song "{}" is gone'


class SongNamed(msgspec.Struct, frozen=True):
    """A song by its title as written in the file and its occurrence, from 1.

    A song from a songbook without its own title in the show is named by its ``use``.
    """

    title: str
    occurrence: int = 1

    def __str__(self) -> str:
        return self.title if self.occurrence == 1 else f"{self.title} ({self.occurrence})"


class SetNamed(msgspec.Struct, frozen=True):
    """A set by its name ("Set 2" if it has none) and its occurrence, from 1."""

    name: str
    occurrence: int = 1

    def __str__(self) -> str:
        return self.name


class SectionNamed(msgspec.Struct, frozen=True):
    """A section of a road map by its name and its occurrence, from 1."""

    name: str
    occurrence: int = 1

    def __str__(self) -> str:
        return self.name if self.occurrence == 1 else f"{self.name} ({self.occurrence})"


Step = str | int | SongNamed | SetNamed | SectionNamed
EditPlace = tuple[Step, ...]
"""A place: a song, set or section by name, then keys and numbers in lists (from 0), from the top of the file."""


class SongList(msgspec.Struct, frozen=True):
    """The songs of one set: the places of its table and its list, and each song's number in the list and name."""

    named: SetNamed
    table_way: NodePath
    way: NodePath
    songs: tuple[tuple[int, SongNamed], ...] = ()


def song_lists(root: ValueSpan) -> tuple[SongList, ...]:
    """Return the song list of each set, in written order; a show without sets has one, "Set 1"."""
    titles: Counter[str] = Counter()
    sets: Counter[str] = Counter()
    found = []
    for table_way, node, name in _sets(root):
        sets[name] += 1
        listed = node.value_of("songs") if node.kind == "table" else None
        songs = []
        for number, song in enumerate(listed.items if listed is not None else ()):
            if song.is_nothing:
                continue
            title = title_of(song)
            titles[title] += 1
            songs.append((number, SongNamed(title, titles[title])))
        found.append(SongList(SetNamed(name, sets[name]), table_way, (*table_way, "songs"), tuple(songs)))
    return tuple(found)


def names_in(text: str, path: str = "") -> tuple[tuple[SongNamed, ...], ...]:
    """Return the names of a show file's songs, set by set, in the reader's order."""
    return tuple(tuple(name for _, name in one.songs) for one in song_lists(spans_of(text, path)))


def title_of(song: ValueSpan) -> str:
    """Return a song's title as written, or its ``use`` if it has none."""
    if song.kind == "text":
        return song.text
    title = song.value_of("title") or song.value_of(USE)
    return title.text if title is not None else ""


def found_song(root: ValueSpan, named: SongNamed) -> tuple[NodePath, ValueSpan]:
    """Return a song's place and the song. Raises CompanionError if it is not in the file."""
    for one in song_lists(root):
        for number, name in one.songs:
            if name == named:
                way = (*one.way, number)
                return way, value_at(root, way)
    raise CompanionError(NO_SONG.format(named))


def found_set(root: ValueSpan, named: SetNamed) -> SongList:
    """Return a set's place and the set. Raises CompanionError if it is not in the file."""
    for one in song_lists(root):
        if one.named == named:
            return one
    raise CompanionError(f'the set "{named}" is gone')


def way_of(root: ValueSpan, where: EditPlace) -> NodePath:
    """Return a place as keys and numbers; it must not name a section. Raises CompanionError."""
    first, *rest = where
    way: NodePath
    if isinstance(first, SongNamed):
        way = found_song(root, first)[0]
    elif isinstance(first, SetNamed):
        way = found_set(root, first).table_way
        if not way and rest:
            raise CompanionError(f"the songs are not in sets, so a set's {rest[0]} has no place. Write: sets:")
    else:
        way = (first,) if isinstance(first, str | int) else ()
    for step in rest:
        if not isinstance(step, str | int):
            raise CompanionError(f"{step} is not there")
        way = (*way, step)
    return way


def value_at(root: ValueSpan, way: NodePath) -> ValueSpan:
    """Return the value at an existing place. Raises CompanionError if it is gone."""
    node = root
    for key in way:
        found = node.value_of(key) if isinstance(key, str) else node.items[key]
        if found is None:
            raise CompanionError(f"{key} is gone")
        node = found
    return node


def _sets(root: ValueSpan) -> list[tuple[NodePath, ValueSpan, str]]:
    if root.kind != "table":
        return []
    if root.value_of("songs") is not None:
        return [((), root, "Set 1")]
    sets = root.value_of("sets")
    found: list[tuple[NodePath, ValueSpan, str]] = []
    for number, one in enumerate(sets.items if sets is not None else ()):
        if one.is_nothing:
            continue
        name = one.value_of("set") if one.kind == "table" else None
        found.append((("sets", number), one, name.text if name is not None and name.text else f"Set {len(found) + 1}"))
    return found
