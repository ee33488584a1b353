"""Which pulse is the beat where the network follows thirds of it, and which bars are played at all."""

import itertools

import msgspec
import numpy as np
import pytest

from companion.audio.anchors import NOTHING_KNOWN
from companion.audio.bar_pictures import LEVEL_BANDS, ONSET_BANDS
from companion.audio.beats import FRAMES_A_SECOND, beat_path
from companion.audio.heard_frames import CHORD_FRAMES_A_SECOND, RawHearing
from companion.audio.hearing import hearing_of
from companion.audio.networks.chord_net import ChordFrames
from companion.audio.pulses import counted_pulses

SECONDS = 70


def slow_blues(bpm: float, *, thirds: float) -> RawHearing:
    """Return what the networks say of slow twelve-eight: each third of a beat likely, chords new every four beats."""
    frames = SECONDS * FRAMES_A_SECOND
    likely = np.full((frames, 2), 0.02, np.float32)
    onsets = np.full((frames, ONSET_BANDS), 0.02, np.float32)
    step = 60 / bpm / 3
    for number in range(int((SECONDS - 1) / step)):
        at = round((0.5 + number * step) * FRAMES_A_SECOND)
        is_beat = number % 3 == 0
        likely[at, int(number % 12 == 0)] = 0.9 if is_beat else thirds
        onsets[at] = 2.0 if is_beat else 0.8
    many = round(SECONDS * CHORD_FRAMES_A_SECOND)
    triads = np.full((many, 73), 0.001, np.float32)
    bars = ((np.arange(many) / CHORD_FRAMES_A_SECOND - 0.5) / (12 * step)).astype(int)
    triads[np.arange(many), 1 + np.asarray([0, 9, 5, 7])[bars % 4]] = 0.9
    basses = np.full((many, 13), 0.01, np.float32)
    basses[np.arange(many), 1 + np.asarray([0, 9, 5, 7])[bars % 4]] = 0.9
    four = np.zeros((many, 4), np.float32)
    four[:, 0] = 1.0
    levels = np.full((frames, LEVEL_BANDS), 20.0, np.float32)
    return RawHearing(SECONDS, 0.0, 1.0, likely, levels, onsets, ChordFrames(triads, basses, four, four, four[:, :3]))


@pytest.mark.long
@pytest.mark.parametrize(("bpm", "thirds"), [(52.0, 0.3), (56.0, 0.7)])
def test_slow_twelve_eight_is_counted_in_four_though_the_network_follows_the_thirds(bpm: float, thirds: float) -> None:
    heard = hearing_of(slow_blues(bpm, thirds=thirds))
    assert heard.tempo_bpm == pytest.approx(bpm, rel=0.02)
    assert heard.grid.meter == "12/8"


def test_a_room_that_rings_on_after_the_last_bar_is_no_bar() -> None:
    raw = slow_blues(60.0, thirds=0.3)
    last = round(64.5 * FRAMES_A_SECOND)  # sixteen bars of four seconds
    likely, onsets = raw.likely.copy(), raw.onsets.copy()
    likely[last - 2 :] = 0.02
    onsets[last - 2 :] = 0.1  # a crowd
    heard = hearing_of(msgspec.structs.replace(raw, seconds=68.0, likely=likely[:3400], onsets=onsets[:3400]))
    assert len(heard.bar_s) == 17
    assert heard.bar_s[-1] == pytest.approx(64.5, abs=0.1)


@pytest.mark.long
@pytest.mark.parametrize(("threes", "twos", "first"), [(0.05, 0.95, 0.5), (0.05, 0.95, 0.9), (0.3, 0.98, 0.95)])
def test_network_and_hits_that_disagree_whether_three_beats_are_two_dotted_ones_are_a_doubt(
    threes: float, twos: float, first: float
) -> None:
    """Slow twelve-eight whose network follows every second eighth: 78 in 3/4, or four beats of 52.

    ``threes`` and ``twos``: how likely the network finds every third and every second eighth; ``first``: how surely it
    hears a bar begin after six. What is struck comes again after three.
    """
    raw = slow_blues(52.0, thirds=0.02)
    likely, onsets = raw.likely.copy(), raw.onsets.copy()
    for number in range(int((SECONDS - 1) * 52 / 60 * 3)):
        at = round((0.5 + number * 60 / 52 / 3) * FRAMES_A_SECOND)
        share = max(threes * (number % 3 == 0), twos * (number % 2 == 0), 0.02)
        likely[at] = (share, 0.02) if number % 6 else (1 - first, first)
        onsets[at] = (2.0, 1.2, 1.6)[number % 3]
    heard = hearing_of(msgspec.structs.replace(raw, likely=likely, onsets=onsets))
    assert max(heard.grid.sure, heard.tempo_sure) < 0.9
    assert {round(heard.tempo_bpm), round(heard.other_tempo_bpm or 0)} == {52, 78}


def test_a_dotted_beat_that_the_network_counts_in_three_is_told_by_what_comes_again() -> None:
    """The network follows every second eighth, more surely than every third; each third is struck as the last was."""
    raw = slow_blues(60.0, thirds=0.02)
    likely, onsets = raw.likely.copy(), raw.onsets.copy()
    for number in range((SECONDS - 1) * 3):
        at = round((0.5 + number / 3) * FRAMES_A_SECOND)
        share = max(0.15 * (number % 3 == 0), 0.8 * (number % 2 == 0), 0.02)
        likely[at] = (share, 0.02) if number % 6 else (0.15, 0.8)
        onsets[at] = np.roll((2.0, 0.2, 0.6, 0.2), number % 3)
    heard = hearing_of(msgspec.structs.replace(raw, likely=likely, onsets=onsets))
    assert heard.tempo_bpm == pytest.approx(60, rel=0.02)
    assert heard.grid.meter == "12/8"


def test_a_beat_that_may_be_a_bar_of_three_is_counted_in_three_too() -> None:
    raw = slow_blues(45.0, thirds=0.3)
    ways = counted_pulses(raw, NOTHING_KNOWN, beat_path(raw.likely.sum(axis=1), 40.0, 50.0))
    assert {45, 135} <= {round(one.bpm) for one in ways}
    tempos = sorted(one.bpm for one in ways)
    assert all(faster / slower > 1.04 for slower, faster in itertools.pairwise(tempos))  # each tempo once


def test_a_beat_that_the_network_loses_is_found_by_what_is_struck() -> None:
    """A piano without drums: the network drifts through the eighths, and the fingers keep time."""
    raw = slow_blues(60.0, thirds=0.02)
    likely, onsets = np.full_like(raw.likely, 0.05), np.full_like(raw.onsets, 0.05)
    for number in range(int((SECONDS - 1) * 4)):
        at = round((0.5 + number / 4) * FRAMES_A_SECOND)
        onsets[at] = (1.0, 0.3, 0.6, 0.3)[number % 4]
        lost = number + number // 46  # an eighth late after every twelve beats
        likely[at, 0] = 0.6 if lost % 4 == 0 else 0.1
    heard = hearing_of(msgspec.structs.replace(raw, likely=likely, onsets=onsets))
    beats = 0.5 + np.arange(SECONDS - 2)
    assert np.mean([np.abs(heard.grid.beats - beat).min() < 0.07 for beat in beats]) > 0.95
    assert 60 in {round(heard.tempo_bpm), round(heard.other_tempo_bpm or 0)}
