"""Opening the night: show, rig and journal read, ports and screen opened, and the loop run to its end."""

from enum import Enum
from pathlib import Path

from companion.errors import Fault, FaultyFile
from companion.rig import Rig
from companion.show import ReadShow
from companion.stage import Book, make_book


class Screen(Enum):
    """Where the night is shown."""

    FULL = "full"
    WINDOW = "window"
    TEXT = "text"
    NONE = "none"


def ready_book(show_path: Path, read: ReadShow, rig: Rig) -> Book:
    """Find every sound; raise FaultyFile with the place of each that the rig lacks."""
    book, missed = make_book(read.show, rig)
    if missed:
        faults = []
        for one in missed:
            line, column = read.places.of(one.asked_at)
            faults.append(Fault(str(show_path), line, column, one.missing.problem, one.missing.write))
        raise FaultyFile(tuple(faults))
    return book
