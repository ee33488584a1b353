"""Where journals stand: in the user's data directory, a folder for each show file, a file for each night."""

import re
import zlib
from collections.abc import Iterator
from pathlib import Path

from companion.ports.clock import wall_time_s


def shelf_of(show: Path, data_directory: Path) -> Path:
    """Give the folder of a show's journals, named after its file, and told from others by its whole path."""
    whole = show.resolve()
    name = re.sub(r"[^A-Za-z0-9]+", "-", whole.stem).strip("-")[:40] or "show"
    return data_directory / "journals" / f"{name}-{zlib.crc32(str(whole).encode()):08x}"


def journals_on(shelf: Path) -> tuple[Path, ...]:
    """Give the journals of a shelf, the newest first. Names sort by time."""
    try:
        return tuple(sorted(shelf.glob("*.journal"), reverse=True))
    except OSError:
        return ()


def new_name(shelf: Path) -> Path:
    """Give a name for a journal that begins now, later than every one that is there, whatever the clock says."""
    newest = next(iter(journals_on(shelf)), None)
    return next(path for path in _names(shelf) if newest is None or path > newest)


def _names(shelf: Path) -> Iterator[Path]:
    """Names by the time of beginning; a clock that was set back counts on from the newest."""
    moment = int(wall_time_s())
    newest = next(iter(journals_on(shelf)), None)
    if newest is not None and newest.stem.isdigit():
        moment = max(moment, int(newest.stem) + 1)
    while True:
        yield shelf / f"{moment:012d}.journal"
        moment += 1
