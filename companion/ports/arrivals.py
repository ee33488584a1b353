"""What arrives from outside: a MIDI message, a port found, a port lost. All of it goes into one inbox."""

import enum
from typing import Protocol

import msgspec

THE_ONE_THERE_IS = ""
"""The port word of a keyboard whose rig names no port: it matches every name, so it finds only a single port."""


class Direction(enum.Enum):
    """The direction of a port's messages, seen from the program."""

    IN = "in"
    OUT = "out"


class MidiReceived(msgspec.Struct, frozen=True, gc=False):
    """One whole MIDI message, status byte first. ``port`` is the rig's word for the port, not the system's name.

    ``at_ns`` is on the scale of ``clock.now_ns``. If two words of the rig mean one port, each gets its own message.
    """

    port: str
    message: bytes
    at_ns: int


class PortFound(msgspec.Struct, frozen=True):
    """This port is now open. ``name`` is the system's name for it today; its numbers may differ tomorrow.

    ``was_there``: the port was not just switched on. It was listed at the first scan, or for at least a second, and
    could not be opened, or not be distinguished from others of its name, until now.
    """

    port: str
    direction: Direction
    name: str
    at_ns: int
    was_there: bool = False


class PortLost(msgspec.Struct, frozen=True):
    """This port is missing; ``why`` is a sentence for the player. Sent once, and again when the reason changes."""

    port: str
    direction: Direction
    why: str
    at_ns: int


class PortsAwaited(msgspec.Struct, frozen=True):
    """The MIDI system has not accepted us yet; ``why`` is a sentence for the player. "" once it has."""

    why: str
    at_ns: int


Arrival = MidiReceived | PortFound | PortLost | PortsAwaited


class ArrivalInbox(Protocol):
    """Where arrivals go, from any thread, without blocking: a ``queue.SimpleQueue``."""

    def put(self, arrival: Arrival) -> None:
        """Add one arrival. Called in the driver's own thread: must return at once."""
