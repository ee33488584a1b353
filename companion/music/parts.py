"""Parts and pitches: what a Bb, Eb or F instrument reads, the capo, how far a keyboard is tuned."""

import enum
import re

import msgspec

from companion.music.chord import Chord
from companion.music.faults import NotMusic, quoted
from companion.music.key import Key, Mode
from companion.music.numbers import moved
from companion.music.pitch import LETTERS, Pitch, pitch_at

NATURAL_SEMITONES = (0, 2, 4, 5, 7, 9, 11)  # C D E F G A B


class Part(enum.Enum):
    """The pitch that a part is written in."""

    CONCERT = "concert"
    BB = "Bb"
    EB = "Eb"
    F = "F"


SIGNS_ADDED = {
    Part.CONCERT: 0,
    Part.BB: 2,
    Part.EB: 3,
    Part.F: 1,
}  # to the concert key's sharps; any orchestration book


class Note(msgspec.Struct, frozen=True):
    """A pitch in its octave; C4 is middle C, MIDI note 60. The octave is the letter's: Cb4 sounds as B3."""

    pitch: Pitch
    octave: int

    @property
    def midi(self) -> int:
        """Its MIDI note number; below 0 or above 127 where MIDI has none."""
        return 12 * (self.octave + 1) + NATURAL_SEMITONES[LETTERS.index(self.pitch.letter)] + self.pitch.accidental

    def above(self, letters: int, semitones: int) -> "Note":
        """Give the note an interval higher, or lower below 0: a major sixth is 5 letters and 9 semitones."""
        octaves, letter = divmod(LETTERS.index(self.pitch.letter) + letters, 7)
        natural = Note(Pitch(LETTERS[letter]), self.octave + octaves)
        return Note(Pitch(LETTERS[letter], self.midi + semitones - natural.midi), self.octave + octaves)

    def __str__(self) -> str:
        return f"{self.pitch}{self.octave}"


class Instrument(msgspec.Struct, frozen=True):
    """What an instrument reads: its part, and how far above concert pitch the written note stands."""

    name: str
    part: Part
    letters: int
    semitones: int


INSTRUMENTS = (  # any orchestration book
    Instrument("trumpet", Part.BB, 1, 2),
    Instrument("clarinet", Part.BB, 1, 2),
    Instrument("soprano sax", Part.BB, 1, 2),
    Instrument("tenor sax", Part.BB, 8, 14),
    Instrument("alto sax", Part.EB, 5, 9),
    Instrument("baritone sax", Part.EB, 12, 21),
    Instrument("horn", Part.F, 4, 7),
    Instrument("English horn", Part.F, 4, 7),
    Instrument("guitar", Part.CONCERT, 7, 12),
    Instrument("bass guitar", Part.CONCERT, 7, 12),
    Instrument("trombone", Part.CONCERT, 0, 0),
    Instrument("tuba", Part.CONCERT, 0, 0),
    Instrument("flute", Part.CONCERT, 0, 0),
    Instrument("violin", Part.CONCERT, 0, 0),
    Instrument("cello", Part.CONCERT, 0, 0),
)
OPEN_SHAPES = {  # keys that a guitarist plays with open strings (common practice, no source)
    Mode.MAJOR: tuple(Key(Pitch(letter)) for letter in "CDEGA"),
    Mode.MINOR: tuple(Key(Pitch(letter), Mode.MINOR) for letter in "ADE"),
}
HIGHEST_CAPO = 7  # above it a guitar sounds like a toy; the published table ends here too
_NOTE = re.compile(r"-?[0-9]")


def read_note(text: str) -> Note:
    """Read a pitch with its octave: Bb3, F#4. Raises NotMusic."""
    pitch, octave_column = pitch_at(text, 0)
    found = _NOTE.fullmatch(text, octave_column)
    if not found:
        raise NotMusic(min(octave_column, len(text) - 1), f"{quoted(text)} needs an octave, -1 to 9", f"{pitch}4")
    return Note(pitch, int(found[0]))


def written_note(concert: Note, instrument: Instrument) -> Note:
    """Give the note that this instrument reads where the concert note is to sound."""
    return concert.above(instrument.letters, instrument.semitones)


def written_key(concert: Key, part: Part) -> Key:
    """Give the key of a part, in the spelling with fewer signs: B is Db for a Bb part, not C#."""
    return concert if part is Part.CONCERT else concert.transposed(SIGNS_ADDED[part] * 7)


def written_chord(concert: Chord, key: Key, part: Part) -> Chord:
    """Give a chord of a song in this concert key as the part has it."""
    return moved(concert, key, written_key(key, part))


def with_capo(shape: Key, capo: int) -> Key:
    """Give the key that sounds. A guitar tuned down a half step has capo -1."""
    return shape.transposed(capo)


def capo_for(sounding: Key, shape: Key) -> int:
    """Give the fret, 0 to 11, where these shapes sound in this key."""
    return (sounding.tonic.semitone - shape.tonic.semitone) % 12


def capo_choices(sounding: Key) -> tuple[tuple[int, Key], ...]:
    """Give the open shapes that reach this key, with their fret up to the seventh, the lowest first.

    A mode is fingered as the major key of its signature.
    """
    key = sounding if sounding.mode in OPEN_SHAPES else Key.signed(sounding.sf)
    frets = ((capo_for(key, shape), shape) for shape in OPEN_SHAPES[key.mode])
    return tuple(sorted((choice for choice in frets if choice[0] <= HIGHEST_CAPO), key=lambda choice: choice[0]))


def tuning_shift(fingered_in: Key, sounds_in: Key) -> int:
    """Give the semitones, -6 to 5, by which a keyboard is tuned so that fingers in one key sound in the other.

    The nearer way is taken; a tritone goes down, where samples stretch less audibly (common practice, no source).
    """
    shift = sounds_in.tonic.semitone - fingered_in.tonic.semitone
    return (shift + 6) % 12 - 6
