"""What each bar sounds like: its chords, the levels of the band, how much begins in it, and how it begins."""

import itertools
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.networks.layers import FrameRows

Matrix = NDArray[np.float64]

LEVEL_BANDS: Final = 24
ONSET_BANDS: Final = 4
AIR: Final = slice(16, 21)  # of LEVEL_BANDS: about 4 to 9 kHz, where a crash cymbal rings on
ONSET_WEIGHT: Final = 2.0  # of how much begins, in decibels, beside the levels
LEAST_ONSET: Final = 1e-2
MOVES: Final = (0, 1, 2, 3, -1, -2)  # semitones: a last chorus is moved up, or down for the singer
MOVED: Final = 0.04  # what a move costs, in likeness
NOISE_FLOOR_DB: Final = 0.3
DEVIATION: Final = 1.05  # of a difference of two like bars, as a multiple of its median size


class BarPicture(msgspec.Struct, frozen=True):
    """What each bar sounds like. Rows are bars.

    ``harmony``: for each half of the bar the shares of 24 major and minor triads. ``sound``: levels and onsets in
    bands, in decibels. ``hits``: how much begins at its first beat. ``air``: the high bands just after its first beat,
    in decibels.
    """

    harmony: Matrix
    sound: Matrix
    hits: NDArray[np.float64]
    air: NDArray[np.float64]


class BandFrames(msgspec.Struct, frozen=True):
    """Rows of a picture of sound: (frames, LEVEL_BANDS) in decibels, (frames, ONSET_BANDS), frames a second."""

    levels: FrameRows
    onsets: FrameRows
    a_second: float


def bar_picture(triads: FrameRows, triads_a_second: float, bands: BandFrames, edges: tuple[float, ...]) -> BarPicture:
    """Return what the bars between these times sound like.

    ``triads``: for each frame the shares of major triads from C, then of minor ones. ``edges``: where each bar begins,
    and where the last one ends, in seconds.
    """
    rows = []
    for start, stop in itertools.pairwise(edges):
        middle = (start + stop) / 2
        first, second = (
            _mean(triads, a * triads_a_second, b * triads_a_second) for a, b in ((start, middle), (middle, stop))
        )
        a, b = start * bands.a_second, stop * bands.a_second
        begins = 10 * np.log10(LEAST_ONSET + _mean(bands.onsets, a, b))
        at = min(round(a), len(bands.onsets) - 1)
        hit = float(bands.onsets[max(0, at - 2) : at + 4].sum(axis=1).max())
        air = float(_mean(bands.levels, at + 2, at + 2 + max(2, (b - a) / 4))[AIR].mean())
        rows.append(
            np.concatenate([first, second, _mean(bands.levels, a, b), ONSET_WEIGHT * begins, np.asarray([hit, air])])
        )
    chords = 2 * triads.shape[1]
    table = np.asarray(rows, np.float64).reshape(len(rows), chords + LEVEL_BANDS + ONSET_BANDS + 2)
    return BarPicture(table[:, :chords], table[:, chords:-2], table[:, -2], table[:, -1])


def _mean(rows: FrameRows, start: float, stop: float) -> NDArray[np.float64]:
    low = min(round(start), len(rows) - 1)
    return np.asarray(rows[low : max(low + 1, round(stop))].mean(axis=0), np.float64)


def in_noise(sound: Matrix) -> Matrix:
    """Return the sound of the bars in units of how much it usually differs from one bar to the next."""
    if len(sound) < 2:
        return np.zeros_like(sound)
    usual = DEVIATION * np.median(np.abs(np.diff(sound, axis=0)), axis=0) + NOISE_FLOOR_DB
    return np.asarray((sound - sound.mean(axis=0)) / usual)


def likeness(one: Matrix, other: Matrix) -> Matrix:
    """Return how alike the harmony of each bar of one is to each bar of the other, 0 to 1."""
    roots = [np.sqrt(np.maximum(rows, 0)) for rows in (one, other)]
    units = [rows / np.maximum(np.linalg.norm(rows, axis=1, keepdims=True), 1e-9) for rows in roots]
    return np.asarray(units[0] @ units[1].T)


def moved_up(harmony: Matrix, semitones: int) -> Matrix:
    """Return harmony with every triad that many semitones higher."""
    split = harmony.reshape(len(harmony), -1, 12)
    return np.roll(split, semitones, axis=2).reshape(harmony.shape)
