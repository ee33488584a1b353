"""Which of several pulses is the beat: the ways to count a song, and how likely each of them is.

Three beats may be two dotted ones, and one beat may be two: the beat network alone does not decide. Each pulse is
counted in bars, and what speaks for it is weighed by a multinomial logistic regression over the pulses of a song. It
was fitted on invented songs of two kinds that were rendered for it; the direction of each weight was given.
"""

import itertools
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.anchors import FAR, Anchors, is_near_bars, is_near_tempo, off_downbeats
from companion.audio.bars import BarGrid, bar_grid
from companion.audio.beats import FASTEST_BPM, FRAMES_A_SECOND, HITS_AROUND, SLOWEST_BPM, BeatPath, beat_path, hits_of
from companion.audio.heard_frames import CHORD_FRAMES_A_SECOND, RawHearing
from companion.audio.networks.layers import FrameRows

OTHER_PULSES: Final = (2 / 3, 1.5, 0.5, 2.0, 1 / 3, 3.0)
SAME_TEMPO: Final = 0.04
PULSE_ROOM: Final = 0.1
PULSE_WEIGHT: Final = 0.1  # of the beats beside the bars, both in logarithms a second
OFF_BEAT_COST: Final = 0.5  # of a pulse whose off-beats are as loud as its beats, in the same
LEAST_BEATS: Final = 8
SAME_BEAT: Final = 3  # frames
SAME_PATH: Final = 0.9  # of the beats
SHIFTS: Final = (1 / 3, 1 / 2, 2 / 3)
LEAST_LIKELY: Final = 1e-3
LEAST_PEAK: Final = 0.03
SURENESS_OF_THREES: Final = 0.45  # how much a lead counts between 3/4 and 6/8, and their like
SMOOTH: Final = np.asarray((0.25, 0.5, 0.25))  # people are a frame early or late
AROUND: Final = np.ones(HITS_AROUND) / HITS_AROUND
LEAST_POWER: Final = 1e-9
SHOWN_DOUBT: Final = 0.95
USUAL_BPM: Final = 90.0  # a moderate tempo (common practice, no source); of dotted beats, USUAL_DOTTED_BPM
USUAL_DOTTED_BPM: Final = 64.0
EVIDENCE: Final = (
    "the network's beats",
    "downbeats and chord changes",
    "little between the beats",
    "a moderate tempo",
    "a moderate tempo of dotted beats",
    "two in a bar",
    "three in a bar",
    "beats likelier than what is between them",
    "a clear meter",
    "what begins comes again a beat later",
)
WEIGHTS: Final = (0.42, 3.13, 3.0, 3.86, 4.18, 1.59, -2.77, 0.82, 8.95, 5.21)  # of EVIDENCE


class CountedPulse(msgspec.Struct, frozen=True):
    """One way to count a song: its beats, the frames of chords between them, and its bars.

    ``worth``: how well beats and bars explain the song, in logarithms a second, to compare pulses of one tempo.
    ``chance``: its probability among those of other tempos.
    """

    path: BeatPath
    edges: list[int]
    grid: BarGrid
    worth: float
    chance: float = 1.0

    @property
    def frames(self) -> NDArray[np.int64]:
        """The beats, in frames."""
        return self.path.frames

    @property
    def bpm(self) -> float:
        """The tempo of the whole, in beats a minute."""
        return tempi(self.frames / FRAMES_A_SECOND)[0]


def counted_pulses(raw: RawHearing, anchors: Anchors, first: BeatPath) -> list[CountedPulse]:
    """Return the ways to count a song, the likeliest first.

    ``first`` is the path of the beat network, which alone may lock on to another pulse (three against two in 6/8, twice
    as fast, half): each pulse has its own path, and the chords say which one falls into bars, unless the player's
    tempo, bars or taps say so.
    """
    likely = raw.likely.sum(axis=1)
    if len(first.frames) < LEAST_BEATS:
        return [_count(first, raw, anchors)]
    usual = 60 * FRAMES_A_SECOND / float(np.median(np.diff(first.frames)))
    with_hits = 0.5 * (likely + hits_of(raw.flux))
    paths = [first]
    for ratio in (1.0, *OTHER_PULSES):
        if SLOWEST_BPM < usual * ratio < FASTEST_BPM:
            room = usual * ratio * (1 - PULSE_ROOM), usual * ratio * (1 + PULSE_ROOM)
            other = first if ratio == 1.0 else beat_path(likely, *room)
            if len(other.frames) >= LEAST_BEATS:
                paths += [other] if other is not first else []
                paths += _elsewhere(beat_path(with_hits, *room), other, likely)
    every = [_count(moved, raw, anchors) for path in paths for moved in (path, *_shifted(path, likely))]
    every = [one for one in every if is_near_bars(len(one.grid.downbeats), anchors)] or every
    every = [one for one in every if is_near_tempo(one.bpm, anchors)] or every
    found = _likeliest_first(_best_of_each_tempo(every), raw)
    if off_downbeats(found[0].grid.beats, anchors) > FAR:
        nearest = min(every, key=lambda one: off_downbeats(one.grid.beats, anchors))
        found = [nearest, *(one for one in found if not _is_same_tempo(one, nearest))]
    return found


