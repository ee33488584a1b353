"""Keys: how people write them, their signatures and scales, and the key of a song after a move."""

import enum
import re

import msgspec

from companion.music.faults import LONGEST_QUOTE, NotMusic, nearest, quoted
from companion.music.pitch import Pitch


class Mode(enum.Enum):
    """The scale of a key. Ionian reads as major, aeolian as minor."""

    MAJOR = "major"
    MINOR = "minor"
    DORIAN = "dorian"
    PHRYGIAN = "phrygian"
    LYDIAN = "lydian"
    MIXOLYDIAN = "mixolydian"
    LOCRIAN = "locrian"


# Fifths between a mode's tonic and the major tonic of the same signature: D dorian has C major's.
FIFTHS_BELOW = {
    Mode.MAJOR: 0,
    Mode.MINOR: 3,
    Mode.DORIAN: 2,
    Mode.PHRYGIAN: 4,
    Mode.LYDIAN: -1,
    Mode.MIXOLYDIAN: 1,
    Mode.LOCRIAN: 5,
}
MAX_SIGNS = 7  # 15 signatures are written, from seven flats to seven sharps

WORDS = {
    **{mode.value: mode for mode in Mode},
    **dict.fromkeys(("", "maj", "ma", "ionian"), Mode.MAJOR),
    **dict.fromkeys(("m", "-", "−", "–", "min", "mi", "aeolian", "natural minor"), Mode.MINOR),
    **dict.fromkeys(("harmonic minor", "melodic minor"), Mode.MINOR),  # the signature is the same
    "dor": Mode.DORIAN,
    "phryg": Mode.PHRYGIAN,
    "lyd": Mode.LYDIAN,
    "mixo": Mode.MIXOLYDIAN,
    "mix": Mode.MIXOLYDIAN,
}
_TONIC = r"(?i)\s*\(?\s*(?:key\s*(?:of\s|:)\s*|in\s+)?([A-G])(?:(b|♭|[\s-]?flat)|(#|♯|[\s-]?sharp))?(?![b#♭♯])"


class Key(msgspec.Struct, frozen=True):
    """A tonic and a mode, within the 15 signatures. Its text is the one for the stage: Bb, F#m, D dorian."""

    tonic: Pitch
    mode: Mode = Mode.MAJOR

    @classmethod
    def signed(cls, sf: int, mode: Mode = Mode.MAJOR) -> "Key":
        """Return the key of this mode with ``sf`` sharps, or -``sf`` flats if negative."""
        return cls(Pitch.on_fifths(sf + FIFTHS_BELOW[mode]), mode)

    @property
    def sf(self) -> int:
        """Sharps in the signature, or flats below 0: -7 to 7, as in a MIDI key signature."""
        return self.tonic.fifths - FIFTHS_BELOW[self.mode]

    @property
    def scale(self) -> tuple[Pitch, ...]:
        """Its seven pitches from the tonic up. Minor is natural minor, as in the signature."""
        pitches = [Pitch.on_fifths(place) for place in range(self.sf - 1, self.sf + 6)]
        start = self.tonic.semitone
        return tuple(sorted(pitches, key=lambda pitch: (pitch.semitone - start) % 12))

    @property
    def relative(self) -> "Key":
        """The key with the same signature: Gm for Bb and Bb for Gm. For a mode, the major key with its signature."""
        return Key.signed(self.sf, Mode.MINOR if self.mode is Mode.MAJOR else Mode.MAJOR)

    @property
    def parallel(self) -> "Key":
        """Minor for major, else major, on the same tonic; F#m for Gb, because Gb minor is never written."""
        mode = Mode.MINOR if self.mode is Mode.MAJOR else Mode.MAJOR
        sf = self.tonic.fifths - FIFTHS_BELOW[mode]
        return Key.signed(sf if abs(sf) <= MAX_SIGNS else _fewest_signs(sf, self.sf), mode)

    @property
    def respelled(self) -> "Key":
        """The key's enharmonic name if one is in use (Gb for F#), else the key itself."""
        other = self.sf - 12 if self.sf > 0 else self.sf + 12
        return Key.signed(other, self.mode) if abs(other) <= MAX_SIGNS else self

    def transposed(self, semitones: int) -> "Key":
        """Return the key this many semitones higher, in the spelling with fewer signs.

        Six flats or six sharps is a tie: the song's own side wins, or flats if it has neither (common practice, no
        source). A move by whole octaves changes nothing.
        """
        if semitones % 12 == 0:
            return self
        return Key.signed(_fewest_signs(self.sf + 7 * semitones, self.sf), self.mode)

    def in_mode(self, mode: Mode) -> "Key":
        """Return the key of this mode on the same tonic, or on its enharmonic if only that one has a signature."""
        return _written(Key(self.tonic, mode))

    def moved_with(self, old: "Key", new: "Key") -> "Key":
        """Return this section's key after its song moves from the old key to the new one; the mode stays.

        A tie of six flats and six sharps goes to the new key's side. If the mode changes, see ``fifths_between``.

        >>> str(Key(Pitch("D")).moved_with(Key(Pitch("C")), Key(Pitch("B", -1))))
        'C'
        """
        if self == old and old.mode is new.mode:
            return new  # keep its spelling
        fifths = fifths_between(old, new)
        return Key.signed(_fewest_signs(self.sf + fifths, new.sf), self.mode) if fifths else self

    def __str__(self) -> str:
        if self.mode in (Mode.MAJOR, Mode.MINOR):
            return f"{self.tonic}{'m' if self.mode is Mode.MINOR else ''}"
        return f"{self.tonic} {self.mode.value}"


