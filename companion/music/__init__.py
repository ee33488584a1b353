"""Theory: pitches, keys, chords, numbers, meter and tempo. No files, no clock, nothing of the other rooms."""

from companion.music.chord import NO_CHORD, Chord, read_chord
from companion.music.faults import NotMusic
from companion.music.key import Key, Mode, read_key
from companion.music.kind import Kind, Seventh, Third
from companion.music.meter import Meter, read_meter
from companion.music.pitch import Pitch, read_pitch
from companion.music.tempo import (
    TappedTempo,
    bar_seconds,
    note_ms,
    read_tempo,
    shown_length,
    song_seconds,
    tap_tempo,
)

__all__ = [
    "NO_CHORD",
    "Chord",
    "Key",
    "Kind",
    "Meter",
    "Mode",
    "NotMusic",
    "Pitch",
    "Seventh",
    "TappedTempo",
    "Third",
    "bar_seconds",
    "note_ms",
    "read_chord",
    "read_key",
    "read_meter",
    "read_pitch",
    "read_tempo",
    "shown_length",
    "song_seconds",
    "tap_tempo",
]