def _best_of_each_tempo(every: list[CountedPulse]) -> list[CountedPulse]:
    found: list[CountedPulse] = []
    for one in sorted(every, key=lambda one: -one.worth):
        if not any(_is_same_tempo(one, other) for other in found):
            found.append(one)
    return found


def _is_same_tempo(one: CountedPulse, other: CountedPulse) -> bool:
    return abs(one.bpm / other.bpm - 1) <= SAME_TEMPO


def _is_three_to_two(one: CountedPulse, other: CountedPulse) -> bool:
    """Return whether the one counts three where the other counts two dotted beats: these are easily mistaken."""
    is_dotted = 3 in (one.grid.parts, other.grid.parts)
    return is_dotted and any(abs(one.bpm / other.bpm / ratio - 1) < SAME_TEMPO for ratio in (2 / 3, 3 / 2))


def _likeliest_first(pulses: list[CountedPulse], raw: RawHearing) -> list[CountedPulse]:
    scores = np.stack([pulse_evidence(one, raw) for one in pulses]) @ np.asarray(WEIGHTS)
    first = pulses[int(scores.argmax())]
    sureness = np.asarray([SURENESS_OF_THREES if _is_three_to_two(one, first) else 1.0 for one in pulses])
    chances = np.exp(sureness * (scores - scores.max()))
    chances /= chances.sum()
    order = np.argsort(-chances, kind="stable")
    return [msgspec.structs.replace(pulses[at], chance=float(chances[at])) for at in order]


def pulse_evidence(one: CountedPulse, raw: RawHearing) -> NDArray[np.float64]:
    """Return what speaks for a pulse, in the order of EVIDENCE."""
    grid, likely = one.grid, raw.likely.sum(axis=1)
    is_dotted = grid.parts == 3
    off = _between(one.frames, (1 / 3, 2 / 3) if is_dotted else (1 / 2,))
    away = float(np.log2(one.bpm / (USUAL_DOTTED_BPM if is_dotted else USUAL_BPM)))
    return np.asarray(
        [
            one.path.fit * FRAMES_A_SECOND,
            grid.fit / raw.seconds,
            -grid.off_beats,
            0.0 if is_dotted else -(away**2),
            -(away**2) if is_dotted else 0.0,
            float(grid.beats_in_bar == 2),
            float(grid.beats_in_bar == 3),
            _log_peak(likely, one.frames) - _log_peak(likely, off),
            float(np.log(grid.sure)),
            _comes_again(raw.onsets, one.frames),
        ]
    )


def _comes_again(onsets: FrameRows, beats: NDArray[np.int64]) -> float:
    """Return how alike what begins in each band is to what begins a beat later, -1 to 1 (a correlation).

    Three beats of a bar differ where it is two dotted ones: thirds fall on beats and between them by turns. Each frame
    is compared with the same place in the next beat, so a tempo that breathes costs nothing.
    """
    risen = np.stack([np.convolve(band, SMOOTH, "same") - np.convolve(band, AROUND, "same") for band in onsets.T])
    frames = np.arange(beats[0], beats[-2])
    numbers = np.arange(len(beats))
    later = np.interp(np.interp(frames, beats, numbers) + 1, numbers, beats)
    here = risen[:, frames]
    there = np.stack([np.interp(later, np.arange(len(onsets)), band) for band in risen])
    powers = (here**2).sum(axis=1) * (there**2).sum(axis=1)
    return float(np.mean((here * there).sum(axis=1) / (np.sqrt(powers) + LEAST_POWER)))


def _between(frames: NDArray[np.int64], shares: tuple[float, ...]) -> NDArray[np.int64]:
    return np.concatenate([frames[:-1] + np.round(share * np.diff(frames)).astype(np.int64) for share in shares])


