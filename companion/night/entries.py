"""Entries of the journal: each event with the place it led to, and how a night is taken up again from them."""

import hashlib
from collections.abc import Sequence

import msgspec

from companion.show import Show
from companion.stage import AnyEvent, Book, Landmark, State, at_start, find_again, replay

STALE_AFTER_S = 12 * 3600
"""A journal older than this starts anew: it is another night."""


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
    return hashlib.blake2b(msgspec.json.encode(show), digest_size=8).hexdigest()


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


def take_up(book: Book, entries: Sequence[Entry], *, same_show: bool) -> TakenUp:
    """Begin where these entries left off; where the show was edited since, at the same song and section by name."""
    if not entries:
        return TakenUp(at_start(book))
    last = entries[-1]
    if same_show:
        return TakenUp(replay(book, (entry.event for entry in entries)), last.event.at_ms, "taken up where it was")
    found = find_again(book, last.mark)
    if found is None:
        gone = f'the show was edited and "{last.mark.song}" is gone: it starts from the top'
        return TakenUp(at_start(book), last.event.at_ms, gone)
    return TakenUp(found, last.event.at_ms, "the show was edited: taken up at the same song and section")


_ENCODER = msgspec.json.Encoder()
_DECODER = msgspec.json.Decoder(Entry)
