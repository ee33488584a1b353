"""Where journals are stored: in the user's data directory, a folder for each show file, a file for each night."""

import os
import re
import sys
import zlib
from pathlib import Path
from typing import Final

from companion.ports.show_clock import wall_time_s

F_GETPATH: Final = 50  # macOS, sys/fcntl.h (from memory)
LONGEST_PATH: Final = 1024  # same, MAXPATHLEN
JOURNAL: Final = ".journal"
ENDED: Final = ".ended"
"""The suffix of a journal that was ended while the disk was full: a new name needs no space, a last line does."""


def shelf_of(show: Path, data_directory: Path) -> Path:
    """Return the folder of a show's journals, named after the show file and a checksum of its full path."""
    whole = Path(as_on_disk(os.path.realpath(show)))  # circular links have a shelf too; reading the show reports them
    name = re.sub(r"[^A-Za-z0-9]+", "-", whole.stem).strip("-")[:40] or "show"
    return data_directory / "journals" / f"{name}-{zlib.crc32(os.fsencode(whole)):08x}"


def as_on_disk(path: str, system: str = sys.platform) -> str:
    """Return a path as the disk spells it, where the system accepts several spellings for one file.

    macOS finds a file whatever its capitals, and with accents composed or not; F_GETPATH (fcntl(2), from memory)
    returns the spelling on disk. On Windows ``os.path.realpath`` has already done so. The path of a missing file is
    returned unchanged.
    """
    if system != "darwin":
        return path
    import fcntl

    try:
        file = os.open(path, os.O_RDONLY)
    except (OSError, ValueError):  # the second: a name that the system cannot hold
        return path
    try:
        return os.fsdecode(fcntl.fcntl(file, F_GETPATH, bytes(LONGEST_PATH)).rstrip(b"\0"))
    except OSError:
        return path
    finally:
        os.close(file)


def journals_on(shelf: Path) -> tuple[Path, ...]:
    """Return the journals of a shelf, newest first."""
    try:
        numbered = [path for path in shelf.iterdir() if path.suffix in (JOURNAL, ENDED) and path.stem.isdecimal()]
    except OSError:
        return ()
    return tuple(sorted(numbered, key=lambda path: int(path.stem), reverse=True))


def new_name(shelf: Path) -> Path:
    """Return a name for a journal that begins now: its time, or one past the newest if the clock was set back."""
    newest = next(iter(journals_on(shelf)), None)
    moment = int(wall_time_s())
    if newest is not None:
        moment = max(moment, int(newest.stem) + 1)
    return shelf / f"{moment:012d}{JOURNAL}"


def mark_ended(path: Path) -> Path:
    """Mark a journal as ended by its name, and return the new path. Raises OSError."""
    return path.rename(path.with_suffix(ENDED))


def is_marked_ended(path: Path) -> bool:
    """Return whether a journal's name says that it was ended."""
    return path.suffix == ENDED
