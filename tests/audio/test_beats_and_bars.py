"""Beats and bars from what the network says: a steady pulse, its meter, its swing, and what is played at all."""

import numpy as np
import pytest
from numpy.typing import NDArray

from companion.audio.bars import bar_grid, beat_profile
from companion.audio.beats import FRAMES_A_SECOND, beat_path, steadied

Likely = NDArray[np.float32]


def said(bpm: float, seconds: float = 40, *, beats_in_bar: int = 4, unsure: float = 0.0) -> tuple[Likely, list[float]]:
    """Return what a network would say of a steady pulse, (frames, beat and downbeat), and the beats in seconds."""
    frames = np.full((round(seconds * FRAMES_A_SECOND), 2), 0.02, np.float32)
    beats = list(np.arange(0.3, seconds - 0.3, 60 / bpm))
    dice = np.random.default_rng(2)
    for number, beat in enumerate(beats):
        if dice.random() >= unsure:
            frames[round(beat * FRAMES_A_SECOND), int(number % beats_in_bar == 0)] = 0.9
    return frames, beats


@pytest.mark.parametrize("bpm", [62, 77, 120, 168, 180])
def test_a_steady_pulse_is_followed(bpm: float) -> None:
    likely, beats = said(bpm, unsure=0.1)
    found = beat_path(likely.sum(axis=1)).frames / FRAMES_A_SECOND
    missed = [beat for beat in beats if np.abs(found - beat).min() > 0.07]  # mir_eval's window for a beat
    assert len(missed) <= 2
    assert abs(len(found) - len(beats)) <= 3


def test_a_drifting_drummer_is_followed() -> None:
    beats = np.cumsum(60 / np.linspace(100, 112, 120))
    likely = np.full((round((beats[-1] + 1) * FRAMES_A_SECOND), 2), 0.02, np.float32)
    likely[np.round(beats * FRAMES_A_SECOND).astype(int), 0] = 0.9
    found = steadied(beat_path(likely.sum(axis=1)), likely.sum(axis=1)).frames / FRAMES_A_SECOND
    assert np.mean([np.abs(found - beat).min() < 0.07 for beat in beats]) > 0.97


@pytest.mark.parametrize(("beats_in_bar", "changes_every", "meter"), [(4, 4, "4/4"), (3, 3, "3/4"), (4, 8, "4/4")])
def test_bars_start_where_the_chords_change(beats_in_bar: int, changes_every: int, meter: str) -> None:
    likely, beats = said(100, beats_in_bar=beats_in_bar)
    frames = np.round(np.asarray(beats) * FRAMES_A_SECOND).astype(np.int64)
    changes = np.asarray([0.95 if number % changes_every == 0 else 0.02 for number in range(len(beats))])
    grid = bar_grid(frames, likely, changes, likely.sum(axis=1))
    assert grid.meter == meter
    assert grid.downbeats[:3] == (0, beats_in_bar, 2 * beats_in_bar)
    assert grid.sure > 0.9


def test_chords_that_change_elsewhere_outweigh_a_network_that_is_sure_of_the_first_beat() -> None:
    frames = np.arange(20, 4000, 20, dtype=np.int64)
    likely = np.full((4100, 2), 0.02, np.float32)
    likely[frames, 0] = 0.9
    likely[frames[3::4]] = (0.07, 0.92)  # as measured on a rough recording: sure, on the beat before the last
    changes = np.tile([0.08, 0.76, 0.08, 0.15], len(frames) // 4 + 1)[: len(frames)]
    grid = bar_grid(frames, likely, changes, likely.sum(axis=1))
    assert grid.meter == "4/4"
    assert {first % 4 for first in grid.downbeats} == {1}


def between(parts: tuple[float, ...]) -> tuple[NDArray[np.int64], Likely]:
    """Return beats, and how much begins: at each beat, and less at these shares of it."""
    frames = np.arange(20, 1800, 40, dtype=np.int64)
    flux = np.full(1900, 0.1, np.float32)
    flux[frames] = 1.0
    for share in parts:
        flux[(frames[:-1] + round(40 * share))] = 0.5
    return frames, flux


@pytest.mark.parametrize(
    ("parts", "meter", "swing"),
    [((1 / 3, 2 / 3), "12/8", 0.5), ((0.5,), "4/4", 0.5), ((2 / 3,), "4/4", 2 / 3), ((0.25, 0.5, 0.75), "4/4", 0.5)],
)
def test_onsets_between_beats_distinguish_triplets_straight_and_swing(
    parts: tuple[float, ...], meter: str, swing: float
) -> None:
    frames, flux = between(parts)
    likely = np.full((1900, 2), 0.02, np.float32)
    likely[frames[::4], 1] = 0.9
    changes = np.asarray([0.95 if number % 4 == 0 else 0.02 for number in range(len(frames))])
    grid = bar_grid(frames, likely, changes, flux)
    assert (grid.meter, grid.swing) == (meter, swing)
    assert beat_profile(frames, flux)[0] == 1.0
    assert 0.3 < grid.off_beats < 0.6


@pytest.mark.parametrize(("parts", "heard", "other"), [((1 / 3, 2 / 3), 3, 2), ((0.5,), 2, 3)])
def test_a_written_meter_whose_beats_sound_otherwise_fits_worse(
    parts: tuple[float, ...], heard: int, other: int
) -> None:
    frames, flux = between(parts)
    likely = np.full((1900, 2), 0.02, np.float32)
    changes = np.full(len(frames), 0.5)
    fits = [bar_grid(frames, likely, changes, flux, known=(4, many)).fit for many in (heard, other)]
    assert fits[0] > fits[1]


def test_a_slow_two_whose_middle_thirds_rest_may_be_six_eight_and_is_not_sure() -> None:
    """A shuffle or 6/8: only the last third of each beat is loud, the middle one hardly begins."""
    frames, flux = between((2 / 3,))
    flux[frames[:-1] + round(40 / 3)] = 0.22
    likely = np.full((1900, 2), 0.02, np.float32)
    likely[frames[::2], 1] = 0.9
    changes = np.asarray([0.95 if number % 2 == 0 else 0.02 for number in range(len(frames))])
    grid = bar_grid(frames, likely, changes, flux)
    assert grid.meter == "6/8"
    assert 0.5 < grid.sure < 0.9


def test_two_in_a_bar_is_never_sure() -> None:
    """No sound tells two bars of two from one of four: chords and downbeats come every two beats."""
    frames = 30 * np.arange(80)
    likely = np.full((30 * 80, 2), 0.02, np.float32)
    likely[frames[0::2], 1] = likely[frames[1::2], 0] = 0.9
    flux = likely.sum(axis=1)
    flux[frames + 15] = 0.3
    grid = bar_grid(frames, likely, np.tile([1.0, 0.0], 40), flux)
    assert grid.meter == "2/4"
    assert 0.5 < grid.sure < 0.9
