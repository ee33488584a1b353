"""What is wrong or probably not meant in a show, each with the song and the field that it is about."""

from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from companion.errors import Fault, FaultyFile
from companion.files import Table
from companion.night.preflight import faults_of_missed
from companion.pages.desk import SongOnDesk, Stack
from companion.regular import is_there
from companion.rig import Rig, read_rig, rig_for
from companion.show import Section
from companion.show.sense import unreadable_chords, warnings_of
from companion.stage import Book, make_book


class Problem(msgspec.Struct, frozen=True):
    """A fault or warning. ``stops``: the stage cannot start with it. ``song``: the id on the page, if it is in one."""

    fault: Fault
    stops: bool = False
    song: str = ""
    title: str = ""
    field: str = ""


class OnThisRig(msgspec.Struct, frozen=True):
    """A show on the rig that it would be played on: its book, the sounds offered, and the problems."""

    problems: tuple[Problem, ...]
    sounds: tuple[str, ...] = ()
    book: Book | None = None

    def with_map(self, one: SongOnDesk, sections: tuple[Section, ...]) -> Book | None:
        """Return the book with another road map for a song, as it is being typed."""
        if self.book is None:
            return None
        song = msgspec.structs.replace(one.song, road_map=sections)
        show, rig = self.book.show, self.book.rig
        here = show.sets[one.set_at]
        songs = (*here.songs[: one.song_at], song, *here.songs[one.song_at + 1 :])
        sets = (*show.sets[: one.set_at], msgspec.structs.replace(here, songs=songs), *show.sets[one.set_at + 1 :])
        return make_book(msgspec.structs.replace(show, sets=sets), rig)[0]

    @property
    def rig(self) -> Rig | None:
        """The rig, if it can be read."""
        return self.book.rig if self.book is not None else None

    @property
    def stopping(self) -> tuple[Problem, ...]:
        """The problems that keep the stage from starting."""
        return tuple(one for one in self.problems if one.stops)


def on_this_rig(stack: Stack) -> OnThisRig:
    """Look a show over on its rig, as ``companion check`` and ``companion play`` would."""
    path = stack.file.path
    rig: Rig | None = None
    stopping: list[Fault] = list(stack.faults)
    warnings: list[Fault] = []
    try:
        read = read_rig(rig_for(path).path)
        rig = read.rig
        warnings += read.warnings
    except FaultyFile as faulty:
        stopping += faulty.faults
    book: Book | None = None
    sounds: tuple[str, ...] = ()
    if rig is not None:
        book, missed = make_book(stack.show, rig)
        stopping += faults_of_missed(stack.read, missed, path)
        sounds = tuple(dict.fromkeys(sound.name for board in rig.keyboards for sound in board.sounds))
    warnings += unreadable_chords(stack.show, stack.read.places)
    warnings += {*stack.read.warnings, *warnings_of(stack.show, stack.read.places, _exists(path))}
    found = [_placed(stack, fault, stops=True) for fault in stopping]
    found += [_placed(stack, fault, stops=False) for fault in sorted(set(warnings))]
    return OnThisRig(tuple(found), sounds, book)


def _exists(path: Path) -> Callable[[str], bool]:
    return lambda name: is_there(path.parent / name)


def _placed(stack: Stack, fault: Fault, *, stops: bool) -> Problem:
    """Find the song and the field at a fault's place: the last one that begins before it in the same file."""
    best: tuple[tuple[int, int], SongOnDesk, str] | None = None
    for song, key, place in _fields(stack, fault.path):
        if place <= (fault.line, fault.column) and (best is None or place >= best[0]):
            best = (place, song, key)
    if best is None or not fault.line:
        return Problem(fault, stops)
    return Problem(fault, stops, best[1].mark, best[1].song.title, best[2])


def _fields(stack: Stack, path: str) -> Iterator[tuple[SongOnDesk, str, tuple[int, int]]]:
    for song in stack.songs:
        node = stack.read.places.node(song.song)
        if node is not None and node.source.path == path:
            yield song, "title", (node.line, node.column)
        for key, (typed, _behind) in node.entries.items() if isinstance(node, Table) else ():
            if typed.source.path == path:
                yield song, key, (typed.line, typed.column)