def _log_peak(values: FrameRows, frames: NDArray[np.int64]) -> float:
    """Return the logarithm of the mean of the highest values within two frames of each of these."""
    peaks = [float(values[max(0, frame - 2) : frame + 3].max(initial=0.0)) for frame in frames if frame < len(values)]
    return float(np.log((np.mean(peaks) if peaks else 0.0) + LEAST_PEAK))


def _elsewhere(path: BeatPath, other: BeatPath, likely: NDArray[np.float32]) -> list[BeatPath]:
    """Return a path that follows what begins, too, judged by the network alone; none if both paths are one.

    Where nothing is struck hard, as on a piano without drums, the network loses the beat.
    """
    if len(path.frames) < LEAST_BEATS or not len(other.frames):
        return []
    apart = np.abs(path.frames[:, None] - other.frames).min(axis=1)
    if np.mean(apart <= SAME_BEAT) > SAME_PATH:
        return []
    logs = np.log(np.clip(likely, LEAST_LIKELY, 1.0))
    lost = float(logs[path.frames].sum() - logs[other.frames].sum()) / len(likely)
    return [BeatPath(path.frames, other.fit + lost)]


def _shifted(path: BeatPath, likely: NDArray[np.float32]) -> list[BeatPath]:
    """Return the path moved by a third, a half and two thirds of a beat: loud off-beats may have taken it over."""
    moved = []
    logs = np.log(np.clip(likely, LEAST_LIKELY, 1.0))
    for share in SHIFTS:
        frames = _between(path.frames, (share,))
        lost = float(logs[frames].sum() - logs[path.frames[:-1]].sum()) / len(likely)
        moved.append(BeatPath(frames, path.fit + lost))
    return moved


def _count(path: BeatPath, raw: RawHearing, anchors: Anchors) -> CountedPulse:
    edges = _chord_edges(path.frames, raw)
    grid = bar_grid(path.frames, raw.likely, _changes(raw.chords.triads, edges), raw.flux, anchors.counted)
    worth = PULSE_WEIGHT * path.fit * FRAMES_A_SECOND + grid.fit / raw.seconds - OFF_BEAT_COST * grid.off_beats
    return CountedPulse(path, edges, grid, worth)


def second_tempo(counted: list[CountedPulse]) -> tuple[float | None, float]:
    """Return the tempo that a listener may count instead, and how sure the first one is."""
    if len(counted) < 2:
        return None, 1.0
    first, second = counted[:2]
    sure = first.chance / sum(one.chance for one in counted)
    return (round(second.bpm, 1) if sure < SHOWN_DOUBT else None), sure


def same_meter(counted: list[CountedPulse]) -> float:
    """Return the probability of a pulse with the same meter as the first."""
    same = sum(one.chance for one in counted if one.grid.meter == counted[0].grid.meter)
    return same / sum(one.chance for one in counted)


def _chord_edges(beats: NDArray[np.int64], raw: RawHearing) -> list[int]:
    many = len(raw.chords.triads)
    edges = [min(many, round(beat / FRAMES_A_SECOND * CHORD_FRAMES_A_SECOND)) for beat in beats]
    if len(beats) > 1:
        last = beats[-1] + int(np.median(np.diff(beats)))
        edges.append(min(many, round(last / FRAMES_A_SECOND * CHORD_FRAMES_A_SECOND)))
    return edges


def _changes(triads: NDArray[np.float32], edges: list[int]) -> NDArray[np.float64]:
    """Return for each beat how far its triads differ from those of the beat before, 0 to 1."""
    if len(edges) < 2:
        return np.zeros(0)
    means = np.stack(
        [
            triads[a : max(a + 1, b)].mean(axis=0) if a < len(triads) else triads[-1]
            for a, b in itertools.pairwise(edges)
        ]
    )
    moved = 0.5 * np.abs(np.diff(means.astype(np.float64), axis=0)).sum(axis=1)
    return np.concatenate([[0.0], np.clip(moved, 0, 1)])


def tempi(beats: NDArray[np.float64]) -> tuple[float, float, float]:
    """Return the tempo of the whole, of the first and of the last sixteen beats, in beats a minute."""
    if len(beats) < 3:
        return 0.0, 0.0, 0.0
    return tuple(60 / _slope(part) for part in (beats, beats[:17], beats[-17:]))  # type: ignore[return-value]


def _slope(beats: NDArray[np.float64]) -> float:
    """Return the seconds from beat to beat that fit best: the median of the slopes over eight beats, or fewer."""
    step = min(8, len(beats) - 1)
    return float(np.median(beats[step:] - beats[:-step])) / step
