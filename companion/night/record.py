"""What the night needs of whoever writes down what happens."""

from typing import Protocol

from companion.stage import State


class Record(Protocol):
    """Where events are written down; it never raises."""

    def write(self, record: bytes) -> None:
        """Hand one record to the system."""

    def note(self, record: bytes) -> None:
        """Hand over what happened around the show; it changes no state."""

    def go_on(self, state: State, at_ms: int) -> str:
        """Go on from this state, whose show was read again; why that cannot be, or nothing."""
