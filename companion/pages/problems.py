"""What is wrong or probably not meant in a show, each with the song and the field that it is about."""

import functools
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from companion.errors import Fault, FaultyFile
from companion.files import Table
from companion.night.preflight import faults_of_missed
from companion.pages.desk import SongOnDesk, Stack
from companion.regular import is_there
from companion.rig import Rig, read_rig, rig_for
from companion.show.sense import unreadable_chords, warnings_of
from companion.stage import Book, make_book


class Problem(msgspec.Struct, frozen=True):
    """A fault or warning. ``stops``: the stage cannot start with it. ``song``: the id on the page, if it is in one."""

    fault: Fault
    stops: bool = False
    song: str = ""
    title: str = ""
    field: str = ""


class OnThisRig:
    """A show on the rig that it would be played on. What is not asked for is not looked at."""

    def __init__(self, stack: Stack) -> None:
        self._stack = stack
        self._faults: tuple[Fault, ...] = ()
        self._warnings: tuple[Fault, ...] = ()
        self.rig: Rig | None = None
        """The rig, if it can be read."""
        try:
            read = read_rig(rig_for(stack.file.path).path)
            self.rig, self._warnings = read.rig, tuple(read.warnings)
        except FaultyFile as faulty:
            self._faults = faulty.faults

    @property
    def book(self) -> Book | None:
        """The show as the stage plays it; None without a rig."""
        return self._made[0]

    @functools.cached_property
    def _made(self) -> tuple[Book | None, tuple[Fault, ...]]:
        if self.rig is None:
            return None, ()
        book, missed = make_book(self._stack.show, self.rig)
        return book, tuple(faults_of_missed(self._stack.read, missed, self._stack.file.path))

    @property
    def sounds(self) -> tuple[str, ...]:
        """The names of the rig's sounds."""
        boards = self.rig.keyboards if self.rig is not None else ()
        return tuple(dict.fromkeys(sound.name for board in boards for sound in board.sounds))

    @functools.cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What ``companion check`` and ``companion play`` would find."""
        stack = self._stack
        show, places = stack.show, stack.read.places
        doubts = {*stack.read.warnings, *warnings_of(show, places, _exists(stack.file.path))}
        warnings = {*self._warnings, *unreadable_chords(show, places), *doubts}
        found = [_placed(stack, fault, stops=True) for fault in (*stack.faults, *self._faults, *self._made[1])]
        return (*found, *(_placed(stack, fault, stops=False) for fault in sorted(warnings)))

    @property
    def stopping(self) -> tuple[Problem, ...]:
        """The problems that keep the stage from starting."""
        return tuple(one for one in self.problems if one.stops)


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
