"""What comes in from outside: a MIDI message, a port found, a port lost. All of it goes into one inbox."""

import enum
from typing import Protocol

import msgspec

THE_ONE_THERE_IS = ""
"""The port word of a keyboard whose rig names no port: it fits every name, so it finds the only port or none."""


class Direction(enum.Enum):
    """Which way the messages of a port go, seen from here."""

    IN = "in"
    OUT = "out"


class MidiCame(msgspec.Struct, frozen=True, gc=False):
    """One whole MIDI message, its status byte first. ``port`` is the rig's word for the port, not the system's name.

    ``at_ns`` counts as ``clock.now_ns`` does. Where two words of the rig mean one port, it comes once for each.
    """

    port: str
    message: bytes
    at_ns: int


class PortFound(msgspec.Struct, frozen=True):
    """This port is open from now on. ``name`` is what the system calls it today; its numbers may differ tomorrow.

    ``was_there``: it has not just been switched on. It was there when we first looked, or has been for a second and
    more, and could only now be told from another of its name, or be opened.
    """

    port: str
    direction: Direction
    name: str
    at_ns: int
    was_there: bool = False


class PortLost(msgspec.Struct, frozen=True):
    """This port is not there, or no more; ``why`` is a sentence for the player. Told once, and anew when it changes."""

    port: str
    direction: Direction
    why: str
    at_ns: int


class PortsAwaited(msgspec.Struct, frozen=True):
    """The MIDI system has not let us in yet; ``why`` is a sentence for the player. Told again as long as it is so."""

    why: str
    at_ns: int


Arrival = MidiCame | PortFound | PortLost | PortsAwaited


class Inbox(Protocol):
    """Where arrivals go, from any thread, without waiting: a ``queue.SimpleQueue``."""

    def put(self, arrival: Arrival) -> None:
        """Take one arrival. Called in the driver's own thread: it must return at once."""
