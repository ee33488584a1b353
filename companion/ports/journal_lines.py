"""The journal on disk: one line a record, each with a checksum and its number, so that every gap is detected.

A line is ``checksum number kind wall-time content``: eight hexadecimal digits of CRC-32 over the rest, the record's
number from 0, its kind, seconds since 1970, and the content, JSON on one line. Number 0 is the header.
"""

import enum
import math
import os
import zlib
from pathlib import Path

import msgspec

from companion.errors import UNREADABLE
from companion.ports.journal_shelf import is_marked_ended
from companion.regular import read_regular

JOURNAL_VERSION = 1
LARGEST = 16 * 1024 * 1024  # bytes; a night of 3,000 steps is about one of them
STALE_AFTER_S = 12 * 3600
"""The age from which a journal belongs to another night."""


class JournalLineKind(enum.Enum):
    """What a line contains."""

    HEADER = "h"
    EVENT = "e"
    NOTE = "n"  # what happened around the show: a port lost, the program started again
    ENDED = "x"  # the night was ended normally


class Header(msgspec.Struct, frozen=True):
    """The header of a journal.

    ``begins_at`` is where the night was resumed and ``as_played`` the show at that time, both as the caller's own JSON;
    ``before`` is the name of the journal that this one continues, if the show was edited in between.
    """

    version: int
    show: str  # the file's path
    title: str
    fingerprint: str
    begins_at: msgspec.Raw = msgspec.Raw(b"null")
    as_played: msgspec.Raw = msgspec.Raw(b"null")
    before: str = ""


class JournalReading(msgspec.Struct, frozen=True):
    """The contents of a journal: its events in order, up to the first damage.

    ``last_s`` is the wall time of the last line, ``next_number`` the number of the next line; ``lost`` is a sentence
    that says what could not be read ("" if nothing). ``has_gap``: whole lines follow the damage, but not its number, so
    this journal cannot be continued.
    """

    header: Header
    events: tuple[bytes, ...]
    ended: bool
    last_s: float
    next_number: int
    lost: str = ""
    notes: tuple[bytes, ...] = ()
    has_gap: bool = False


class NotAJournal(Exception):  # noqa: N818 - a verdict about a file
    """Not a journal of this program, or of a newer version."""


class NewerJournal(NotAJournal):
    """Written by a version that this one cannot read."""


def line_of(number: int, kind: JournalLineKind, wall_s: float, content: bytes) -> bytes:
    """Return one line, including its end."""
    rest = b"%d %s %.3f %s" % (number, kind.value.encode(), wall_s, content)
    return b"%08x %s\n" % (zlib.crc32(rest), rest)


def read_journal(path: Path) -> JournalReading:
    """Read a journal in any state: return the records before the first damage, and what was lost.

    A line torn by a full disk and then written again counts once. Raises NotAJournal, and OSError if the file cannot be
    opened, is not a regular file or is larger than any night.
    """
    text = read_regular(path, LARGEST)
    lines = text.split(b"\n")
    begins = next(
        (at for at, line in enumerate(lines) if _line(line) is not None), 0
    )  # a full disk may tear the header
    first = _line(lines[begins])
    if first is None or first[0] != 0 or first[1] is not JournalLineKind.HEADER:
        raise NotAJournal(f"{path} is not a readable journal")
    header = _header(path, first[3])
    events: list[bytes] = []
    notes: list[bytes] = []
    ended, last_s, number, torn, strange = False, first[2], 1, 0, 0
    for line in lines[begins + 1 :]:
        if not line:
            continue
        found = _line(line)
        if found is None:
            torn += 1
        elif found[0] == number - 1:
            continue  # only the line's end was torn, then it was written again
        elif found[0] != number:
            strange += 1
            break
        else:
            number, last_s = number + 1, found[2]
            torn = 0
            ended = found[1] is JournalLineKind.ENDED
            if found[1] is JournalLineKind.EVENT:
                events.append(found[3])
            elif found[1] is JournalLineKind.NOTE:
                notes.append(found[3])
    lost = ""
    if torn or strange:
        lost = f"the end of the journal is damaged; the first {len(events)} steps were kept"
    ended = ended or is_marked_ended(path)
    return JournalReading(header, tuple(events), ended, last_s, number, lost, tuple(notes), strange > 0)


def is_stale(last_s: float, now_s: float) -> bool:
    """Return whether a journal belongs to another night. Setting the clock back does not make a journal stale."""
    return now_s - last_s > STALE_AFTER_S


def ends_cleanly(path: Path) -> bool:
    """Return whether the file's last line is complete, so that another may follow it."""
    with path.open("rb") as file:
        file.seek(0, os.SEEK_END)
        if not file.tell():
            return True
        file.seek(-1, os.SEEK_END)
        return file.read(1) == b"\n"


def _line(line: bytes) -> tuple[int, JournalLineKind, float, bytes] | None:
    """Parse one line; None if it is torn."""
    checksum, _, rest = line.partition(b" ")
    try:
        if len(checksum) != 8 or int(checksum, 16) != zlib.crc32(rest):
            return None
        number, kind, wall_s, content = rest.split(b" ", 3)
        at_s = float(wall_s)
        return (int(number), JournalLineKind(kind.decode()), at_s, content) if math.isfinite(at_s) else None
    except ValueError:
        return None


def _header(path: Path, content: bytes) -> Header:
    try:
        header = msgspec.json.decode(content, type=Header)
    except UNREADABLE as garbled:
        raise NotAJournal(f"{path} is not a readable journal") from garbled
    if header.version > JOURNAL_VERSION:
        raise NewerJournal(f"{path} was written by a newer version of companion")
    return header
