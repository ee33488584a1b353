"""Whether a recording holds two songs, one after the other: the tempo jumps and stays, or there is a pause. Pure."""

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.beats import FRAMES_A_SECOND
from companion.audio.networks.layers import FrameRows

SHORTEST_S: Final = 25.0  # of a song in a medley
OTHER_TEMPO: Final = 0.07  # a band that plays one song drifts less
SAME_PULSE: Final = (0.5, 2 / 3, 1.5, 2.0, 3.0, 1 / 3)  # the same tempo, counted otherwise
NEAR: Final = 0.04
TOGETHER: Final = 4  # beats, since one beat is no more exact than a frame
STEADY: Final = 0.75  # of the beats on each side keep its tempo
PAUSE_S: Final = 2.5
NO_CHORD: Final = 0.5  # of its probability
PULSELESS: Final = 0.4  # of how likely the likeliest beats of a second usually are


class SongBreak(msgspec.Struct, frozen=True):
    """Where a second song may begin; the tempos before and after, or 0 and 0 if a pause says so."""

    at_s: float
    before_bpm: float = 0.0
    after_bpm: float = 0.0


def song_break(
    beats: NDArray[np.int64], likely: NDArray[np.float32], silent: FrameRows, silent_a_second: float
) -> SongBreak | None:
    """Return where a second song begins, or None.

    ``beats``: frames of a path that may change its tempo. ``likely``: for each frame, that it is a beat. ``silent``:
    for each frame of another rate, that no chord sounds.
    """
    return _tempo_break(beats / FRAMES_A_SECOND) or _pause(likely, silent, silent_a_second)


def _tempo_break(beats: NDArray[np.float64]) -> SongBreak | None:
    """Return the place that separates the beats best into two steady tempos, if these are not one pulse."""
    if len(beats) <= TOGETHER or beats[-1] - beats[0] < 2 * SHORTEST_S:
        return None
    tempos = np.log(60 * TOGETHER / (beats[TOGETHER:] - beats[:-TOGETHER]))
    begun = beats[:-TOGETHER]
    places = np.flatnonzero((begun - beats[0] >= SHORTEST_S) & (beats[-1] - begun >= SHORTEST_S))
    if not len(places):
        return None
    spread = [float(sum(np.abs(side - np.median(side)).sum() for side in (tempos[:at], tempos[at:]))) for at in places]
    at = int(places[int(np.argmin(spread))])
    sides = tempos[:at], tempos[at:]
    usual = [float(np.median(side)) for side in sides]
    ratio = float(np.exp(usual[1] - usual[0]))
    is_steady = all(np.mean(np.abs(side - one) < NEAR) > STEADY for side, one in zip(sides, usual, strict=True))
    if not is_steady or abs(ratio - 1) < OTHER_TEMPO or any(abs(ratio / same - 1) < NEAR for same in SAME_PULSE):
        return None
    return SongBreak(float(beats[at + TOGETHER // 2]), float(np.exp(usual[0])), float(np.exp(usual[1])))


def _pause(likely: NDArray[np.float32], silent: FrameRows, a_second: float) -> SongBreak | None:
    """Return the first pause inside the recording: no chord, and no pulse as in a drum break."""
    seconds = len(likely) // FRAMES_A_SECOND
    if seconds < 2 * SHORTEST_S:
        return None
    pulse = likely[: seconds * FRAMES_A_SECOND].reshape(seconds, FRAMES_A_SECOND).max(axis=1)
    usual = float(np.median(pulse))
    begun = None
    for frame in range(int(SHORTEST_S * a_second), min(len(silent), int((seconds - SHORTEST_S) * a_second))):
        if silent[frame] < NO_CHORD:
            begun = None
            continue
        begun = frame if begun is None else begun
        if (frame - begun) / a_second >= PAUSE_S:
            inside = pulse[int(begun / a_second) + 1 : int(frame / a_second)]
            if len(inside) and float(inside.mean()) < PULSELESS * usual:
                return SongBreak(frame / a_second)
    return None
