"""What comes to the night's one inbox besides MIDI and ports: keys, the screen's own life, the wish to stop."""

import queue

import msgspec

from companion.errors import Fault
from companion.ports import MidiCame, PortFound, PortLost, PortsAwaited
from companion.screen import ChartIs
from companion.stage import Book


class KeyCame(msgspec.Struct, frozen=True):
    """A computer key went down or up; ``key`` is one of the rig's key names, ``text`` what it types, if anything.

    ``at_ns`` counts as ``clock.now_ns`` does; None where whoever tells of the key cannot say when that was.
    ``repeats``: a held key repeats it, or a quick finger pressed it twice: see ``keys.is_held``.
    """

    key: str
    down: bool
    text: str | None = None
    at_ns: int | None = None
    repeats: bool = False


class ScreenReady(msgspec.Struct, frozen=True):
    """The screen has drawn its first picture."""


class ScreenGone(msgspec.Struct, frozen=True):
    """The screen's process has ended; ``why`` is its own last word, if it left one."""

    why: str = ""


class BatteryIs(msgspec.Struct, frozen=True):
    """What is left in the computer's battery, in percent; None while it is plugged in, or has none."""

    percent: int | None


class OfSongbook(msgspec.Struct, frozen=True):
    """A song of a songbook: its title, and all of it as JSON."""

    title: str
    song: msgspec.Raw


class SongbooksRead(msgspec.Struct, frozen=True):
    """The songbooks of the show have been read; ``songs`` are all that stand in them."""

    songs: tuple[OfSongbook, ...]


class FilesEdited(msgspec.Struct, frozen=True):
    """Files that the night was begun with are not as they were: ``show`` or a songbook of it, the ``rig``."""

    show: bool
    rig: bool


class ShowRead(msgspec.Struct, frozen=True):
    """The show was read again on the player's wish: its book, or the ``faults`` for which there is none."""

    book: Book | None = None
    faults: tuple[Fault, ...] = ()


class Stop(msgspec.Struct, frozen=True):
    """End the night in order."""

    because: str


Happening = (
    MidiCame
    | PortFound
    | PortLost
    | PortsAwaited
    | KeyCame
    | ScreenReady
    | ScreenGone
    | ChartIs
    | BatteryIs
    | FilesEdited
    | ShowRead
    | SongbooksRead
    | Stop
)
Inbox = queue.SimpleQueue[Happening]


def arrived_ns(happened: object) -> int | None:
    """Return when a message, a port or a key arrived; None for what has no time of its own."""
    return happened.at_ns if isinstance(happened, MidiCame | PortFound | PortLost | KeyCame) else None
