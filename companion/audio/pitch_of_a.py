"""How far a recording is from A = 440 Hz, in cents."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.audio.constant_q import RATE, Samples

WINDOW: Final = 16_384
LOWEST_HZ, HIGHEST_HZ = 110.0, 1_800.0
LOUDEST: Final = 24  # peaks of each frame that count
LEAST_SHARE: Final = 0.1  # of the frame's loudest peak


def tuning_cents(samples: Samples) -> tuple[float, float]:
    """Return the cents above (or below) A = 440 Hz, -50 to 50, and how well the notes agree on it, 0 to 1.

    Each note's distance to the nearest semitone is an angle, so that 49 cents sharp and 49 cents flat are neighbours;
    the angles are averaged by loudness.
    """
    window = np.hanning(WINDOW).astype(np.float32)
    total, weight = 0j, 0.0
    for start in range(0, max(1, len(samples) - WINDOW + 1), WINDOW):
        piece = samples[start : start + WINDOW]
        if len(piece) < WINDOW:
            piece = np.pad(piece, (0, WINDOW - len(piece)))
        found, loud = _peaks(np.abs(np.fft.rfft(piece * window)).astype(np.float64))
        steps = 12 * np.log2(found / 440.0)
        total += complex(np.sum(loud * np.exp(2j * np.pi * steps)))
        weight += float(loud.sum())
    if weight == 0.0:
        return 0.0, 0.0
    return float(np.angle(total) / (2 * np.pi) * 100), abs(total) / weight


def _peaks(sizes: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the frequencies of the loudest partials, between the bins by a parabola, and how loud they are."""
    low, high = int(LOWEST_HZ * WINDOW / RATE), int(HIGHEST_HZ * WINDOW / RATE)
    inner = np.arange(low, high)
    is_peak = (sizes[inner] > sizes[inner - 1]) & (sizes[inner] >= sizes[inner + 1])
    at = inner[is_peak]
    if not len(at) or sizes[at].max() <= 0:
        return np.zeros(0), np.zeros(0)
    at = at[np.argsort(sizes[at])[-LOUDEST:]]
    at = at[sizes[at] >= LEAST_SHARE * sizes[at].max()]
    before, here, after = (np.log(np.maximum(sizes[at + step], 1e-12)) for step in (-1, 0, 1))
    bend = before - 2 * here + after
    offset = np.where(bend < 0, 0.5 * (before - after) / np.where(bend < 0, bend, 1), 0.0)
    return (at + offset) * RATE / WINDOW, sizes[at]
