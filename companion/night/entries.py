"""Entries of the journal: each event with the place that it led to."""

import contextlib
import enum
import zlib
from collections.abc import Sequence

import msgspec

from companion.errors import UNREADABLE
from companion.show import Show
from companion.stage import AnyEvent, Beginning, Book, Landmark, State, begun, find_again


class Entry(msgspec.Struct, frozen=True):
    """One event, and the place that it led to, by names."""

    event: AnyEvent
    mark: Landmark


class EntryContext(enum.Enum):
    """What can happen around the show, in the words of the debrief."""

    TAKEN_UP = "started again"
    PORT_LOST = "port lost"
    PORT_FOUND = "port found"
    SCREEN_GONE = "screen gone"
    READ_AGAIN = "show read again"
    DRY_RUN = "dry run"


class JournalNote(msgspec.Struct, frozen=True):
    """Something that happened around the show: when (show time), what, to which port, and at which place."""

    at_ms: int
    what: EntryContext
    mark: Landmark
    port: str = ""


class ResumedNight(msgspec.Struct, frozen=True):
    """Where a night begins: the state, its time in ms, and a message about it ("" for a new night).

    ``from_the_top``: the message says why an interrupted night does not continue.
    """

    state: State
    at_ms: int = 0
    message: str = ""
    from_the_top: bool = False


def fingerprint(show: Show) -> str:
    """Return a mark that differs between shows with different contents; comments and spelling do not matter."""
    content = msgspec.json.encode(show)
    return f"{len(content)}-{zlib.crc32(content):08x}"


def entry_line(entry: Entry) -> bytes:
    """Return the entry as stored in the journal: one line of JSON, without the line's end."""
    return _ENCODER.encode(entry)


def note_line(note: JournalNote) -> bytes:
    """Return the note as stored in the journal."""
    return _ENCODER.encode(note)


def notes_of(lines: Sequence[bytes]) -> tuple[JournalNote, ...]:
    """Read notes back; skip those that cannot be read."""
    notes = []
    for line in lines:
        with contextlib.suppress(*UNREADABLE):
            notes.append(_NOTES.decode(line))
    return tuple(notes)


def entries_of(lines: Sequence[bytes]) -> tuple[Entry, ...]:
    """Read entries back, up to the first that cannot be read."""
    entries = []
    for line in lines:
        try:
            entries.append(_DECODER.decode(line))
        except UNREADABLE:
            break
    return tuple(entries)


def beginning_in(written: msgspec.Raw) -> Beginning | Landmark | None:
    """Read where a journal begins, which an earlier version stored by names only; None for the show's start."""
    with contextlib.suppress(*UNREADABLE):
        return msgspec.json.decode(written, type=Beginning)
    with contextlib.suppress(*UNREADABLE):
        return msgspec.json.decode(written, type=Landmark)
    return None


def state_at(book: Book, beginning: Beginning | Landmark | None) -> State | None:
    """Return the state there, in the show that the journal was written with."""
    if isinstance(beginning, Beginning):
        return begun(book, beginning)
    return None if beginning is None else find_again(book, beginning)


_ENCODER = msgspec.json.Encoder()
_DECODER = msgspec.json.Decoder(Entry)
_NOTES = msgspec.json.Decoder(JournalNote)
