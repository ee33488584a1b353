"""What the night needs of a journal."""

from typing import Protocol

from companion.stage import State


class EntryWriter(Protocol):
    """Records events; never raises."""

    @property
    def is_unsaved(self) -> bool:
        """Whether a restart would lose this place, since the disk is full or hangs."""

    def write(self, record: bytes) -> None:
        """Write one record."""

    def note(self, record: bytes) -> None:
        """Write what happened around the show; it does not change the state."""

    def go_on(self, state: State, at_ms: int) -> str:
        """Continue from this state, whose show was read again; return why that failed, or ""."""
