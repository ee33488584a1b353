"""The shapes of the outside: what the port watch needs of a MIDI system, and of a port that is open on it."""

import enum
from collections.abc import Callable, Sequence
from typing import Final, Protocol

from companion.ports.arrivals import Direction

NO_SERVER: Final = "the MIDI server is not running"
Came = Callable[[Sequence[int], int], None]
"""Takes the bytes of one message and when it arrived (ns), in the driver's own thread, and returns at once."""


class Health(enum.Enum):
    """How the server is."""

    WELL = "well"
    STALLED = "stalled"  # stopped or overloaded: its clients are valid still, but nothing flows
    GONE = "gone"


class PortRefused(Exception):  # noqa: N818 - what a driver says, not a fault of ours
    """The system would not open a port, or refuses to send; the text is its own."""


class Wire(Protocol):
    """A port that is open for sending."""

    def send(self, message: bytes) -> bool:
        """Hand one message to the driver; False where it has no room now. Raises PortRefused when the port is dead."""

    def holds(self) -> bool | None:
        """Tell whether it is connected; None where the system cannot tell."""

    def close(self) -> None:
        """Close it; it may be gone."""

    def abandon(self) -> None:
        """Never touch it again: what it belongs to is dead, and closing it could hang."""


class Ear(Protocol):
    """A port that is open for hearing."""

    def holds(self) -> bool | None:
        """Tell whether it is connected; None where the system cannot tell."""

    def close(self) -> None:
        """Close it; it may be gone. Nothing must be coming in any more."""

    def abandon(self) -> None:
        """Never touch it again."""


class MidiSystem(Protocol):
    """What the port watch needs of a MIDI system."""

    @property
    def word(self) -> str:
        """Its short name: alsa, core, jack, winmm."""

    @property
    def gone(self) -> str:
        """What the player is told while its health is GONE."""

    def begin(self) -> None:
        """Make this thread the one that it belongs to."""

    def health(self) -> Health:
        """Tell how it is; asked twice a second. WELL where the system cannot go away."""

    def find_again(self) -> bool:
        """Look for it after it was gone."""

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Give the names of its ports, as it lists them."""

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        """Do before any port of these labels is opened what would hold up those that are open. Never raises."""

    def open_ear(self, name: str, label: str, came: Came, *, sysex: bool, clock: bool) -> Ear:
        """Open the port of this name for hearing; raises PortRefused. ``label`` is what other programs see."""

    def open_wire(self, name: str, label: str) -> Wire:
        """Open the port of this name for sending; raises PortRefused."""

    def end(self) -> None:
        """Take leave, after all ports are closed."""
