"""The key of some music, found from how long each note sounds: the profiles of Krumhansl and Kessler.

C. L. Krumhansl and E. J. Kessler, "Tracing the dynamic changes in perceived tonal organization in a spatial
representation of musical keys", Psychological Review 89 (1982), 334-368, rates how well each of the twelve notes fits
after a key was heard. The key found is the one whose profile correlates best with the music (the method of Krumhansl
and Schmuckler).
"""

import math
from collections.abc import Mapping, Sequence
from typing import Final

import msgspec

from companion.music.key import Key, Mode

MAJOR: Final = (6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88)  # from the tonic up
MINOR: Final = (6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17)
PROFILES: Final = {Mode.MAJOR: MAJOR, Mode.MINOR: MINOR}
CLEAR: Final = 0.05  # the lead over the second key that counts as sure (common practice, no source)


class FoundKey(msgspec.Struct, frozen=True):
    """A key found. ``fits`` is its correlation, -1 to 1; ``ahead`` is its lead over the second best."""

    key: Key
    fits: float
    second: Key
    ahead: float

    @property
    def is_sure(self) -> bool:
        """Whether it is clearly ahead of all others."""
        return self.ahead >= CLEAR

    def __str__(self) -> str:
        if self.is_sure:
            return f"{self.key}, from its notes ({self.fits:.2f})"
        return f"{self.key} or {self.second}, from their notes ({self.fits:.2f} and {self.fits - self.ahead:.2f})"


def find_key(sounding: Sequence[float]) -> FoundKey | None:
    """Find the key from how long each of the twelve notes sounds, from C up, in any unit.

    Return None if nothing sounds, or all twelve equally.
    """
    if not any(sounding) or min(sounding) == max(sounding):
        return None
    ranked = sorted(
        (
            (_alike(sounding, _turned(profile, tonic)), mode, tonic)
            for mode, profile in PROFILES.items()
            for tonic in range(12)
        ),
        key=lambda one: -one[0],
    )
    (fits, mode, tonic), (less, other_mode, other_tonic) = ranked[:2]
    return FoundKey(_key(tonic, mode), fits, _key(other_tonic, other_mode), fits - less)


def fits_key(sounding: Sequence[float], key: Key, profiles: Mapping[Mode, Sequence[float]] = PROFILES) -> float:
    """Return how well a key fits, -1 to 1: its profile's correlation with ``sounding`` (see ``find_key``).

    For a mode, return the better of the major and the minor key on its tonic.
    """
    modes = (key.mode,) if key.mode in profiles else tuple(profiles)
    return max(_alike(sounding, _turned(profiles[mode], key.tonic.semitone)) for mode in modes)


def _turned(profile: Sequence[float], tonic: int) -> list[float]:
    return [profile[(note - tonic) % 12] for note in range(12)]


def _key(tonic: int, mode: Mode) -> Key:
    """Return the key on this note, in the spelling with fewer signs."""
    home = Key.signed(0, mode)
    return home.transposed(tonic - home.tonic.semitone)


def _alike(one: Sequence[float], other: Sequence[float]) -> float:
    """Return Pearson's correlation of two sequences of equal length, neither constant."""
    mean, other_mean = sum(one) / len(one), sum(other) / len(other)
    apart = [(a - mean, b - other_mean) for a, b in zip(one, other, strict=True)]
    both = sum(a * b for a, b in apart)
    return both / math.sqrt(sum(a * a for a, _b in apart) * sum(b * b for _a, b in apart))
