"""The constant-Q picture is the one that the chord network was taught on.

Reference: librosa 0.11.0 (ISC License), ``hybrid_cqt(sr=22050, bins_per_octave=36, fmin=F#0, n_bins=288, tuning=0.2,
hop_length=512)``; its answer to the signal below is kept beside this file, since the library takes 400 MB to install.
"""

from pathlib import Path

import numpy as np

from companion.audio.constant_q import BINS, HOP, RATE, constant_q

PARTIALS = (
    *((55, 0.4, 0), (110, 0.3, 1), (220.5, 0.2, 2), (329.6, 0.2, 0.3)),
    *((987.8, 0.1, 0.5), (2637, 0.08, 0.2), (4186, 0.05, 0.9)),
)


def signal() -> "np.ndarray[tuple[int], np.dtype[np.float32]]":
    times = np.arange(RATE * 3) / RATE
    tones = sum(loud * np.sin(2 * np.pi * hertz * times + phase) for hertz, loud, phase in PARTIALS)
    gate = 0.5 + 0.5 * np.sign(np.sin(2 * np.pi * 2 * times))
    noise = 0.01 * np.random.default_rng(5).standard_normal(len(times))
    return np.asarray(tones * gate + noise, dtype=np.float32)


def test_the_spectrum_equals_librosas_to_five_decimals() -> None:
    with np.load(Path(__file__).parent / "librosa_reference.npz") as reference:
        frames, magnitudes = reference["frames"], reference["magnitudes"]
    ours = constant_q(signal(), tuning=0.2)
    assert ours.shape == (1 + RATE * 3 // HOP, BINS)
    assert np.abs(ours[frames] - magnitudes).max() < 1e-5 * magnitudes.max()


def test_a_semitone_higher_is_three_bins_higher() -> None:
    times = np.arange(RATE * 2) / RATE
    peaks = [constant_q(np.sin(2 * np.pi * hertz * times).astype(np.float32))[40].argmax() for hertz in (220.0, 233.08)]
    assert peaks[1] - peaks[0] == 3
