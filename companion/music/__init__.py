"""Theory: pitches, keys, chords, numbers, meter and tempo. No files, no clock, no imports from other rooms."""

from typing import TYPE_CHECKING

from companion.late import late
from companion.music.faults import NotMusic
from companion.music.key import Key, Mode, fifths_between, read_key
from companion.music.meter import Meter, read_meter
from companion.music.pitch import Pitch
from companion.music.tempo import (
    bar_seconds,
    read_tempo,
    shown_length,
    song_seconds,
    tap_tempo,
)

if TYPE_CHECKING:
    from companion.music.chord import NO_CHORD, Chord, read_chord
    from companion.music.chord_line import SIGNS, Bar, ChordLine, Repeat, RepeatEnding, Sign, Struck
    from companion.music.chord_line_signs import read_chord_line
    from companion.music.hits import Hit, HitBar, Hits, read_hits
    from companion.music.instruments import PART_OF_INSTRUMENT, PartPitch, written_key
    from companion.music.kind import ChordKind, Seventh, Third
    from companion.music.numbers import (
        NO_NUMBER_CHORD,
        Degree,
        NumberChord,
        moved,
        read_number,
        to_letters,
        to_number,
    )

__all__ = [
    "NO_CHORD",
    "NO_NUMBER_CHORD",
    "PART_OF_INSTRUMENT",
    "SIGNS",
    "Bar",
    "Chord",
    "ChordKind",
    "ChordLine",
    "Degree",
    "Hit",
    "HitBar",
    "Hits",
    "Key",
    "Meter",
    "Mode",
    "NotMusic",
    "NumberChord",
    "PartPitch",
    "Pitch",
    "Repeat",
    "RepeatEnding",
    "Seventh",
    "Sign",
    "Struck",
    "Third",
    "bar_seconds",
    "fifths_between",
    "moved",
    "read_chord",
    "read_chord_line",
    "read_hits",
    "read_key",
    "read_meter",
    "read_number",
    "read_tempo",
    "shown_length",
    "song_seconds",
    "tap_tempo",
    "to_letters",
    "to_number",
    "written_key",
]

# Chart modules load on first use: the first sound of a show needs none of them.
__getattr__ = late(__name__, ("chord", "chord_line", "chord_line_signs", "hits", "kind", "numbers", "instruments"))
