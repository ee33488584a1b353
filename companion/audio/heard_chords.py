"""Chords, beat by beat: the network's probabilities, gathered over each beat, and as few changes as explain them."""

from collections.abc import Sequence
from functools import cache
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.networks.chord_net import TRIADS, ChordFrames

THIRD: Final = {"maj": 4, "min": 3, "sus4": 5, "sus2": 2, "dim": 3, "aug": 4}
FIFTH: Final = {"maj": 7, "min": 7, "sus4": 7, "sus2": 7, "dim": 6, "aug": 8}
SEVENTH: Final = (0, 11, 10, 9)  # semitones of the network's four sevenths; 0: none
SEVENTHS_OF: Final = {"maj": (0, 1, 2), "min": (0, 2, 1), "sus4": (0, 2), "sus2": (0,), "dim": (0, 2, 3), "aug": (0,)}
RARE: Final = {"sus4": 1.2, "sus2": 2.0, "dim": 1.5, "aug": 2.5}  # against a kind, as a logarithm a frame's worth
CHANGE_AT: Final = {"first": 3.0, "middle": 7.0, "other": 12.0}  # against a change, as a logarithm
FRAME_TRUST: Final = 0.35  # neighbouring frames say much the same: each counts this much
LEAST: Final = 1e-4
TRUST_BASS, TRUST_SEVENTH = 0.8, 0.7


class HeardChord(msgspec.Struct, frozen=True):
    """A chord from beat ``start`` up to, not including, beat ``stop``. ``root`` from C; None: no chord.

    ``seventh`` and ``bass`` are semitones above the root, 0 for none; ``sure`` is a probability.
    """

    start: int
    stop: int
    root: int | None
    triad: str = "maj"
    seventh: int = 0
    bass: int = 0
    sure: float = 1.0


class _Candidate(msgspec.Struct, frozen=True):
    root: int | None
    triad: str
    seventh: int
    bass: int


@cache
def _candidates() -> tuple[
    tuple[_Candidate, ...], NDArray[np.intp], NDArray[np.intp], NDArray[np.intp], NDArray[np.float64]
]:
    """Return every chord that can be heard, with its columns in the network's triads, basses and sevenths."""
    found, triads, basses, sevenths, costs = [_Candidate(None, "maj", 0, 0)], [0], [0], [0], [0.0]
    for kind, triad in enumerate(TRIADS):
        for seventh in SEVENTHS_OF[triad]:
            above = SEVENTH[seventh]
            for bass in dict.fromkeys((0, *((THIRD[triad], FIFTH[triad]) if triad in ("maj", "min") else ()), above)):
                for root in range(12):
                    found.append(_Candidate(root, triad, above, bass))
                    triads.append(1 + 12 * kind + root)
                    basses.append(1 + (root + bass) % 12)
                    sevenths.append(seventh)
                    costs.append(RARE.get(triad, 0.0) * 0.5 + (0.6 if bass else 0.0) + (0.3 if above else 0.0))
    return tuple(found), np.asarray(triads), np.asarray(basses), np.asarray(sevenths), np.asarray(costs)


def heard_chords(frames: ChordFrames, edges: Sequence[int], places: Sequence[str]) -> list[HeardChord]:
    """Return the chords of a song, each at least a beat long.

    ``edges``: the frame at which each beat begins, and one more for the end. ``places``: for each beat ``first``,
    ``middle`` or ``other`` in its bar, which says how readily a chord changes there.
    """
    candidates, triads, basses, sevenths, costs = _candidates()
    beats = len(edges) - 1
    if beats <= 0:
        return []
    gain = np.empty((beats, len(candidates)))
    for beat in range(beats):
        inside = slice(edges[beat], max(edges[beat] + 1, edges[beat + 1]))
        sums = [_gathered(part[inside]) for part in (frames.triads, frames.basses, frames.sevenths)]
        gain[beat] = sums[0][triads] + TRUST_BASS * sums[1][basses] + TRUST_SEVENTH * sums[2][sevenths] - costs
    path = _best_path(gain, places)
    return _joined(candidates, path, _shares(gain, path, places))


def _gathered(rows: NDArray[np.float32]) -> NDArray[np.float64]:
    if not len(rows):
        return np.zeros(rows.shape[1])
    return np.asarray(FRAME_TRUST * np.log(np.maximum(rows.astype(np.float64), LEAST)).sum(axis=0))


def _best_path(gain: NDArray[np.float64], places: Sequence[str]) -> NDArray[np.intp]:
    beats, many = gain.shape
    back = np.empty((beats, many), np.intp)
    score = gain[0].copy()
    same = np.arange(many)
    for beat in range(1, beats):
        best = int(score.argmax())
        changed = score[best] - CHANGE_AT[places[beat]]
        stays = score >= changed
        back[beat] = np.where(stays, same, best)
        score = np.where(stays, score, changed) + gain[beat]
    path = np.empty(beats, np.intp)
    path[-1] = int(score.argmax())
    for beat in range(beats - 1, 0, -1):
        path[beat - 1] = back[beat, path[beat]]
    return path


def _shares(gain: NDArray[np.float64], path: NDArray[np.intp], places: Sequence[str]) -> NDArray[np.float64]:
    """Return for each beat the probability of its triad, by forward and backward sums over all paths."""
    triads = _candidates()[1]
    beats, many = gain.shape
    ahead = np.empty_like(gain)
    ahead[0] = gain[0] - np.log(many)
    for beat in range(1, beats):
        total = np.logaddexp.reduce(ahead[beat - 1])
        ahead[beat] = np.logaddexp(ahead[beat - 1], total - CHANGE_AT[places[beat]] - np.log(many)) + gain[beat]
    behind = np.zeros_like(gain)
    for beat in range(beats - 2, -1, -1):
        after = behind[beat + 1] + gain[beat + 1]
        total = np.logaddexp.reduce(after)
        behind[beat] = np.logaddexp(after, total - CHANGE_AT[places[beat + 1]] - np.log(many))
    both = ahead + behind
    both -= np.logaddexp.reduce(both, axis=1, keepdims=True)
    chances = np.exp(both)
    return np.asarray([chances[beat, triads == triads[path[beat]]].sum() for beat in range(beats)])


def _joined(candidates: tuple[_Candidate, ...], path: NDArray[np.intp], sure: NDArray[np.float64]) -> list[HeardChord]:
    chords = []
    start = 0
    for beat in range(1, len(path) + 1):
        if beat == len(path) or path[beat] != path[start]:
            one = candidates[int(path[start])]
            share = float(np.clip(sure[start:beat].mean(), 0.0, 1.0))
            chords.append(HeardChord(start, beat, one.root, one.triad, one.seventh, one.bass, share))
            start = beat
    return chords
