"""Meters: as written (beats over unit), as felt (6/8 is two dotted quarters), and how they are read."""

import re
from fractions import Fraction

import msgspec

from companion.music.faults import NotMusic, nearest, quoted

UNITS = (1, 2, 4, 8, 16, 32)
MAX_BEATS = 32  # players split longer bars
COMMON_TIME = {"c": (4, 4), "¢": (2, 2), "c|": (2, 2)}
USUAL = ("4/4", "3/4", "2/4", "6/8", "12/8", "2/2", "5/4", "7/8", "9/8", "6/4", "3/8", "5/8")
_ALONE = tuple(str(beats) for beats in range(1, 13))  # means quarters
_METER = r"\s*([0-9]{1,2})\s*/\s*([0-9]{1,2})\s*$"


class Meter(msgspec.Struct, frozen=True):
    """The two numbers of a time signature: a bar has ``beats`` beats of one ``unit`` (4 is a quarter)."""

    beats: int
    unit: int

    @property
    def is_compound(self) -> bool:
        """Whether the felt beat is dotted: 3, 6, 9, 12 ... over 8 or 16.

        6/4 is felt in quarters; 3/8 in one, like a bar of 3/8 in a 6/8 song (common practice, no source).
        """
        return self.unit in (8, 16) and self.beats % 3 == 0

    @property
    def felt_beat(self) -> Fraction:
        """The note that a tempo counts and a foot taps, as a fraction of a whole note.

        Three units in a compound meter; else the unit if it is a quarter or longer; else a quarter, so 7/8 has
        three and a half.
        """
        if self.is_compound:
            return Fraction(3, self.unit)
        return Fraction(1, min(self.unit, 4))

    @property
    def felt_beats(self) -> Fraction:
        """Felt beats in a bar: 4 in 4/4, 2 in 6/8, 7/2 in 7/8."""
        return self.whole_notes / self.felt_beat

    @property
    def whole_notes(self) -> Fraction:
        """The length of a bar in whole notes."""
        return Fraction(self.beats, self.unit)

    def __str__(self) -> str:
        return f"{self.beats}/{self.unit}"


def read_meter(text: str) -> Meter:
    """Read a meter: 4/4, 6/8, C or ¢; 1 to 32 beats over 1, 2, 4, 8, 16 or 32. Raises NotMusic."""
    common = COMMON_TIME.get(text.strip().lower())
    if common:
        return Meter(*common)
    found = re.match(_METER, text)
    start = len(text) - len(text.lstrip())
    if not found:
        alike = f"{text.strip()}/4" if text.strip() in _ALONE else nearest(text.strip(), USUAL)
        raise NotMusic(min(start, max(len(text) - 1, 0)), f"{quoted(text)} is not a meter", alike or "4/4, for example")
    beats, unit = int(found[1]), int(found[2])
    if not 1 <= beats <= MAX_BEATS:
        raise NotMusic(
            found.start(1),
            f"a bar has 1 to {MAX_BEATS} beats, not {beats}",
            f"4/{unit}" if unit in UNITS else "4/4",
        )
    if unit not in UNITS:
        close = min(UNITS, key=lambda known: abs(known - unit))
        raise NotMusic(found.start(2), f"there is no note value {unit}", f"{beats}/{close}")
    return Meter(beats, unit)
