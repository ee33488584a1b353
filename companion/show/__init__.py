"""The show: its model, reading, writing and checks."""

from typing import TYPE_CHECKING

from companion.late import late
from companion.show.chords import SectionChords, SongKeys, chords_on, song_keys
from companion.show.model import Begins, Ending, PracticeTime, Section, Set, Show, Song, SoundCall, Steps

if TYPE_CHECKING:
    from companion.show.checks import Missing, check
    from companion.show.show_file import ReadShow, read_show, show_schema

__all__ = [
    "Begins",
    "Ending",
    "Missing",
    "PracticeTime",
    "ReadShow",
    "Section",
    "SectionChords",
    "Set",
    "Show",
    "Song",
    "SongKeys",
    "SoundCall",
    "Steps",
    "check",
    "chords_on",
    "read_show",
    "show_schema",
    "song_keys",
]

# A night that starts from its saved reading needs neither.
__getattr__ = late(__name__, ("show_file", "checks"))
