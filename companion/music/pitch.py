"""Pitches by name: letter and accidental, their place on the line of fifths, and their plain names.

The line of fifths (... Bb F C G D A E B F# ...) is the arithmetic of spelling: a pitch is a place on it, an
interval a number of places, and moving a song adds the same number to every pitch. C is place 0; a sharp adds 7, a
flat subtracts 7; twelve places further is the same key of the keyboard under another name.
"""

import re

import msgspec

from companion.music.faults import NotMusic, quoted

LETTERS = "CDEFGAB"
LETTERS_BY_FIFTHS = "FCGDAEB"
LONGEST_HINT = 12  # characters of the player's text that a fault quotes
MAX_ACCIDENTALS = 2  # nobody writes three: beyond two, use the plain name
ACCIDENTAL = r"(?:bb|♭♭|𝄫|b|♭|##|♯♯|𝄪|#|♯)"
_PITCH = re.compile(rf"([A-G])({ACCIDENTAL}?)")


class Pitch(msgspec.Struct, frozen=True):
    """A pitch without octave, as spelled: Gb and F# differ. ``accidental`` in semitones, flats below 0."""

    letter: str
    accidental: int = 0

    @classmethod
    def on_fifths(cls, place: int) -> "Pitch":
        """Return the pitch this many fifths above C; its plain name if it would need three accidentals."""
        accidental, letter = divmod(place + 1, 7)
        pitch = cls(LETTERS_BY_FIFTHS[letter], accidental)
        return pitch if abs(accidental) <= MAX_ACCIDENTALS else pitch.plain

    @property
    def fifths(self) -> int:
        """Its place on the line of fifths; C is 0."""
        return LETTERS_BY_FIFTHS.index(self.letter) - 1 + 7 * self.accidental

    @property
    def semitone(self) -> int:
        """Its pitch class: 0 (C) to 11 (B)."""
        return self.fifths * 7 % 12

    @property
    def plain(self) -> "Pitch":
        """The name for the stage: A for Bbb, G for F##. Cb, Fb, E# and B# are right in their keys and stay.

        >>> [str(Pitch("B", -2).plain), str(Pitch("C", -1).plain)]
        ['A', 'Cb']
        """
        place = self.fifths
        while not -8 <= place <= 12:  # Fb .. B#: one accidental at most
            place += 12 if place < 0 else -12
        accidental, letter = divmod(place + 1, 7)
        return Pitch(LETTERS_BY_FIFTHS[letter], accidental)

    def moved(self, fifths: int) -> "Pitch":
        """Return the pitch this many fifths further: 2 is a tone up, -1 a fourth up."""
        return Pitch.on_fifths(self.fifths + fifths)

    def __str__(self) -> str:
        return self.letter + ("b" * -self.accidental if self.accidental < 0 else "#" * self.accidental)


def accidental_of(signs: str) -> int:
    """Return the semitones that these accidentals (b, ♭, #, ♯, 𝄫, 𝄪 or none) move a pitch."""
    return sum({"b": -1, "♭": -1, "𝄫": -2, "#": 1, "♯": 1, "𝄪": 2}[sign] for sign in signs)


def pitch_at(text: str, column: int) -> tuple[Pitch, int]:
    """Read the pitch at this column; return it and the column after it. Raises NotMusic."""
    found = _PITCH.match(text, column)
    if not found:
        raise NotMusic(column, f"{quoted(text[column:] or text)} does not begin with a pitch", _capital(text[column:]))
    return Pitch(found[1], accidental_of(found[2])), found.end()


def _capital(text: str) -> str:
    """Return what a small or German letter most likely means."""
    letter = text[:1].upper()
    if letter == "H":
        return "B" + text[1:LONGEST_HINT]
    return letter + text[1:LONGEST_HINT] if letter and letter in LETTERS else "a letter from A to G, as in Bb"
