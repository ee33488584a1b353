"""What was done at home: hearings, practice, runs, quiz answers, one line each, only ever added.

The file stands beside the show file (``pier-street.practice.jsonl``), so that it goes where the show goes: onto another
computer, into a backup, along when the folder is renamed. It is text rather than a database because its lines can be
read and mended by hand, two copies can be joined by putting one behind the other, and it is its own export. Each record
is one write under a lock, synced at once; a line that a killed process left half-written is skipped and closed off.
"""

import datetime as dt
import enum
import os
from collections.abc import Sequence
from pathlib import Path

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.files.appending import append_lines
from companion.files.writing import mode_like
from companion.regular import TooLarge, read_regular

MOST_BYTES = 32 * 1024 * 1024  # a fortnight has a few hundred lines of 100 bytes

YEARS = range(1900, 9999)  # a time outside cannot be told in every zone


class Did(enum.Enum):
    """What was done."""

    HEARD = "heard"
    PRACTISED = "practised"
    RAN = "ran the set"
    ASKED = "asked"
    RENAMED = "renamed"
    KNOWN = "known written"
    TAPPED = "tapped"


class Record(msgspec.Struct, frozen=True, omit_defaults=True):
    """One thing that was done. ``at`` in the player's own time with its distance from UTC; the day is that of ``at``.

    ``minutes`` of practice; ``share`` of a recording that was heard, 0 to 1; ``grade`` of an answer, 1 (wrong) to 4.
    ``firsts`` and ``beats`` are places in ``recording`` in milliseconds: first beats of sections and the end; beats.
    """

    at: dt.datetime
    did: Did
    title: str
    minutes: float = 0
    share: float = 0
    question: str = ""
    grade: int = 0
    to: str = ""  # the new title, where a song was renamed
    recording: str = ""
    firsts: tuple[int, ...] = ()
    beats: tuple[int, ...] = ()
    afresh: bool = False  # what was tapped before does not count any more

    @property
    def day(self) -> dt.date:
        """The day on which it was done, where the player was."""
        return self.at.date()


class Records(msgspec.Struct, frozen=True):
    """All that was read, in the order of the file, and how many lines could not be."""

    kept: tuple[Record, ...] = ()
    unreadable: int = 0


def records_path(show_path: str | os.PathLike[str]) -> Path:
    """Return the file of a show's records."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.practice.jsonl")


def read_records(show_path: str | os.PathLike[str]) -> Records:
    """Read a show's records; none where there is no file yet. Raises CompanionError where it cannot be read."""
    path = records_path(show_path)
    try:
        raw = read_regular(path, MOST_BYTES)
    except FileNotFoundError:
        return Records()
    except TooLarge:
        raise CompanionError(
            f"{path} is larger than {MOST_BYTES // 1024 // 1024} MiB: move its older lines into another file"
        ) from None
    except (OSError, ValueError) as error:
        raise CompanionError(f"{path} cannot be read: {getattr(error, 'strerror', None) or error}") from error
    kept, unreadable = [], 0
    decoder = msgspec.json.Decoder(Record)
    for line in raw.split(b"\n"):
        if not line.strip():
            continue
        try:
            record = decoder.decode(line)
        except UNREADABLE:
            unreadable += 1
            continue
        if record.at.tzinfo is None or record.at.year not in YEARS:
            unreadable += 1
            continue
        kept.append(record)
    return Records(tuple(kept), unreadable)


def add_records(show_path: str | os.PathLike[str], records: Sequence[Record]) -> None:
    """Add records behind all others, together or not at all. Raises CompanionError where that is not possible."""
    if not records:
        return
    path = records_path(show_path)
    try:
        append_lines(path, lines_of(records), mode_like(show_path))
    except OSError as error:
        raise CompanionError(f"{path} cannot be written: {error.strerror or error}") from error


def lines_of(records: Sequence[Record]) -> bytes:
    """Return the lines of these records."""
    return b"".join(msgspec.json.encode(record) + b"\n" for record in records)
