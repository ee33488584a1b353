"""The constant-Q picture of a sound, as the chord network was taught on it: 36 bins an octave, one frame in 23 ms.

The network saw pictures made by librosa's ``hybrid_cqt`` (McFee et al.; ISC License); this is the same computation for
that one shape. Schoerkhuber and Klapuri, "Constant-Q transform toolbox for music processing" (2010): each octave is
filtered at half the rate of the one above; high bins, whose filters are shorter than two hops, take magnitudes only.
"""

from functools import lru_cache
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

RATE: Final = 22_050
HOP: Final = 512
BINS_AN_OCTAVE: Final = 36
BINS: Final = 288
LOWEST_HZ: Final = 440.0 * 2.0 ** ((18 - 57) / 12 - 1)  # F sharp 0
SPARSE: Final = 0.01  # of a filter's magnitude, its smallest parts, are dropped
BLOCK: Final = 1_024  # frames at a time
_RATIO: Final = 2.0 ** (2 / BINS_AN_OCTAVE)
_BANDWIDTH: Final = (_RATIO - 1) / (_RATIO + 1)

Samples = NDArray[np.float32]
Complex = NDArray[np.complexfloating[Any, Any]]


class _Filters(NamedTuple):
    """Filters in the frequency domain, (bins, window // 2 + 1), and their lengths in samples."""

    spectra: Complex
    lengths: NDArray[np.float64]
    window: int


def constant_q(samples: Samples, tuning: float = 0.0) -> NDArray[np.float32]:
    """Return magnitudes, (frames, BINS), of mono samples at RATE; ``tuning`` is in bins, a third of a semitone each."""
    lowest = LOWEST_HZ * 2.0 ** (tuning / BINS_AN_OCTAVE)
    frequencies = lowest * 2.0 ** (np.arange(BINS) / BINS_AN_OCTAVE)
    lengths = RATE / (_BANDWIDTH * frequencies)
    long = int(np.sum(2.0 ** np.ceil(np.log2(lengths)) >= 2 * HOP))
    frames = 1 + len(samples) // HOP
    out = np.zeros((frames, BINS), np.float32)
    high = _filters(RATE, tuple(frequencies[long:]), 2 * HOP)
    window = _hann(high.window).astype(np.float32)
    for start, spectra in _short_time(samples, high.window, HOP, window):
        out[start : start + len(spectra), long:] = np.abs(spectra) @ np.abs(high.spectra).T / np.sqrt(high.window)
    _octaves(samples, frequencies[:long], out)
    return out


def _octaves(samples: Samples, frequencies: NDArray[np.float64], out: NDArray[np.float32]) -> None:
    """Fill the bins below, octave by octave, the highest first, at half the rate each time."""
    rate, hop = RATE / 2, HOP // 2
    first = rate
    samples = halved(samples)
    end = len(frequencies)
    while end > 0:
        begin = max(0, end - BINS_AN_OCTAVE)
        filters = _filters(rate, tuple(frequencies[begin:end]), 0)
        scale = np.sqrt(first / rate) / np.sqrt(first / (_BANDWIDTH * frequencies[begin:end]))
        for start, spectra in _short_time(samples, filters.window, hop, None):
            values = np.abs(spectra @ filters.spectra.T) * scale
            kept = min(len(values), len(out) - start)
            out[start : start + kept, begin:end] = values[:kept]
        end = begin
        if end:
            samples, rate, hop = halved(samples), rate / 2, hop // 2


def halved(samples: Samples) -> Samples:
    """Return samples at half the rate, with the energy of the whole."""
    import soxr

    return np.asarray(soxr.resample(samples, 2, 1, "HQ") * np.sqrt(2.0), dtype=np.float32)


@lru_cache(32)
def _filters(rate: float, frequencies: tuple[float, ...], least_window: int) -> _Filters:
    """Return windowed complex tones of a constant number of periods, their absolute values summing to their length."""
    lengths = rate / (_BANDWIDTH * np.asarray(frequencies))
    longest = int(2 ** np.ceil(np.log2(lengths.max())))
    tones = np.zeros((len(lengths), longest), np.complex64)
    for number, (frequency, length) in enumerate(zip(frequencies, lengths, strict=True)):
        steps = np.arange(-length // 2, length // 2)
        tone = np.exp(2j * np.pi * frequency / rate * steps) * _hann(len(steps))
        left = (longest - len(steps)) // 2
        tones[number, left : left + len(steps)] = tone / np.abs(tone).sum()
    window = max(longest, least_window)
    spectra = np.fft.fft(tones * (lengths[:, None] / window), n=window, axis=1)[:, : window // 2 + 1]
    return _Filters(_sparse(spectra).astype(np.complex64), lengths, window)


def _sparse(spectra: Complex) -> Complex:
    """Return the rows without their smallest parts, which together make up SPARSE of a row's magnitude."""
    sizes = np.abs(spectra)
    ranked = np.sort(sizes, axis=1)
    cumulated = np.cumsum(ranked / sizes.sum(axis=1, keepdims=True), axis=1)
    least = ranked[np.arange(len(ranked)), np.argmin(cumulated < SPARSE, axis=1)]
    return np.where(sizes >= least[:, None], spectra, 0)


def _short_time(samples: Samples, window: int, hop: int, shape: Samples | None) -> "Any":  # noqa: ANN401
    """Yield (first frame, spectra of up to BLOCK frames), each frame centred on a multiple of the hop."""
    half = window // 2
    padded = np.concatenate([np.zeros(half, np.float32), samples, np.zeros(half, np.float32)])
    frames = np.lib.stride_tricks.sliding_window_view(padded, window)[::hop]
    for start in range(0, len(frames), BLOCK):
        block = frames[start : start + BLOCK]
        yield start, np.fft.rfft(block if shape is None else block * shape, axis=1).astype(np.complex64)


def _hann(length: int) -> NDArray[np.float64]:
    """Return a periodic Hann window."""
    return 0.5 - 0.5 * np.cos(2 * np.pi * np.arange(length) / length)
