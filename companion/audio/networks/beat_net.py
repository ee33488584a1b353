"""The beat network: how likely each fiftieth of a second is a beat, or a downbeat.

Published by Heydari, Cwitkowitz and Duan (ISMIR 2021), weights under CC BY 4.0 in the wheel of BeatNet 1.1.3; see
``from_wheels.py``. Its input, by the same paper: magnitudes of windows of 64 ms in bands of a twenty-fourth of an
octave, their logarithm, and its rise since the window before.
"""

from functools import cache
from pathlib import Path
from typing import Final

import numpy as np

from companion.audio.networks.layers import FrameRows, long_short_term, softmax

WEIGHTS: Final = Path(__file__).parent / "weights" / "beats.npz"
RATE: Final = 22_050
HOP: Final = 441
WINDOW: Final = 1_411
BANDS_AN_OCTAVE: Final = 24
LOWEST_HZ, HIGHEST_HZ = 30.0, 17_000.0
FEATURES: Final = 272
BLOCK: Final = 2_048  # frames at a time


@cache
def _weights() -> dict[str, FrameRows]:
    with np.load(WEIGHTS) as arrays:
        return {name: arrays[name].astype(np.float32) for name in arrays.files}


@cache
def _filters() -> FrameRows:
    """Return the bands as (FFT bins, bands): overlapping triangles, each with the sum 1."""
    below = int(np.floor(np.log2(LOWEST_HZ / 440.0) * BANDS_AN_OCTAVE))
    above = int(np.ceil(np.log2(HIGHEST_HZ / 440.0) * BANDS_AN_OCTAVE))
    centres = 440.0 * 2.0 ** (np.arange(below, above) / BANDS_AN_OCTAVE)
    centres = centres[np.searchsorted(centres, LOWEST_HZ) : np.searchsorted(centres, HIGHEST_HZ, "right")]
    many = WINDOW // 2
    at = np.fft.rfftfreq(WINDOW, 1 / RATE)[:many]
    upper = np.clip(np.searchsorted(at, centres), 1, many - 1)
    nearest = np.where(centres - at[upper - 1] < at[upper] - centres, upper - 1, upper)
    bins = np.unique(nearest)
    bands = []
    for start, centre, stop in zip(bins[:-2], bins[1:-1], bins[2:], strict=True):
        low, high = start, stop
        if stop - start < 2:
            low, high = centre, centre + 1
        band = np.zeros(many, np.float32)
        band[low:centre] = np.linspace(0, 1, centre - low, endpoint=False)
        band[centre:high] = np.linspace(1, 0, high - centre, endpoint=False)
        bands.append(band / band.sum())
    return np.stack(bands, axis=1)


def beat_features(samples: FrameRows) -> FrameRows:
    """Return (frames, FEATURES) for mono samples at RATE, one frame every HOP samples, centred there."""
    filters, window = _filters(), np.hanning(WINDOW).astype(np.float32)
    frames = -(-len(samples) // HOP)
    half = WINDOW // 2
    padded = np.concatenate([np.zeros(half, np.float32), samples, np.zeros(WINDOW + HOP, np.float32)])
    levels = np.empty((frames, filters.shape[1]), np.float32)
    whole = np.lib.stride_tricks.sliding_window_view(padded, WINDOW)[::HOP]
    for start in range(0, frames, BLOCK):
        pieces = whole[start : min(start + BLOCK, frames)] * window
        spectra = np.abs(np.fft.rfft(pieces, axis=1)[:, : WINDOW // 2]).astype(np.float32)
        levels[start : start + len(pieces)] = np.log10(1.0 + spectra @ filters)
    rises = np.zeros_like(levels)
    rises[1:] = np.maximum(levels[1:] - levels[:-1], 0.0)
    return np.concatenate([levels, rises], axis=1)


def beat_frames(features: FrameRows) -> FrameRows:
    """Return (frames, 2): the probabilities that a frame is a beat but no downbeat, and that it is a downbeat."""
    weights = _weights()
    kernel, bias = weights["conv1.weight"][:, 0], weights["conv1.bias"]
    slid = np.lib.stride_tricks.sliding_window_view(features, kernel.shape[1], axis=1)
    steps = np.empty((len(features), weights["linear0.weight"].shape[0]), np.float32)
    for start in range(0, len(features), BLOCK):
        maps = np.maximum(np.einsum("tfk,ck->tcf", slid[start : start + BLOCK], kernel) + bias[:, None], 0.0)
        many = maps.shape[2] // 2
        maps = maps[:, :, : 2 * many].reshape(*maps.shape[:2], many, 2).max(axis=3)
        flat = maps.reshape(len(maps), -1)
        steps[start : start + len(maps)] = flat @ weights["linear0.weight"].T + weights["linear0.bias"]
    for layer in (0, 1):
        total = weights[f"lstm.bias_ih_l{layer}"] + weights[f"lstm.bias_hh_l{layer}"]
        steps = long_short_term(steps, weights[f"lstm.weight_ih_l{layer}"], weights[f"lstm.weight_hh_l{layer}"], total)
    return softmax(steps @ weights["linear.weight"].T + weights["linear.bias"])[:, :2]
