"""Append lines to a file: all or none, one process at a time, never through a link."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any, Final

FAR: Final = 2**31 - 2  # locked in place of the whole file on systems that lock bytes


def append_lines(path: Path, lines: bytes, mode: int = 0o666) -> None:
    """Append whole lines to a file and sync it; end a half-written last line first. Raises OSError.

    A new file gets ``mode`` minus the system's umask. A link is refused, because it may lead anywhere.
    """
    flags = os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    if path.is_symlink():
        raise OSError(None, "it is a link, which may lead anywhere")
    with open(os.open(path, flags, mode), "ab", buffering=0) as file, held(file):  # noqa: PTH123  a handle, not a path
        end = file.seek(0, os.SEEK_END)
        if end and _last_byte(path, end) != b"\n":
            lines = b"\n" + lines  # a process was killed while writing a line
        rest = memoryview(lines)
        try:
            while rest:
                rest = rest[file.write(rest) or 0 :]  # an almost full disk takes a part, and refuses the rest
        except OSError:
            with suppress(OSError):
                file.truncate(end)
            raise
        os.fsync(file.fileno())


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Lock a name against other processes inside the ``with`` block; without system support, continue unlocked."""
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
    except OSError:
        yield
        return
    with open(handle, "ab", buffering=0) as file, held(file):  # noqa: PTH123  same
        yield


def _last_byte(path: Path, end: int) -> bytes:
    with path.open("rb") as file:
        file.seek(end - 1)
        return file.read(1)


@contextmanager
def held(file: IO[bytes]) -> Iterator[None]:
    """Lock an open file against other processes, with the system's own lock; continue unlocked if the disk has none."""
    try:
        import fcntl  # noqa: PLC0415  not on every system
    except ImportError:
        with _held_on_windows(file):
            yield
        return
    with suppress(OSError):  # a disk without locks, such as a network folder
        fcntl.flock(file, fcntl.LOCK_EX)
    try:
        yield
    finally:
        with suppress(OSError):
            fcntl.flock(file, fcntl.LOCK_UN)


@contextmanager
def _held_on_windows(file: IO[bytes]) -> Iterator[None]:
    """Lock one byte far past the end, in place of the whole file."""
    import msvcrt  # noqa: PLC0415  only on Windows

    windows: Any = msvcrt
    file.seek(FAR)
    windows.locking(file.fileno(), windows.LK_LOCK, 1)
    try:
        yield
    finally:
        file.seek(FAR)
        windows.locking(file.fileno(), windows.LK_UNLCK, 1)
