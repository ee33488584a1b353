"""Entries of the journal: each event with the place that it led to."""

import zlib
from collections.abc import Sequence

import msgspec

from companion.show import Show
from companion.stage import AnyEvent, Landmark, State


class Entry(msgspec.Struct, frozen=True):
    """One event, and the place that it led to by names."""

    event: AnyEvent
    mark: Landmark


class TakenUp(msgspec.Struct, frozen=True):
    """Where a night begins: the state, its time in ms, and what to say about it ("" for a new night)."""

    state: State
    at_ms: int = 0
    said: str = ""


def fingerprint(show: Show) -> str:
    """Tell one show from another by what is in it; comments and spelling of the file do not count."""
    content = msgspec.json.encode(show)
    return f"{len(content)}-{zlib.crc32(content):08x}"


def entry_line(entry: Entry) -> bytes:
    """Give the entry as the journal keeps it: one line of JSON, without the line's end."""
    return _ENCODER.encode(entry)


def entries_of(lines: Sequence[bytes]) -> tuple[Entry, ...]:
    """Read entries back; those after the first that cannot be read are left out."""
    entries = []
    for line in lines:
        try:
            entries.append(_DECODER.decode(line))
        except msgspec.DecodeError:
            break
    return tuple(entries)


_ENCODER = msgspec.json.Encoder()
_DECODER = msgspec.json.Decoder(Entry)
