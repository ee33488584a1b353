"""The key of a recording, from its chords: their notes, and where the music begins and comes home."""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from statistics import fmean
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord
from companion.audio.key_evidence import MODES, WEIGHTS, Passage, key_evidence, passages
from companion.music import Key

USUAL_BEATS: Final = 4
STRETCHES: Final = 6  # the music is cut into at most so many, to see whether they agree
LEAST_STRETCH: Final = 4  # bars
SHORT_SHARPNESS: Final = 0.6  # of the evidence in a stretch, beside that of the whole
LEAST_AGREEMENT: Final = 0.05

KeyScores = NDArray[np.float64]  # 24 of them: major keys from C up, then minor ones


class HeardKey(msgspec.Struct, frozen=True):
    """A key, how sure it is, and the key that comes second; None if no chord was heard."""

    key: Key | None
    sure: float = 0.0
    second: Key | None = None


def heard_key(
    chords: Sequence[HeardChord],
    sections: Sequence[HeardSection] = (),
    firsts: Sequence[int] = (),
    beats: int = USUAL_BEATS,
) -> HeardKey:
    """Return the key that the chords speak for; that before a lift, where ``sections`` say that one is moved.

    Where the music modulates, its stretches speak for different keys, and the key of the whole is less sure.

    ``firsts``: the beats that begin bars; ``beats`` in one.
    """
    music = passages(chords, sections, firsts, beats) if sections else []
    if not music:
        music = [[one for one in chords if one.root is not None]]
    if not music[0]:
        return HeardKey(None)
    chances = _chances(_scores(music, beats) * _agreement(music, beats))
    first, second = (int(one) for one in np.argsort(-chances, kind="stable")[:2])
    return HeardKey(_key(first), float(chances[first]), _key(second))


def _scores(music: Sequence[Passage], beats: int) -> KeyScores:
    return np.asarray((key_evidence(music, beats) @ np.asarray(WEIGHTS)).reshape(-1))


def _chances(scores: KeyScores) -> KeyScores:
    chances = np.exp(scores - scores.max())
    return np.asarray(chances / chances.sum())


def _agreement(music: Sequence[Passage], beats: int) -> float:
    """Return how far the stretches of the music speak for the key of the whole, 0 to 1."""
    first = int(_scores(music, beats).argmax())
    found = [float(_chances(SHORT_SHARPNESS * _scores([one], beats))[first]) for one in _stretches(music, beats)]
    return max(LEAST_AGREEMENT, fmean(found))


def _stretches(music: Sequence[Passage], beats: int) -> list[Passage]:
    """Return the music as stretches of the same length, each from beat 0 on."""
    every = [one for passage in music for one in passage]
    ends = list(accumulate(one.stop - one.start for one in every))
    many = min(STRETCHES, max(1, ends[-1] // (LEAST_STRETCH * beats)))
    edges = [ends[-1] * number // many for number in range(many + 1)]
    return [
        [
            msgspec.structs.replace(one, start=max(0, end - one.stop + one.start - begin), stop=min(end, last) - begin)
            for one, end in zip(every, ends, strict=True)
            if end > begin and end - one.stop + one.start < last
        ]
        for begin, last in pairwise(edges)
    ]


def _key(number: int) -> Key:
    home = Key.signed(0, MODES[number // 12])
    return home.transposed(number % 12 - home.tonic.semitone)
