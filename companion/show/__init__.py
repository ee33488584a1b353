"""The show's model, reading and writing it, checks."""

from companion.show.checks import Check, Missing, check
from companion.show.model import Begins, Ending, Section, Set, Show, Song, SoundCall, Steps
from companion.show.reading import ReadShow, read_show, show_schema

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
