"""Parts: the key in which an instrument's part is written."""

import enum
from typing import Final

from companion.music.key import Key


class Part(enum.Enum):
    """The pitch that a part is written in."""

    CONCERT = "concert"
    BB = "Bb"
    EB = "Eb"
    F = "F"


SHARPS_ADDED: Final = {Part.CONCERT: 0, Part.BB: 2, Part.EB: 3, Part.F: 1}
"""To the concert key's signature (any orchestration book)."""

PART_OF_INSTRUMENT: Final = {  # any orchestration book
    "trumpet": Part.BB,
    "clarinet": Part.BB,
    "soprano sax": Part.BB,
    "tenor sax": Part.BB,
    "alto sax": Part.EB,
    "baritone sax": Part.EB,
    "horn": Part.F,
    "English horn": Part.F,
    "guitar": Part.CONCERT,
    "bass guitar": Part.CONCERT,
    "trombone": Part.CONCERT,
    "tuba": Part.CONCERT,
    "flute": Part.CONCERT,
    "violin": Part.CONCERT,
    "cello": Part.CONCERT,
}


def written_key(concert: Key, part: Part) -> Key:
    """Return the written key of a part, in the spelling with fewer signs: concert B is Db for a Bb part, not C#."""
    return concert if part is Part.CONCERT else concert.transposed(SHARPS_ADDED[part] * 7)
