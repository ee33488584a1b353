"""Where journals stand: in the user's data directory, a folder for each show file, a file for each night."""

import os
import re
import zlib
from pathlib import Path

from companion.ports.clock import wall_time_s


def shelf_of(show: Path, data_directory: Path) -> Path:
    """Give the folder of a show's journals, named after its file, and told from others by its whole path."""
    whole = Path(os.path.realpath(show))  # links in a circle too have a shelf; whoever reads the show tells
    name = re.sub(r"[^A-Za-z0-9]+", "-", whole.stem).strip("-")[:40] or "show"
    return data_directory / "journals" / f"{name}-{zlib.crc32(os.fsencode(whole)):08x}"


def journals_on(shelf: Path) -> tuple[Path, ...]:
    """Give the journals of a shelf, the newest first."""
    try:
        numbered = [path for path in shelf.glob("*.journal") if path.stem.isdecimal()]
    except OSError:
        return ()
    return tuple(sorted(numbered, key=lambda path: int(path.stem), reverse=True))


def new_name(shelf: Path) -> Path:
    """Give a name for a journal that begins now: its time, or one past the newest where the clock was set back."""
    newest = next(iter(journals_on(shelf)), None)
    moment = int(wall_time_s())
    if newest is not None:
        moment = max(moment, int(newest.stem) + 1)
    return shelf / f"{moment:012d}.journal"
