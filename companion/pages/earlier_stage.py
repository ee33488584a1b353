"""A stage that an earlier run of the pages started and that still plays: found again, so that a page can end it."""

import signal
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.pages.visitor import keep, kept_path
from companion.regular import read_regular

if TYPE_CHECKING:
    import psutil

TONIGHT: Final = "tonight"
MAX_BYTES: Final = 4096
SAME_S: Final = 0.01  # a start time as JSON holds it; psutil measures to a hundredth of a second


class KeptStage(msgspec.Struct, frozen=True):
    """A process, by its number and by when it started: the system gives numbers out again. ``how`` it was started."""

    process: int
    started: float
    how: str = TONIGHT


class EarlierStage(NamedTuple):
    """A stage that still runs, and how it was started."""

    process: "psutil.Process"
    how: str


def note_stage(folder: Path, show: Path, process: int, how: str) -> None:
    """Note a show's stage that was just started; if the note cannot be written, the stage still plays."""
    import psutil

    try:
        keep(_path(folder, show), KeptStage(process, psutil.Process(process).create_time(), how))
    except (CompanionError, OSError, psutil.Error):
        return


def earlier_stage(folder: Path, show: Path) -> EarlierStage | None:
    """Return a show's stage that was noted and still runs, or None."""
    try:
        kept = msgspec.json.decode(read_regular(_path(folder, show), MAX_BYTES), type=KeptStage)
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        return None
    import psutil

    try:
        found = psutil.Process(kept.process)
        is_same = abs(found.create_time() - kept.started) <= SAME_S
    except (psutil.Error, ValueError, OverflowError):
        return None
    if is_same and still_runs(found):
        return EarlierStage(found, kept.how)
    with suppress(OSError):
        _path(folder, show).unlink()  # it has ended
    return None


def still_runs(process: "psutil.Process") -> bool:
    """Return whether a process is there and has not ended."""
    import psutil

    try:
        return process.is_running() and process.status() != psutil.STATUS_ZOMBIE
    except psutil.Error:
        return False


def ending_signal(how: str) -> int:
    """Return the signal that ends a stage: a rehearsal is over then, a night keeps its place for the next start."""
    return signal.SIGTERM if how == TONIGHT or sys.platform == "win32" else signal.SIGINT


def end_stage(stage: EarlierStage, within_s: float) -> bool:
    """Ask a stage to end; return whether it has ended in time."""
    import psutil

    process = stage.process
    try:
        process.send_signal(ending_signal(stage.how))
        process.wait(within_s)
    except psutil.NoSuchProcess:
        return True
    except psutil.TimeoutExpired:
        return not still_runs(process)
    except psutil.Error as error:
        raise CompanionError(f"the stage cannot be ended: {error}") from error
    return True


def _path(folder: Path, show: Path) -> Path:
    return kept_path(folder, show).with_suffix(".stage")
