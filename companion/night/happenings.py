"""What reaches the night's inbox apart from MIDI and ports: keys, screen events, the request to stop."""

import queue
from typing import Final

import msgspec

from companion.errors import Fault
from companion.ports import MidiReceived, PortFound, PortLost, PortsAwaited
from companion.stage import Book
from companion.view import ChartIs

WINDOW_CLOSED: Final = "the window was closed"


class KeyReceived(msgspec.Struct, frozen=True):
    """A computer key went down or up; ``key`` is one of the rig's key names, ``text`` what it types, if anything.

    ``at_ns`` is on the scale of ``clock.now_ns``; None if the source cannot tell when it was. ``repeats``: auto-repeat
    of a held key, or a quick second press: see ``default_keys.is_held``.
    """

    key: str
    down: bool
    text: str | None = None
    at_ns: int | None = None
    repeats: bool = False


class ScreenReady(msgspec.Struct, frozen=True):
    """The screen has drawn its first picture."""


class ScreenGone(msgspec.Struct, frozen=True):
    """The screen's process has ended; ``why`` is its own last message, if any."""

    why: str = ""


class BatteryIs(msgspec.Struct, frozen=True):
    """The battery charge in percent; None while the computer is plugged in, or has no battery."""

    percent: int | None


class OfSongbook(msgspec.Struct, frozen=True):
    """A song of a songbook: its title, and the whole song as JSON."""

    title: str
    song: msgspec.Raw


class SongbooksRead(msgspec.Struct, frozen=True):
    """The songbooks of the show have been read; ``songs`` are all songs in them."""

    songs: tuple[OfSongbook, ...]


class FilesEdited(msgspec.Struct, frozen=True):
    """Files of the night have changed since it began: the ``show`` or one of its songbooks, the ``rig``."""

    show: bool
    rig: bool


class ShowRead(msgspec.Struct, frozen=True):
    """The show was read again at the player's request: its book, or the ``faults`` that prevented one."""

    book: Book | None = None
    faults: tuple[Fault, ...] = ()


class Stop(msgspec.Struct, frozen=True):
    """End the night normally."""

    because: str


NightInput = (
    MidiReceived
    | PortFound
    | PortLost
    | PortsAwaited
    | KeyReceived
    | ScreenReady
    | ScreenGone
    | ChartIs
    | BatteryIs
    | FilesEdited
    | ShowRead
    | SongbooksRead
    | Stop
)
NightInbox = queue.SimpleQueue[NightInput]


def arrived_ns(happened: object) -> int | None:
    """Return when a message, port or key arrived; None for events without a time of their own."""
    return happened.at_ns if isinstance(happened, MidiReceived | PortFound | PortLost | KeyReceived) else None
