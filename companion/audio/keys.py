"""The key of a recording, from its chords: how long each note of them sounds, and where the music comes home."""

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np

from companion.audio.heard_chords import FIFTH, THIRD, HeardChord
from companion.music import Key, Mode
from companion.music.key_finding import PROFILES, fits_key

HOME_SHARE: Final = 0.35  # weight of the share of time that the key's own chord sounds
FIRST_AND_LAST: Final = 0.06  # for a song that begins, or ends, at home
SHARPNESS: Final = 14.0  # from scores to probabilities


class HeardKey(msgspec.Struct, frozen=True):
    """A key, how sure it is, and the key that comes second; None if no chord was heard."""

    key: Key | None
    sure: float = 0.0
    second: Key | None = None
    second_sure: float = 0.0


def heard_key(chords: Sequence[HeardChord]) -> HeardKey:
    """Return the key that fits the chords best."""
    sounding = np.zeros(12)
    home: dict[tuple[int, str], float] = {}
    total = 0.0
    played = [one for one in chords if one.root is not None]
    for one in played:
        root, long = int(one.root or 0), float(one.stop - one.start)
        for above, weight in (
            (0, 1.0),
            (THIRD[one.triad], 0.8),
            (FIFTH[one.triad], 0.8),
            (one.seventh, 0.4 * bool(one.seventh)),
        ):
            sounding[(root + above) % 12] += weight * long
        home[root, one.triad] = home.get((root, one.triad), 0.0) + long
        total += long
    if not total:
        return HeardKey(None)
    scores = []
    for mode in PROFILES:
        for tonic in range(12):
            key = Key.signed(0, mode)
            key = key.transposed(tonic - key.tonic.semitone)
            triad = "maj" if mode is Mode.MAJOR else "min"
            score = fits_key(sounding.tolist(), key) + HOME_SHARE * home.get((tonic, triad), 0.0) / total
            score += FIRST_AND_LAST * sum((one.root, one.triad) == (tonic, triad) for one in (played[0], played[-1]))
            scores.append((score, key))
    scores.sort(key=lambda one: -one[0])
    values = np.asarray([score for score, _ in scores])
    chances = np.exp(SHARPNESS * (values - values[0]))
    chances /= chances.sum()
    return HeardKey(scores[0][1], float(chances[0]), scores[1][1], float(chances[1]))
