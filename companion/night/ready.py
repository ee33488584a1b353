"""What must be right before the first note: show and rig read, and every sound of the show found on the rig."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from companion.errors import Fault, FaultyFile
from companion.rig import ChosenRig, read_rig, rig_for
from companion.show import ReadShow, read_show
from companion.stage import Book, Missed, make_book

if TYPE_CHECKING:
    from companion.show import Missing


class Ready(msgspec.Struct, frozen=True):
    """A show that can be played on a rig. ``warnings`` are of both files: allowed, and probably not meant."""

    show: ReadShow
    chosen: ChosenRig
    book: Book
    warnings: tuple[Fault, ...]


def make_ready(show_path: Path, rig_path: Path | None = None, *, goes_on: Callable[[], bool] = lambda: False) -> Ready:
    """Read both files and find every sound.

    Raises FaultyFile with all faults of both files at once; the sounds that the rig lacks are told beside them where
    both can be read. Where ``goes_on`` says that a night has begun already, these are warnings: a section without its
    sound is worse than one with it, and far better than no show.
    """
    chosen = rig_for(show_path, rig_path)
    faults: list[Fault] = []
    show = rig = None
    try:
        show = read_show(show_path)
    except FaultyFile as faulty:
        faults += faulty.faults
    try:
        rig = read_rig(chosen.path)
    except FaultyFile as faulty:
        faults += faulty.faults
    if show is None or rig is None:
        raise FaultyFile(tuple(faults))
    book, missed = make_book(show.show, rig.rig)
    lacking = faults_of_missed(show, missed, show_path)
    if lacking and not goes_on():
        raise FaultyFile(lacking)
    return Ready(show, chosen, book, (*show.warnings, *rig.warnings, *lacking))


def faults_of_missed(show: ReadShow, missed: Sequence[Missed], path: Path) -> tuple[Fault, ...]:
    """Tell the sounds that the rig lacks, each where the show asks for it."""
    problems = (
        show.places.fault(one.asked_by, "sound", problem=one.missing.problem, write=one.missing.write, path=str(path))
        for one in missed
    )
    return tuple(dict.fromkeys(problems))


class Examined(msgspec.Struct, frozen=True):
    """All that can be said of a show before the night: what is wrong, what is probably not meant, what is missing."""

    faults: tuple[Fault, ...] = ()
    warnings: tuple[Fault, ...] = ()
    missing: "tuple[Missing, ...]" = ()
    rig: str = ""


def examine(show_path: Path, rig_path: Path | None = None) -> Examined:
    """Examine a show on a rig, as ``companion check`` tells it. Never raises for what is in the files."""
    try:
        ready = make_ready(show_path, rig_path)
    except FaultyFile as faulty:
        return Examined(faulty.faults)
    from companion.show import check  # noqa: PLC0415 - a night that begins needs none

    found = check(ready.show, exists=lambda name: (show_path.parent / name).exists())
    warnings = tuple(sorted({*ready.warnings, *found.warnings}))
    return Examined((), warnings, found.missing, ready.chosen.because)
