"""The records of work at home: hearings, practice, runs, quiz answers, one line each, append-only.

The file is beside the show file (``pier-street.practice.jsonl``), so that it moves with the show: to another
computer, into a backup, with a renamed folder. It is text rather than a database: its lines can be read and repaired
by hand, two copies can be concatenated, and it needs no export. Each record is one write under a lock, synced at
once; a line left half-written by a killed process is skipped and closed off.
"""

import datetime as dt
import enum
import os
from collections.abc import Sequence
from pathlib import Path

import msgspec

from companion.errors import CompanionError
from companion.files.appending import append_lines
from companion.files.file_writing import mode_like
from companion.files.record_lines import read_record_lines

MAX_BYTES = 32 * 1024 * 1024  # a fortnight has a few hundred lines of 100 bytes each

YEARS = range(1900, 9999)  # times outside cannot be represented in every time zone


class LogKind(enum.Enum):
    """The kind of a record."""

    HEARD = "heard"
    PRACTISED = "practised"
    RAN = "ran the set"
    ASKED = "asked"
    RENAMED = "renamed"
    KNOWN = "known written"
    TAPPED = "tapped"
    NOT_KEPT = "not kept"  # a song called on a night, which the player does not want in the songbook


class PracticeRecord(msgspec.Struct, frozen=True, omit_defaults=True):
    """One record. ``at`` is the player's local time with its UTC offset; ``day`` is that of ``at``.

    ``minutes`` of practice; ``share`` of a recording heard, 0 to 1; ``grade`` of an answer, 1 (wrong) to 4.
    ``firsts`` and ``beats`` are milliseconds in ``recording``: first beats of sections and the end; tapped beats.
    """

    at: dt.datetime
    did: LogKind
    title: str
    minutes: float = 0
    share: float = 0
    question: str = ""
    grade: int = 0
    to: str = ""  # the new title, if a song was renamed
    recording: str = ""
    firsts: tuple[int, ...] = ()
    beats: tuple[int, ...] = ()
    afresh: bool = False  # discards earlier taps

    @property
    def day(self) -> dt.date:
        """The day in the player's local time."""
        return self.at.date()


class Records(msgspec.Struct, frozen=True):
    """The records in file order, and the number of unreadable lines."""

    kept: tuple[PracticeRecord, ...] = ()
    unreadable: int = 0


def records_path(show_path: str | os.PathLike[str]) -> Path:
    """Return the file of a show's records."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.practice.jsonl")


def read_records(show_path: str | os.PathLike[str]) -> Records:
    """Read a show's records; none if there is no file yet. Raises CompanionError if it cannot be read."""
    found, unreadable = read_record_lines(records_path(show_path), PracticeRecord, MAX_BYTES)
    kept = tuple(record for record in found if record.at.tzinfo is not None and record.at.year in YEARS)
    return Records(kept, unreadable + len(found) - len(kept))


def add_records(show_path: str | os.PathLike[str], records: Sequence[PracticeRecord]) -> None:
    """Append records, all or none. Raises CompanionError if the file cannot be written."""
    if not records:
        return
    path = records_path(show_path)
    try:
        append_lines(path, lines_of(records), mode_like(show_path))
    except OSError as error:
        raise CompanionError(f"{path} cannot be written: {error.strerror or error}") from error


def lines_of(records: Sequence[PracticeRecord]) -> bytes:
    """Return the lines of these records."""
    return b"".join(msgspec.json.encode(record) + b"\n" for record in records)
