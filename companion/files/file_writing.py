"""Safe writing: a file is always whole, old or new, and nothing is written through a link."""

import glob
import os
import re
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from companion.errors import CompanionError, NotWritten

LEFT = re.compile(r"\.([0-9]+)-[0-9a-f]{8}\.new$")
_BINARY = getattr(os, "O_BINARY", 0)


def write_whole(
    path: str | os.PathLike[str],
    what: str | bytes,
    *,
    mode: int | None = None,
    at_last: Callable[[], object] = lambda: None,
) -> None:
    """Replace a file with a text (UTF-8) atomically: a reader, even after a power cut, finds the old or the new one.

    A link is replaced; its target stays untouched. An old file's owner and permissions stay; a new one gets ``mode``,
    or the system's default. ``at_last`` is called when only the old file's name is still to be taken over: a
    CompanionError that it raises cancels the writing. Raises NotWritten and leaves the old file untouched.
    """
    target = Path(path)
    whole = what.encode() if isinstance(what, str) else what
    beside = None
    try:
        device = _device(target)
        if device is not None:
            device.write_bytes(whole)  # a file must not replace it
            return
        _remove_leftovers(target)
        beside = target.with_name(f".{target.name}.{os.getpid()}-{os.urandom(4).hex()}.new")
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o600), "wb") as file:  # noqa: PTH123
            file.write(whole)
            file.flush()
            os.fsync(file.fileno())
        is_file = target.exists() and not target.is_symlink()
        if is_file:
            _copy_owner(target, beside)
        beside.chmod(stat.S_IMODE(target.stat().st_mode) if is_file else _usual_mode() if mode is None else mode)
        at_last()
        beside.replace(target)
        _sync_folder(target.parent)
    except CompanionError:
        _remove(beside)
        raise
    except OSError as error:
        _remove(beside)
        problem, write = _what_is_wrong(Path(path), error)
        raise NotWritten(f"{os.fspath(path)} cannot be written: {problem}", write) from error


def _copy_owner(target: Path, beside: Path) -> None:
    """Copy the old file's owner and group to the new one, or its group alone, as far as the system allows."""
    if not hasattr(os, "chown"):
        return
    old = target.stat()
    for owner in (old.st_uid, -1):
        with suppress(OSError):
            os.chown(beside, owner, old.st_gid)
            return


def _remove(beside: Path | None) -> None:
    """Remove the temporary file of a writing that failed."""
    with suppress(OSError):
        if beside:
            beside.unlink()


def mode_like(path: str | os.PathLike[str]) -> int:
    """Return permissions for a new file beside this one: nobody gains access who may not read this one."""
    try:
        return stat.S_IMODE(Path(path).stat().st_mode) & 0o666 & ~_umask()
    except OSError:
        return 0o600


def _device(target: Path) -> Path | None:
    """Return a pipe or device to write to directly; through a link only in the system's own folder."""
    if target.is_symlink() and not target.is_relative_to("/dev"):
        return None
    return target if target.exists() and not target.is_file() and not target.is_dir() else None


def _remove_leftovers(target: Path) -> None:
    """Remove temporary files that a killed process left beside a file."""
    for left in target.parent.glob(f".{glob.escape(target.name)}.*.new"):
        found = LEFT.search(left.name)
        with suppress(OSError):
            if found is None or not _is_running(int(found[1])):
                left.unlink()


def _is_running(process: int) -> bool:
    """Whether a process with this number is running."""
    if process == os.getpid():
        return True  # another thread of this process
    if os.name == "nt":
        return True  # on Windows the check would kill it
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _usual_mode() -> int:
    return 0o666 & ~_umask()


def _umask() -> int:
    """Return the umask, the permissions that the system removes from a new file; reading it means setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def _what_is_wrong(path: Path, error: OSError) -> tuple[str, str]:
    """Return why a file cannot be written and, if the path is wrong, what to write instead."""
    if path.is_dir():
        return "it is a folder", "the path of a file in it"
    if not path.parent.is_dir():
        return f"there is no folder {path.parent}", "the path of a file in an existing folder"
    return error.strerror or str(error), ""


def _sync_folder(folder: Path) -> None:
    """Make the new name survive a power cut, if the system supports that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    with suppress(OSError):  # some network folders refuse; the file itself is safe
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
