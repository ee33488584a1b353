"""A stage that an earlier run of the pages started and that still plays: found again, so that a page can end it."""

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.pages.visitor import keep, kept_path
from companion.regular import read_regular

if TYPE_CHECKING:
    import psutil

MAX_BYTES: Final = 4096
SAME_S: Final = 0.01  # a start time as JSON holds it; psutil measures to a hundredth of a second


class KeptStage(msgspec.Struct, frozen=True):
    """A process, by its number and by when it started: the system gives numbers out again."""

    process: int
    started: float


def note_stage(folder: Path, show: Path, process: int) -> None:
    """Note a show's stage that was just started; without a note it plays all the same."""
    import psutil

    try:
        keep(_path(folder, show), KeptStage(process, psutil.Process(process).create_time()))
    except (CompanionError, OSError, psutil.Error):
        return


def earlier_stage(folder: Path, show: Path) -> "psutil.Process | None":
    """Return the process of a show's stage that was noted and still runs, or None."""
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
        return found
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


def end_stage(process: "psutil.Process", within_s: float) -> bool:
    """Ask a process to end as the system would; return whether it has ended in time."""
    import psutil

    try:
        process.terminate()
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