def fifths_between(old: Key, new: Key) -> int:
    """Return how many fifths a song moves from one key to another (see pitch.py).

    If the mode changes, keys with the same signature are the same notes (Am and C): 0. Any other pair is compared by
    tonic: a set list that says A for a song in A minor has left out the "minor".
    """
    if old.mode is new.mode or old.sf == new.sf:
        return new.sf - old.sf
    return new.tonic.fifths - old.tonic.fifths


def _fewest_signs(sf: int, side: int) -> int:
    """Return the enharmonic signature with at most six signs. ``side`` below 0 means a song in flats."""
    fewest = (sf + 6) % 12 - 6
    return 6 if fewest == -6 and side > 0 else fewest


def read_key(text: str) -> Key:
    """Read a key as people write it: Bb, B♭, b-flat, Bbm, B minor, F#-, (Gm), Eb major, D dorian, key of G.

    A small letter does not mean minor. A lone capital M is refused: a sheet in capitals means minor by it, theory
    books mean major, and a wrong key is worse than a question. Raises NotMusic.
    """
    start = len(text) - len(text.lstrip())
    found = re.match(_TONIC, text[:LONGEST_QUOTE])
    if not found:
        raise NotMusic(min(start, max(len(text) - 1, 0)), f"{quoted(text)} is not a key", _meant(text))
    tonic = Pitch(found[1].upper(), -1 if found[2] else 1 if found[3] else 0)
    rest = text[found.end() :]
    word = rest.rstrip(" \t).").strip()
    column = found.end() + len(rest) - len(rest.lstrip())
    if len(word) > 2 and word[0] == "-":
        word = word[1:].lstrip()  # F#-minor: the hyphen joins
    if word == "M":
        raise NotMusic(column, f"M after {tonic} can mean major or minor", f"{tonic} or {tonic}m")
    mode = WORDS.get(" ".join(word.lower().split()))
    if mode is None:
        alike = nearest(word, tuple(name for name in WORDS if len(name) > 1))
        meant = Key(tonic, WORDS[alike] if alike else Mode.MAJOR)
        raise NotMusic(column, f"{quoted(word)} after {tonic} is not a kind of key", str(_written(meant)))
    key = Key(tonic, mode)
    if abs(key.sf) > MAX_SIGNS:
        raise NotMusic(found.start(1), f"{key} has no key signature", str(_written(key)))
    return key


def _written(key: Key) -> Key:
    """Return the key itself if it has a signature, else its enharmonic."""
    return key if abs(key.sf) <= MAX_SIGNS else Key.signed(_fewest_signs(key.sf, key.sf), key.mode)


def _meant(text: str) -> str:
    """Return what to write for a text that does not begin with a key: H is the German B."""
    word = text.strip(" ()")
    if word[:1] in ("h", "H"):
        return f"B{'m' if word[1:].strip(' -').lower() in ('m', 'min', 'minor', 'moll') else ''}"
    return "a letter from A to G, as in Bb or F#m"
