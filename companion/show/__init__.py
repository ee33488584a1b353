"""The show's model, reading and writing it, checks."""

from typing import TYPE_CHECKING

from companion.show.model import Begins, Ending, Section, Set, Show, Song, SoundCall, Steps
from companion.show.reading import ReadShow, read_show, show_schema

if TYPE_CHECKING:
    from companion.show.checks import Check, Missing, check

__all__ = [
    "Begins",
    "Check",
    "Ending",
    "Missing",
    "ReadShow",
    "Section",
    "Set",
    "Show",
    "Song",
    "SoundCall",
    "Steps",
    "check",
    "read_show",
    "show_schema",
]


def __getattr__(name: str) -> object:
    """Bring in the checks when they are asked for: a night that begins needs none."""
    if name in ("Check", "Missing", "check"):
        from companion.show import checks  # noqa: PLC0415

        return getattr(checks, name)
    raise AttributeError(name)
