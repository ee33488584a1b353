"""One copy at a time: a lock that the system itself releases when the program dies, however it dies."""

import errno
import os
import sys
from pathlib import Path
from typing import Final, Self

HELD: Final = (errno.EAGAIN, errno.EACCES)
"""Errors that mean another process holds the lock (flock(2), msvcrt.locking); a disk without locks reports others."""


class AnotherCopy(Exception):  # noqa: N818 - a fact, which the caller reports
    """Another copy of the program holds the lock."""


class SingleCopyLock:
    """The lock. If no file can be written, or the disk has no locks, a second copy is not kept out."""

    def __init__(self, path: Path) -> None:
        """Acquire it. Raises AnotherCopy."""
        self._file: int | None = None
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._file = os.open(path, os.O_CREAT | os.O_RDWR | getattr(os, "O_NOINHERIT", 0), 0o644)
        except OSError:
            return
        try:
            _lock(self._file)
        except OSError as refusal:
            os.close(self._file)
            self._file = None
            if refusal.errno in HELD:
                raise AnotherCopy(str(path)) from refusal

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._file is not None:
            os.close(self._file)  # which releases it, on every system
            self._file = None


def _lock(descriptor: int) -> None:
    if sys.platform == "win32":
        import msvcrt

        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
