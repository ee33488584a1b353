"""Protocols of the outside: what the port watch needs of a MIDI system, and of a port open on it."""

import enum
from collections.abc import Callable, Sequence
from typing import Final, Protocol

from companion.ports.arrivals import Direction

NO_SERVER: Final = "the MIDI server is not running"
OnMessage = Callable[[Sequence[int], int], None]
"""Handles the bytes of one message and its arrival time (ns), in the driver's own thread; must return at once."""


class Health(enum.Enum):
    """The server's health."""

    WELL = "well"
    STALLED = "stalled"  # stopped or overloaded: its clients are still valid, but nothing flows
    GONE = "gone"


class PortRefused(Exception):  # noqa: N818 - what a driver says, not a fault of ours
    """The system cannot open a port, or refuses to send; the text is the system's own."""


class SendPort(Protocol):
    """A port that is open for output."""

    def send(self, message: bytes) -> bool:
        """Send one message; False if the driver has no room now. Raises PortRefused if the port is dead."""

    def holds(self) -> bool | None:
        """Return whether it is connected; None if the system cannot tell."""

    def close(self) -> None:
        """Close it; the device may be gone."""

    def abandon(self) -> None:
        """Never touch it again: its system is dead, and closing it could hang."""


class ReceivePort(Protocol):
    """A port that is open for input."""

    def holds(self) -> bool | None:
        """Return whether it is connected; None if the system cannot tell."""

    def close(self) -> None:
        """Close it; the device may be gone. No message may be arriving any more."""

    def abandon(self) -> None:
        """Never touch it again."""


class MidiSystem(Protocol):
    """What the port watch needs of a MIDI system."""

    @property
    def word(self) -> str:
        """Its short name: alsa, core, jack, winmm."""

    @property
    def gone(self) -> str:
        """The message for the player while its health is GONE."""

    def begin(self) -> None:
        """Tie the system to the calling thread."""

    def health(self) -> Health:
        """Return its health; called twice a second. WELL if the system cannot go away."""

    def find_again(self) -> bool:
        """Look for the system after it was gone; return whether it is back."""

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Return the names of its ports, in its own order."""

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        """Do in advance, for these labels, everything that would block open ports. Never raises."""

    def open_ear(self, name: str, label: str, on_message: OnMessage, *, sysex: bool, clock: bool) -> ReceivePort:
        """Open the port of this name for input; raises PortRefused. ``label`` is what other programs see."""

    def open_wire(self, name: str, label: str) -> SendPort:
        """Open the port of this name for output; raises PortRefused."""

    def end(self) -> None:
        """Leave the system, after all ports are closed."""
