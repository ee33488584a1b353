"""Read files from untrusted places: only regular files, and only up to a limit."""

import os
import stat
from pathlib import Path


class NotRegular(OSError):  # noqa: N818 - named as a player would say it
    """A folder, a pipe or a device: it holds no bytes, or never ends."""


class TooLarge(OSError):  # noqa: N818 - same
    """A file larger than its kind may be."""


def read_regular(path: str | os.PathLike[str], max_bytes: int) -> bytes:
    """Return a file's bytes.

    Raises NotRegular before reading from a pipe or device, which might never answer; TooLarge for more than
    ``max_bytes``; any other OSError as the system does; ValueError for an impossible path.
    """
    how = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, how), "rb") as file:  # a pipe opens without waiting for its writer
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise NotRegular("not a regular file")
        raw: bytes = file.read(max_bytes + 1)
    if len(raw) > max_bytes:
        raise TooLarge("the file is too large")
    return raw


def require_regular(path: str | os.PathLike[str]) -> int:
    """Return a regular file's size in bytes, for libraries that open it by name. Raises like ``read_regular``."""
    found = Path(path).stat()
    if not stat.S_ISREG(found.st_mode):
        raise NotRegular("not a regular file")
    return found.st_size


def is_there(path: str | os.PathLike[str]) -> bool:
    """Whether a file or folder exists; False if its name is too long or the system denies a look."""
    return os.path.exists(path)  # noqa: PTH110 - Path raises for a name too long or a closed folder


def is_regular(path: str | os.PathLike[str]) -> bool:
    """Whether a regular file exists; False in the same cases."""
    return os.path.isfile(path)  # noqa: PTH113 - same
