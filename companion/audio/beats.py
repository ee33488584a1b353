"""Beats, downbeats, meter and tempo from how likely each frame is a beat.

Beats: a hidden Markov model of tempo and place in the beat (Krebs, Boeck and Widmer, "An efficient state-space model
for joint tempo and meter tracking", ISMIR 2015), decoded by Viterbi. Bars: the beats' own downbeats and chord changes,
decoded with a bar of each length; the length that explains them best is the meter's.
"""

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.networks.layers import FrameRows

FRAMES_A_SECOND: Final = 50
SLOWEST_BPM, FASTEST_BPM = 42.0, 215.0
TEMPO_STICKS: Final = 100.0  # how unlikely a change of tempo from one beat to the next is
BEAT_SHARE: Final = 16  # a sixteenth of a beat's frames may show it
FLOOR: Final = 1e-3
HITS_AROUND: Final = 75  # frames
LOUD_HIT: Final = 3.0  # how far above its surroundings a hit stands, beside what is usual there
NEAR_TEMPO: Final = 0.15  # a band that plays one song drifts less


class BeatPath(msgspec.Struct, frozen=True):
    """Where the beats are: frames, not yet rounded to a grid, and how well the path explains them (mean log)."""

    frames: NDArray[np.int64]
    fit: float


def beat_path(likely: FrameRows, slowest_bpm: float = SLOWEST_BPM, fastest_bpm: float = FASTEST_BPM) -> BeatPath:
    """Return the best path of beats through the probabilities that a frame is a beat, of either kind."""
    shortest = int(np.floor(FRAMES_A_SECOND * 60 / fastest_bpm))
    longest = int(np.ceil(FRAMES_A_SECOND * 60 / slowest_bpm))
    lengths = np.arange(max(shortest, 2), longest + 1)
    lasts = np.cumsum(lengths) - 1
    firsts = lasts - lengths + 1
    many = int(lengths.sum())
    within = np.concatenate([np.arange(length) / length for length in lengths])
    shows = within < 1 / BEAT_SHARE
    ratio = lengths[None, :] / lengths[:, None]
    change = -TEMPO_STICKS * np.abs(ratio - 1)
    change -= np.log(np.exp(change).sum(axis=1, keepdims=True))
    clipped = np.clip(likely.astype(np.float64), FLOOR, 1 - FLOOR)
    on = np.log(clipped)
    off = np.log((1 - clipped) / (BEAT_SHARE - 1))
    score = np.full(many, -np.log(many))
    back = np.empty((len(likely), len(lengths)), np.uint8)
    for frame in range(len(likely)):
        moved = np.empty_like(score)
        moved[1:] = score[:-1]
        ended = score[lasts][:, None] + change
        best = ended.argmax(axis=0)
        back[frame] = best
        moved[firsts] = ended[best, np.arange(len(lengths))]
        score = moved + np.where(shows, on[frame], off[frame])
    state = int(score.argmax())
    fit = float(score[state]) / len(likely)
    tempo = int(np.searchsorted(lasts, state))
    place = state - int(firsts[tempo])
    beats = []
    frame = len(likely) - 1
    while frame >= 0:
        start = frame - place
        if start < 0:
            break
        beats.append(start)
        tempo = int(back[start, tempo])
        place = int(lengths[tempo]) - 1
        frame = start - 1
    return BeatPath(_centred(np.asarray(beats[::-1], np.int64), likely), fit)


def steadied(free: BeatPath, likely: FrameRows) -> BeatPath:
    """Return the best path whose tempo stays near one value: a second look, close to the first one's usual tempo."""
    if len(free.frames) < 8:
        return free
    apart = np.diff(free.frames)
    usual = 60 * FRAMES_A_SECOND / float(np.median(apart))
    if np.mean(np.abs(60 * FRAMES_A_SECOND / apart / usual - 1) < NEAR_TEMPO) > 0.97:
        return free
    return beat_path(likely, usual * (1 - NEAR_TEMPO), usual * (1 + NEAR_TEMPO))


def hits_of(flux: FrameRows) -> FrameRows:
    """Return from 0 to 1 how much more begins in each frame than in the second and a half around it."""
    around = np.ones(HITS_AROUND) / HITS_AROUND
    above = flux - np.convolve(flux, around, "same")
    usual = np.convolve(np.abs(above), around, "same")
    return np.asarray(np.clip(above / (LOUD_HIT * usual + 1e-6), 0, 1), np.float32)


def _centred(beats: NDArray[np.int64], likely: FrameRows) -> NDArray[np.int64]:
    """Move each beat to the likeliest frame close by."""
    moved = beats.copy()
    for number, beat in enumerate(beats):
        low, high = max(0, beat - 1), min(len(likely), beat + 3)
        moved[number] = low + int(likely[low:high].argmax()) if high > low else beat
    return moved
