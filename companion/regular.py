"""Files from anywhere as bytes: regular files alone, and never more of them than asked for."""

import os
import stat
from pathlib import Path


class NotRegular(OSError):  # noqa: N818 - what it is, as a player would say
    """A folder, a pipe, a device: nothing that ends, or nothing that holds bytes."""


class TooLarge(OSError):  # noqa: N818 - same
    """A file with more bytes than its kind may have."""


def read_regular(path: str | os.PathLike[str], max_bytes: int) -> bytes:
    """Return a file's bytes.

    Raises NotRegular before anything is read from a pipe or device, which might never answer; TooLarge; any other
    OSError as the system does; ValueError for a path that cannot be one.
    """
    how = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, how), "rb") as file:  # a pipe is opened without waiting for whoever writes to it
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise NotRegular("not a regular file")
        raw: bytes = file.read(max_bytes + 1)
    if len(raw) > max_bytes:
        raise TooLarge("the file is too large")
    return raw


def require_regular(path: str | os.PathLike[str]) -> int:
    """Return a regular file's size in bytes, for libraries that open it by name. Raises as ``read_regular``."""
    found = Path(path).stat()
    if not stat.S_ISREG(found.st_mode):
        raise NotRegular("not a regular file")
    return found.st_size


def is_there(path: str | os.PathLike[str]) -> bool:
    """Whether a file or folder is there; not where its name is too long, or the system does not let anybody look."""
    return os.path.exists(path)  # noqa: PTH110 - Path raises where a name is too long or a folder is closed


def is_regular(path: str | os.PathLike[str]) -> bool:
    """Whether a regular file is there, likewise."""
    return os.path.isfile(path)  # noqa: PTH113 - same
