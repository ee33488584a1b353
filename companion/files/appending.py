"""Lines added to the end of a file: all or none, one process after the other, never through a link."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any, Final

FAR: Final = 2**31 - 2  # the byte that stands for the whole file where only bytes can be held


def append_lines(path: Path, lines: bytes, mode: int = 0o666) -> None:
    """Add whole lines to a file, synced; a line that was left half-written is closed off first. Raises OSError.

    A new file gets ``mode``, less what the system takes away. A link is refused: it may lead anywhere.
    """
    flags = os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    if path.is_symlink():
        raise OSError(None, "it is a link, and may lead anywhere")
    with open(os.open(path, flags, mode), "ab", buffering=0) as file, held(file):  # noqa: PTH123  a handle, no path
        end = file.seek(0, os.SEEK_END)
        if end and _last_byte(path, end) != b"\n":
            lines = b"\n" + lines  # somebody was killed in the middle of a line
        file.write(lines)
        os.fsync(file.fileno())


@contextmanager
def held_alone(path: Path) -> Iterator[None]:
    """Hold a name against other processes while something is done; where the system cannot, it is done all the same."""
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
    """Hold an open file against other processes, by what the system has for it."""
    try:
        import fcntl  # noqa: PLC0415  not on every system
    except ImportError:
        with _held_on_windows(file):
            yield
        return
    fcntl.flock(file, fcntl.LOCK_EX)
    try:
        yield
    finally:
        fcntl.flock(file, fcntl.LOCK_UN)


@contextmanager
def _held_on_windows(file: IO[bytes]) -> Iterator[None]:
    """Hold one byte far behind the end, which stands for the whole file."""
    import msvcrt  # noqa: PLC0415  only on Windows

    windows: Any = msvcrt
    file.seek(FAR)
    windows.locking(file.fileno(), windows.LK_LOCK, 1)
    try:
        yield
    finally:
        file.seek(FAR)
        windows.locking(file.fileno(), windows.LK_UNLCK, 1)
