"""Levels: each nudge is a small step by ear, and never leaves what can be sent."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.rig import Sound
from companion.soundcheck.check.levels import at_level, level_of, nudged


def db(level: int) -> float:
    """40 log10(v / 127): General MIDI 1 Developer Guidelines, recommended practice for volume (from memory)."""
    return 40 * math.log10(level / 127)


@pytest.mark.parametrize("level", [40, 64, 80, 100, 110])
def test_a_nudge_is_as_near_a_decibel_and_a_half_as_whole_numbers_allow(level: int) -> None:
    half_a_step = (db(level + 1) - db(level)) / 2
    for steps in (1, -1):
        assert abs(db(nudged(level, steps)) - db(level) - 1.5 * steps) <= half_a_step * 1.1


@given(st.integers(1, 127), st.integers(-40, 40))
def test_a_nudge_always_moves_until_the_end_and_stays_in_range(level: int, steps: int) -> None:
    after = nudged(level, steps)
    assert 1 <= after <= 127
    if steps > 0:
        assert after >= min(127, level + steps)
    elif steps < 0:
        assert after <= max(1, level + steps)
    else:
        assert after == level


def test_a_level_replaces_the_rigs_own_and_keeps_the_other_controls() -> None:
    sound = Sound("organ", 16, controls=((7, 110), (91, 20)))
    assert level_of(sound) == 110
    assert at_level(sound, 92).controls == ((91, 20), (7, 92))
    assert at_level(sound, None) is sound
    assert level_of(Sound("organ", 16)) is None
