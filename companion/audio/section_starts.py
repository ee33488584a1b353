"""How likely a section begins at each bar.

Eight kinds of evidence are weighed by a logistic regression, its weights fitted on invented songs that were rendered
for it. Then each bar asks the bars whose surroundings are like its own: where the same music begins a section
elsewhere, it does here too, even if the crash was left out.
"""

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.audio.bar_pictures import MOVED, MOVES, BarPicture, Matrix, in_noise, likeness, moved_up

LOOPS: Final = (2, 4, 8, 12)  # bars after which a progression may begin again
NEAR: Final = 4  # bars before and after a place that are compared
LEAST_APART: Final = 4  # bars between a place and its copy
SOUND_FADES: Final = 2.0  # how far the sound of the band may differ from a copy's, in noise
COPY_SHARPNESS: Final = 8.0  # how much closer copies count more
LONE_COPY: Final = 0.05
EVIDENCE: Final = ("step", "peak of a bar", "peak of four", "hit", "air", "break", "other chords", "repeats ahead")
ALONE: Final = (-7.04, 0.83, 2.45, 4.34, 1.12, 6.76, 4.24, 1.97, 2.87)  # constant, then EVIDENCE
TOGETHER: Final = (-2.05, 0.51, 2.05, 4.13, 1.94, 5.86, 2.32, 1.46, 3.26, 1.79)  # the same, then what the copies say

Numbers = NDArray[np.float64]


def start_chances(picture: BarPicture) -> Numbers:
    """Return for each bar the probability that a section begins there; the first bar begins one."""
    if len(picture.harmony) < 2:
        return np.ones(len(picture.harmony))
    rows = start_evidence(picture)
    alone = chances(rows, ALONE)
    alone[0] = 1.0
    together = chances(np.column_stack([rows, copied(alone, picture)]), TOGETHER)
    together[0] = 1.0
    return together


def chances(rows: Matrix, weights: tuple[float, ...]) -> Numbers:
    """Return the probabilities of a logistic regression; the first weight is the constant."""
    return np.asarray(1 / (1 + np.exp(-(weights[0] + rows @ np.asarray(weights[1:])))))


def start_evidence(picture: BarPicture) -> Matrix:
    """Return what speaks for a section at each bar, a column for each of EVIDENCE."""
    alike = likeness(picture.harmony, picture.harmony)
    sound = in_noise(picture.sound)
    four = _steps(sound, NEAR)
    columns = [
        four,
        _peaks(_steps(sound, 1)),
        _peaks(four),
        np.clip(_beside_neighbours(np.log(picture.hits + 0.1)), -1, 2),
        np.clip(_beside_neighbours(picture.air), -6, 12) / 4,
        np.asarray([_break_in_loops(alike, bar) for bar in range(len(alike))]),
        _other_chords(picture.harmony),
        np.asarray([_run(alike, bar, bar + NEAR) for bar in range(len(alike))]),
    ]
    return np.column_stack(columns)


def _steps(sound: Matrix, many: int) -> Numbers:
    """Return the logarithm of how far the sound of the bars ahead differs from that of the bars before."""
    out = np.zeros(len(sound))
    for bar in range(1, len(sound)):
        before, ahead = sound[max(0, bar - many) : bar], sound[bar : bar + many]
        away = float(np.sqrt(np.mean((ahead.mean(axis=0) - before.mean(axis=0)) ** 2)))
        out[bar] = away / np.sqrt(1 / len(before) + 1 / len(ahead))
    return np.asarray(np.log(out + 0.3))


def _peaks(values: Numbers) -> Numbers:
    """Return how far each value exceeds the higher of its neighbours."""
    return np.asarray(values - np.maximum(np.roll(values, 1), np.roll(values, -1)))


def _beside_neighbours(values: Numbers) -> Numbers:
    return np.asarray(
        [value - np.median(values[max(0, bar - NEAR) : bar + NEAR + 1]) for bar, value in enumerate(values)]
    )


def _run(alike: Matrix, one: int, other: int) -> float:
    """Return how alike the next bars from here and from there are; a half where one lies beyond the song."""
    many = min(NEAR, len(alike) - max(one, other))
    return float(np.mean(np.diagonal(alike[one : one + many, other : other + many]))) if many > 0 else 0.5


def _break_in_loops(alike: Matrix, bar: int) -> float:
    """Return how clearly a progression that repeated until here stops repeating, 0 to 1."""
    found = 0.0
    for loop in LOOPS:
        many = min(NEAR, bar - loop)
        if many > 0:
            before = np.mean([alike[bar - back, bar - back - loop] for back in range(1, many + 1)])
            found = max(found, float(before) ** 4 * (1 - _run(alike, bar, bar - loop)))
    return found


def _other_chords(harmony: Matrix) -> Numbers:
    """Return how far the chords ahead, in any order, differ from those before, 0 to 1."""
    whole = harmony.reshape(len(harmony), 2, -1).sum(axis=1)
    out = np.zeros(len(harmony))
    for bar in range(1, len(harmony)):
        before, ahead = whole[max(0, bar - NEAR) : bar].mean(axis=0), whole[bar : bar + NEAR].mean(axis=0)
        shared = np.sqrt(before * ahead).sum() / np.sqrt(before.sum() * ahead.sum() + 1e-9)
        out[bar] = 1 - shared
    return out


def copied(starts: Numbers, picture: BarPicture) -> Numbers:
    """Return the log odds of a start by the bars whose surroundings, four bars back and four ahead, are alike."""
    nearest = np.zeros((len(starts), len(starts)))
    for same, cost in same_bars(picture):
        nearest = np.maximum(nearest, _around(same) - cost)
    weights = np.exp(COPY_SHARPNESS * (nearest - 1))
    bars = np.arange(len(starts))
    weights[np.abs(bars[:, None] - bars) < LEAST_APART] = 0
    vote = (weights @ starts) / (weights.sum(axis=1) + LONE_COPY)
    return np.asarray(np.log((vote + 0.01) / (1.01 - vote)))


def same_bars(picture: BarPicture) -> Iterator[tuple[Matrix, float]]:
    """Yield for each of MOVES how alike each two bars are, chords and band, 0 to 1, and what the move costs."""
    sound = in_noise(picture.sound)
    squares = (sound**2).sum(axis=1)
    apart = np.sqrt(np.maximum(squares[:, None] + squares - 2 * sound @ sound.T, 0) / sound.shape[1])
    usual = float(np.median(np.diagonal(apart, 1)))
    band = np.exp(-np.maximum(apart - usual, 0) / SOUND_FADES)
    for up in MOVES:
        yield likeness(picture.harmony, moved_up(picture.harmony, up)) ** 2 * band, MOVED * bool(up)


def _around(same: Matrix) -> Matrix:
    """Return for each two bars the mean over the bars near both."""
    many = len(same)
    total, counted = np.zeros((many, many)), np.zeros((many, many))
    for step in range(-min(NEAR, many - 1), min(NEAR, many)):
        here = slice(max(0, -step), many - max(0, step))
        there = slice(max(0, step), many - max(0, -step))
        total[here, here] += same[there, there]
        counted[here, here] += 1
    return np.asarray(total / np.maximum(counted, 1))
