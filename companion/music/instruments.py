"""Parts: the key in which an instrument's part is written."""

import enum
from typing import Final

from companion.music.key import Key


class PartPitch(enum.Enum):
    """The pitch that a part is written in."""

    CONCERT = "concert"
    BB = "Bb"
    EB = "Eb"
    F = "F"


SHARPS_ADDED: Final = {PartPitch.CONCERT: 0, PartPitch.BB: 2, PartPitch.EB: 3, PartPitch.F: 1}
"""To the concert key's signature (any orchestration book)."""

PART_OF_INSTRUMENT: Final = {  # any orchestration book
    "trumpet": PartPitch.BB,
    "clarinet": PartPitch.BB,
    "soprano sax": PartPitch.BB,
    "tenor sax": PartPitch.BB,
    "alto sax": PartPitch.EB,
    "baritone sax": PartPitch.EB,
    "horn": PartPitch.F,
    "English horn": PartPitch.F,
    "guitar": PartPitch.CONCERT,
    "bass guitar": PartPitch.CONCERT,
    "trombone": PartPitch.CONCERT,
    "tuba": PartPitch.CONCERT,
    "flute": PartPitch.CONCERT,
    "violin": PartPitch.CONCERT,
    "cello": PartPitch.CONCERT,
}


def written_key(concert: Key, part: PartPitch) -> Key:
    """Return the written key of a part, in the spelling with fewer signs: concert B is Db for a Bb part, not C#."""
    return concert if part is PartPitch.CONCERT else concert.transposed(SHARPS_ADDED[part] * 7)
