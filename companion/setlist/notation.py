"""How a list names keys: by English letters, by German ones, or by syllables."""

import enum


class Notation(enum.Enum):
    """The names of notes in a list. Where a name has one meaning only (Es, fis-Moll, Sol), every notation reads it."""

    LETTERS = "letters"  # B is the note below C
    GERMAN = "German"  # H is the note below C, B is Bb, and small letters are minor keys
    SYLLABLES = "do re mi"
