"""Checks before the first note: show and rig are read, and every sound of the show is found on the rig."""

from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion.errors import Fault, FaultyFile
from companion.night.read_before import ReadBefore, as_read, keep_reading, read_before
from companion.regular import is_there
from companion.rig import ChosenRig, Rig, rig_for, sounds_offered
from companion.stage import Book, Missed, make_book

if TYPE_CHECKING:
    from companion.rig import ReadRig
    from companion.show import Missing, ReadShow


class Ready(msgspec.Struct, frozen=True):
    """A show that can be played on a rig. ``warnings`` of both files are allowed, but probably not meant."""

    chosen: ChosenRig
    book: Book
    warnings: tuple[Fault, ...]
    songbooks: tuple[Path, ...] = ()
    just_read: ReadBefore | None = None  # None if it came from the cache

    def keep(self, shelf: Path) -> None:
        """Save what was read for the next start. Raises NotWritten."""
        if self.just_read is not None:
            keep_reading(shelf, self.just_read)


def make_ready(
    show_path: Path,
    rig_path: Path | None = None,
    *,
    goes_on: Callable[[], bool] = lambda: False,
    shelf: Path | None = None,
) -> Ready:
    """Read both files, unless the ``shelf`` has them cached, and find every sound.

    Raises FaultyFile with all faults of both files at once, including the sounds that the rig lacks if both can be
    read. If a night has begun already (``goes_on``), missing sounds are warnings: a section without its sound is bad,
    but far better than no show.
    """
    chosen = rig_for(show_path, rig_path)
    before = read_before(shelf, show_path, chosen.path) if shelf else None
    if before is not None:
        book, missed = make_book(before.show, before.rig)
        if not missed:
            return Ready(chosen, book, before.warnings, tuple(map(Path, before.songbooks)))
    show, rig = _read_both(show_path, chosen.path)
    book, missed = make_book(show.show, rig.rig)
    lacking = faults_of_missed(show, missed, show_path)
    if lacking and not goes_on():
        raise FaultyFile(once_a_sound(lacking))
    return Ready(
        chosen, book, (*show.warnings, *rig.warnings, *once_a_sound(lacking)), show.songbooks, as_read(show, rig)
    )


def _songbook(path: Path) -> "ReadShow | None":
    """Return the songs of a songbook as a show; None if the file is something else, or cannot be read."""
    from companion.show.show_file import read_songbook

    return read_songbook(path) if is_there(path) else None


def _read_both(show_path: Path, rig_path: Path, book: "ReadShow | None" = None) -> "tuple[ReadShow, ReadRig]":
    """Read both files, unless the show is a songbook read before. Raises FaultyFile with all faults of both."""
    from companion.rig import read_rig
    from companion.show import read_show

    faults: list[Fault] = []
    show, rig = book, None
    try:
        show = show or read_show(show_path)
    except FaultyFile as faulty:
        faults += faulty.faults
    try:
        rig = read_rig(rig_path)
    except FaultyFile as faulty:
        faults += faulty.faults
    if show is None or rig is None:
        raise FaultyFile(tuple(faults))
    return show, rig


def faults_of_missed(show: "ReadShow", missed: Sequence[Missed], path: Path) -> tuple[Fault, ...]:
    """Return a fault for each sound that the rig lacks, where the show asks for it."""
    problems = (
        show.places.fault(one.asked_by, "sound", problem=one.missing.problem, write=one.missing.write, path=str(path))
        for one in missed
    )
    return tuple(dict.fromkeys(problems))


def once_a_sound(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return only the first fault of each missing sound, with the number of places that ask for it."""
    places = Counter((one.problem, one.write) for one in faults)
    first = {(one.problem, one.write): one for one in sorted(faults, reverse=True)}
    return tuple(
        one._replace(problem=f"{one.problem} (asked for in {many} places)") if (many := places[what]) > 1 else one
        for what, one in sorted(first.items(), key=lambda each: each[1])
    )


def _with_sounds(missing: "Missing", rig: Rig) -> "Missing":
    """Offer sounds of the rig where a sound is missing."""
    if missing.what not in ("sound", "sound of a feature"):
        return missing
    fault = missing.fault
    write = fault.write.replace("its name", sounds_offered(rig)).replace("the sound's name", sounds_offered(rig))
    return msgspec.structs.replace(missing, fault=fault._replace(write=write))


OF_ENGAGEMENT: Final = ("date", "band", "minutes", "starts")
"""What a show has and a songbook does not."""


class Examined(msgspec.Struct, frozen=True):
    """The findings about a show before the night: what is wrong, what is probably not meant, what is missing."""

    faults: tuple[Fault, ...] = ()
    warnings: tuple[Fault, ...] = ()
    missing: "tuple[Missing, ...]" = ()
    rig: str = ""


def examine(show_path: Path, rig_path: Path | None = None) -> Examined:
    """Examine a show or a songbook on a rig, for ``companion check``. Never raises because of a file's contents."""
    chosen = rig_for(show_path, rig_path)
    try:
        book = _songbook(show_path)
        show, rig = _read_both(show_path, chosen.path, book)
    except FaultyFile as faulty:
        return Examined(faulty.faults)
    lacking = faults_of_missed(show, make_book(show.show, rig.rig)[1], show_path)
    if lacking:
        return Examined(once_a_sound(lacking))
    from companion.show import check

    found = check(show, exists=lambda name: is_there(show_path.parent / name))
    from companion.night.letters import boxes

    drawn = boxes(show.show, show_path)
    warnings = tuple(sorted({*show.warnings, *rig.warnings, *found.warnings, *drawn}))
    missing = tuple(
        _with_sounds(one, rig.rig) for one in found.missing if book is None or one.what not in OF_ENGAGEMENT
    )
    return Examined(found.faults, warnings, missing, chosen.because)
