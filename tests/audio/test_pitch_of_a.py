"""The distance from A = 440 Hz, in cents: no estimate wraps, and none is lost in noise."""

import numpy as np
import pytest

from companion.audio.constant_q import RATE
from companion.audio.pitch_of_a import tuning_cents


@pytest.mark.parametrize("cents", [-48, -33, -20, -5, 0, 7, 33, 48])
def test_a_chord_out_of_tune_is_measured_within_two_cents(cents: int) -> None:
    """Source: the definition of the cent, 1200 to the octave (Ellis, 1885)."""
    times = np.arange(RATE * 4) / RATE
    bend = 2 ** (cents / 1200)
    notes = [220.0 * 2 ** (step / 12) * bend for step in (0, 4, 7, 12, 16)]
    sound = sum(np.sin(2 * np.pi * hertz * overtone * times) / overtone for hertz in notes for overtone in (1, 2))
    noise = 0.05 * np.random.default_rng(1).standard_normal(len(times))
    measured, agreed = tuning_cents((np.asarray(sound) / 5 + noise).astype(np.float32))
    assert abs(measured - cents) < 2
    assert agreed > 0.8


def test_silence_has_no_tuning() -> None:
    assert tuning_cents(np.zeros(RATE, np.float32)) == (0.0, 0.0)
