"""Was it the night, a rehearsal or a dry run? By the player's mark, the journal's own note, and the show's date."""

import contextlib
import datetime as dt
import enum
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import UNREADABLE
from companion.files.file_writing import write_whole
from companion.night.entries import EntryContext, notes_of
from companion.ports import JournalReading
from companion.regular import read_regular

MARKS: Final = "nights.json"  # beside the journals: a journal's name and its kind
MAX_BYTES: Final = 1024 * 1024
DAY_BEGINS_H: Final = 6  # earlier is still the night before
NIGHT_ENDS_H: Final = 12  # of the next day: nobody plays longer


class JournalKind(enum.Enum):
    """What a journal was written at."""

    NIGHT = "night"
    REHEARSAL = "rehearsal"
    DRY_RUN = "dry run"


class KindFound(msgspec.Struct, frozen=True):
    """A journal's kind, and why it is believed; "" for a night."""

    kind: JournalKind
    because: str = ""


def marks_on(shelf: Path) -> dict[str, JournalKind]:
    """Return the player's marks by journal name; a missing or damaged file has none."""
    with contextlib.suppress(OSError, *UNREADABLE):
        return msgspec.json.decode(read_regular(shelf / MARKS, MAX_BYTES), type=dict[str, JournalKind])
    return {}


def mark(journal: Path, kind: JournalKind) -> None:
    """Mark a journal as the night or as a rehearsal. Raises NotWritten."""
    marks = {**marks_on(journal.parent), journal.name: kind}
    write_whole(journal.parent / MARKS, msgspec.json.encode(marks))


def kind_of(journal: JournalReading, path: Path, date: dt.date | None, marks: dict[str, JournalKind]) -> KindFound:
    """Return what a journal was written at. ``date`` is the show's; without one, any day may be the night."""
    marked = marks.get(path.name)
    if marked is not None:
        return KindFound(marked, "" if marked is JournalKind.NIGHT else "as you marked it")
    if any(note.what is EntryContext.DRY_RUN for note in notes_of(journal.notes)):
        return KindFound(JournalKind.DRY_RUN, "no keyboard was connected")
    ended = moment_of(journal.last_s)
    if date is not None and ended is not None and not _is_night_of(ended, date):
        return KindFound(JournalKind.REHEARSAL, f"played on {ended:%Y-%m-%d}, and the show is on {date}")
    return KindFound(JournalKind.NIGHT)


def moment_of(wall_s: float) -> dt.datetime | None:
    """Return the local time; None for a damaged journal's time that no calendar has."""
    try:
        return dt.datetime.fromtimestamp(wall_s).astimezone()
    except (OverflowError, OSError, ValueError):
        return None


def _is_night_of(ended: dt.datetime, date: dt.date) -> bool:
    day = ended.date()
    if day == date:
        return ended.hour >= DAY_BEGINS_H
    return day == date + dt.timedelta(days=1) and ended.hour < NIGHT_ENDS_H if date < dt.date.max else False
