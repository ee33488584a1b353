"""Hear one recording: tuning, tempo, beats, bars, chords, key and form, each with how sure it is."""

import itertools
from collections.abc import Callable
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.anchors import (
    FAR,
    NOTHING_KNOWN,
    Anchors,
    is_near_bars,
    is_near_tempo,
    off_downbeats,
    with_downbeats,
)
from companion.audio.bar_pictures import LEVEL_BANDS, ONSET_BANDS, BandFrames, bar_picture
from companion.audio.bars import BarGrid, bar_grid
from companion.audio.beats import FASTEST_BPM, FRAMES_A_SECOND, SLOWEST_BPM, BeatPath, beat_path, hits_of, steadied
from companion.audio.constant_q import HOP, RATE, constant_q
from companion.audio.form import HeardSection, heard_sections
from companion.audio.heard_chords import HeardChord, heard_chords
from companion.audio.keys import HeardKey, heard_key
from companion.audio.medleys import SongBreak, song_break
from companion.audio.networks.beat_net import beat_features, beat_frames
from companion.audio.networks.chord_net import BINS, ChordFrames, chord_frames
from companion.audio.pitch_of_a import tuning_cents

LEVEL_DB: Final = -16.0  # of full scale: where the songs lie that the decisions were fitted on
BLOCK: Final = round(0.4 * RATE)  # samples; long enough for a beat of most tempos
GATE_DB: Final = 20.0
SILENCE: Final = 1e-10  # power of a block, full scale 1
FIRST_BIN: Final = 18  # of the constant-Q picture: where the chord network's seven octaves begin
BINS_A_CENT: Final = 3 / 100
CHORD_FRAMES_A_SECOND: Final = RATE / HOP
OTHER_PULSES: Final = (2 / 3, 1.5, 0.5, 2.0, 1 / 3)
ANCHORED_PULSES: Final = (3.0,)  # looked at too where the player wrote a tempo or a meter
SAME_TEMPO: Final = 0.04
PULSE_ROOM: Final = 0.1
PULSE_WEIGHT: Final = 0.1  # of the beats beside the bars, both in logarithms a second
OFF_BEAT_COST: Final = 0.5  # of a pulse whose off-beats are as loud as its beats, in the same
LEAST_BEATS: Final = 8
SAME_BEAT: Final = 3  # frames
SAME_PATH: Final = 0.9  # of the beats
SHIFTS: Final = (1 / 3, 1 / 2, 2 / 3)
LEAST_LIKELY: Final = 1e-3
NO_CHORDS: Final = 0.6  # of the frames without a chord, by the network: 0.8 for a voice alone, 0.05 for a band
CLEAR_CHORDS: Final = 0.7  # the probability of the likeliest chord: 0.86 and more for bands, 0.6 for a voice alone
QUIET: Final = 0.3  # of what usually begins in a bar
FADED: Final = 0.15  # of how loud first beats usually are: the room still rings
STRUCK: Final = 1.0  # of how likely beats usually are, and TRUST_HITS times how loud first beats are: a bar is played
TRUST_HITS: Final = 1.2
SURENESS: Final = 5.0  # from a lead in worth to a probability
SURENESS_OF_THREES: Final = 2.0  # the same between 3/4 and 6/8, and their like
SHOWN_DOUBT: Final = 0.95


class RawHearing(msgspec.Struct, frozen=True):
    """What costs processor time, kept so that a better decision costs seconds. Arrays have frames as rows."""

    seconds: float
    cents: float
    in_tune: float
    likely: NDArray[np.float32]
    levels: NDArray[np.float32]
    onsets: NDArray[np.float32]
    chords: ChordFrames

    @property
    def flux(self) -> NDArray[np.float32]:
        """How much begins in each frame, in all bands."""
        return np.asarray(self.onsets.sum(axis=1), np.float32)


class Hearing(msgspec.Struct, frozen=True):
    """What was heard in a recording. Times are in seconds from the beginning of the file.

    ``bar_s``: where each bar begins, and where the last one ends. ``chords`` count beats of ``grid``. ``busy``: how
    much begins in each bar, 1 for the usual. ``second_song``: where one may begin, as in a medley.
    ``has_clear_chords``: false for a voice or another instrument alone, whose chords are guesses.
    """

    seconds: float
    cents: float
    tempo_bpm: float
    tempo_first_bpm: float
    tempo_last_bpm: float
    other_tempo_bpm: float | None
    tempo_sure: float
    grid: BarGrid
    bar_s: tuple[float, ...]
    key: HeardKey
    chords: tuple[HeardChord, ...]
    sections: tuple[HeardSection, ...]
    busy: tuple[float, ...] = ()
    second_song: SongBreak | None = None
    has_clear_chords: bool = True


def raw_hearing(samples: NDArray[np.float32], stage: Callable[[str], None] = lambda _name: None) -> RawHearing:
    """Listen to mono samples at RATE; ``stage`` is called with the name of each part of the work before it begins."""
    samples = at_one_level(samples)
    stage("tuning")
    cents, in_tune = tuning_cents(samples)
    stage("beats")
    features = beat_features(samples)
    half = features.shape[1] // 2
    likely = beat_frames(features)
    stage("chords")
    picture = constant_q(samples, cents * BINS_A_CENT)[:, FIRST_BIN : FIRST_BIN + BINS]
    chords = chord_frames(picture)
    levels = [20 * part.mean(axis=1) for part in np.array_split(features[:, :half], LEVEL_BANDS, axis=1)]
    onsets = [part.sum(axis=1) for part in np.array_split(features[:, half:], ONSET_BANDS, axis=1)]
    return RawHearing(
        len(samples) / RATE, cents, in_tune, likely, np.stack(levels, axis=1), np.stack(onsets, axis=1), chords
    )


def at_one_level(samples: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return the samples at LEVEL_DB, so that a quiet file is heard as a loud one is; silence is returned unchanged.

    The level is the power of the blocks that are within GATE_DB of the loudest one: silence in front does not count.
    """
    blocks = len(samples) // BLOCK
    powers = np.square(samples[: blocks * BLOCK].reshape(blocks, BLOCK)).mean(axis=1) if blocks else np.zeros(0)
    if not blocks or powers.max() <= SILENCE:
        return samples
    heard = powers[powers >= powers.max() * 10 ** (-GATE_DB / 10)].mean()
    return samples * np.float32(10 ** (LEVEL_DB / 20) / np.sqrt(heard))


def hearing_of(raw: RawHearing, anchors: Anchors = NOTHING_KNOWN) -> Hearing:
    """Decide what was heard, from what the player knows. Quick, so that it may be done again with other anchors.

    Speech, noise and drums alone have no chords: then only the tuning is known.
    """
    likely = raw.likely.sum(axis=1)
    free = beat_path(likely)
    counted = _counted(raw, anchors, steadied(free, likely))
    beats, edges = counted[0].frames, counted[0].edges
    grid = with_downbeats(counted[0].grid, anchors)
    seconds = beats / FRAMES_A_SECOND
    places = _places(grid, len(beats))
    chords = heard_chords(raw.chords, edges, places)
    if float(raw.chords.triads[:, 0].mean()) > NO_CHORDS:
        grid = msgspec.structs.replace(grid, downbeats=(), sure=0.0)
        return Hearing(raw.seconds, raw.cents, 0.0, 0.0, 0.0, None, 0.0, grid, (), HeardKey(None), (), ())
    grid = msgspec.structs.replace(grid, downbeats=_played(grid.downbeats, beats, chords, raw))
    bar_s = tuple(float(seconds[number]) for number in grid.downbeats)
    ends = _end_of_last_bar(bar_s, raw.seconds)
    bands = BandFrames(raw.levels, raw.onsets, FRAMES_A_SECOND)
    picture = bar_picture(raw.chords.triads[:, 1:25], CHORD_FRAMES_A_SECOND, bands, (*bar_s, ends))
    sections = heard_sections(picture)
    key = HeardKey(anchors.key, 1.0)
    if anchors.key is None:
        key = heard_key(chords, sections, grid.downbeats, grid.beats_in_bar)
    tempo, first, last = _tempi(seconds)
    other, sure = _second_tempo(counted)
    grid = msgspec.structs.replace(grid, sure=grid.sure * _same_meter(counted))
    return Hearing(
        raw.seconds,
        raw.cents,
        tempo,
        first,
        last,
        other,
        sure,
        grid,
        (*bar_s, ends),
        key,
        tuple(chords),
        tuple(sections),
        _busy(raw, (*bar_s, ends)),
        song_break(free.frames, likely, raw.chords.triads[:, 0], CHORD_FRAMES_A_SECOND),
        _has_clear_chords(raw.chords.triads),
    )


def _has_clear_chords(triads: NDArray[np.float32]) -> bool:
    """Return whether the network knows which chord it hears, where it hears one."""
    sounding = triads[triads.argmax(axis=1) > 0]
    return bool(len(sounding)) and float(sounding.max(axis=1).mean()) > CLEAR_CHORDS


def _busy(raw: RawHearing, edges: tuple[float, ...]) -> tuple[float, ...]:
    """Return how much begins in each bar, beside the median bar."""
    frames = [round(edge * FRAMES_A_SECOND) for edge in edges]
    bars = [float(raw.flux[start : max(start + 1, stop)].mean()) for start, stop in itertools.pairwise(frames)]
    usual = float(np.median(bars)) if bars else 0.0
    return tuple(one / usual for one in bars) if usual > 0 else ()


class _Count(msgspec.Struct, frozen=True):
    """One way to count a song: its beats, bars, and how well both explain it, in logarithms a second."""

    path: BeatPath
    edges: list[int]
    grid: BarGrid
    worth: float

    @property
    def frames(self) -> NDArray[np.int64]:
        """The beats, in frames."""
        return self.path.frames

    @property
    def bpm(self) -> float:
        """The tempo of the whole, in beats a minute."""
        return _tempi(self.frames / FRAMES_A_SECOND)[0]


def _counted(raw: RawHearing, anchors: Anchors, first: BeatPath) -> list[_Count]:
    """Return the ways to count a song, the best first.

    ``first`` is the path of the beat network, which alone may lock on to another pulse (three against two in 6/8, twice
    as fast, half): each pulse has its own path, and the chords say which one falls into bars, unless the player's
    tempo, bars or taps say so.
    """
    likely = raw.likely.sum(axis=1)
    if len(first.frames) < LEAST_BEATS:
        return [_count(first, raw, anchors)]
    usual = 60 * FRAMES_A_SECOND / float(np.median(np.diff(first.frames)))
    is_counted = anchors.tempo_bpm is not None or anchors.meter is not None
    with_hits = 0.5 * (likely + hits_of(raw.flux))
    paths = [first]
    for ratio in (1.0, *OTHER_PULSES, *(ANCHORED_PULSES if is_counted else ())):
        if SLOWEST_BPM < usual * ratio < FASTEST_BPM:
            room = usual * ratio * (1 - PULSE_ROOM), usual * ratio * (1 + PULSE_ROOM)
            other = first if ratio == 1.0 else beat_path(likely, *room)
            if len(other.frames) >= LEAST_BEATS:
                paths += [other] if other is not first else []
                paths += _elsewhere(beat_path(with_hits, *room), other, likely)
    every = [_count(moved, raw, anchors) for path in paths for moved in (path, *_shifted(path, likely))]
    every = [one for one in every if is_near_bars(len(one.grid.downbeats), anchors)] or every
    every = [one for one in every if is_near_tempo(one.bpm, anchors)] or every
    every.sort(key=lambda one: -one.worth)
    best = every[0]
    if off_downbeats(best.grid.beats, anchors) > FAR:
        best = min(every, key=lambda one: off_downbeats(one.grid.beats, anchors))
    found = [best]
    for one in every:
        if all(abs(one.bpm / other.bpm - 1) > SAME_TEMPO for other in found):
            found.append(one)
    return found


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
        frames = path.frames[:-1] + np.round(share * np.diff(path.frames)).astype(np.int64)
        lost = float(logs[frames].sum() - logs[path.frames[:-1]].sum()) / len(likely)
        moved.append(BeatPath(frames, path.fit + lost))
    return moved


def _count(path: BeatPath, raw: RawHearing, anchors: Anchors) -> _Count:
    edges = _chord_edges(path.frames, raw)
    grid = bar_grid(path.frames, raw.likely, _changes(raw.chords.triads, edges), raw.flux, anchors.counted)
    worth = PULSE_WEIGHT * path.fit * FRAMES_A_SECOND + grid.fit / raw.seconds - OFF_BEAT_COST * grid.off_beats
    return _Count(path, edges, grid, worth)


def _second_tempo(counted: list[_Count]) -> tuple[float | None, float]:
    """Return the tempo that a listener may count instead, and how sure the first one is."""
    if len(counted) < 2:
        return None, 1.0
    chances = _rivals(counted)
    rival = 1 + int(np.argmax(chances[1:]))
    sure = float(1 / (1 + chances[rival]))
    return (round(counted[rival].bpm, 1) if sure < SHOWN_DOUBT else None), sure


def _same_meter(counted: list[_Count]) -> float:
    """Return the probability of a pulse with the same meter as the first."""
    chances = _rivals(counted)
    same = np.asarray([one.grid.meter == counted[0].grid.meter for one in counted])
    return float(chances[same].sum() / chances.sum())


def _rivals(counted: list[_Count]) -> NDArray[np.float64]:
    """Return how likely each way to count is beside the first one: two dotted beats are easily heard as three."""
    first = counted[0]
    chances = []
    for one in counted:
        is_compound = 3 in (one.grid.parts, first.grid.parts)
        is_three_to_two = any(abs(one.bpm / first.bpm / ratio - 1) < SAME_TEMPO for ratio in (2 / 3, 3 / 2))
        sureness = SURENESS_OF_THREES if is_compound and is_three_to_two else SURENESS
        chances.append(float(np.exp(sureness * (one.worth - first.worth))))
    return np.asarray(chances)


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


def _places(grid: BarGrid, beats: int) -> list[str]:
    places = ["other"] * beats
    for number in grid.downbeats:
        places[number] = "first"
        middle = number + grid.beats_in_bar // 2
        if grid.beats_in_bar % 2 == 0 and grid.beats_in_bar > 2 and middle < beats:
            places[middle] = "middle"
    return places


def _played(
    firsts: tuple[int, ...], beats: NDArray[np.int64], chords: list[HeardChord], raw: RawHearing
) -> tuple[int, ...]:
    """Return the bars that are played: not the count-off before the first chord, nor what dies away after the last."""
    if len(firsts) < 2:
        return firsts
    edges = [*(int(beats[first]) for first in firsts), len(raw.flux)]
    begins = [float(raw.flux[a:b].mean()) for a, b in itertools.pairwise(edges)]
    least = QUIET * float(np.median(begins))
    silent = {beat for one in chords if one.root is None for beat in range(one.start, one.stop)}
    sounds = [much > least and first not in silent for first, much in zip(firsts, begins, strict=True)]
    start = next((at for at, is_played in enumerate(sounds) if is_played), 0)
    every, hits = _peaks_at(beats, raw.likely.sum(axis=1)), _peaks_at(beats, raw.flux)
    pulse = np.asarray([every[a:b].mean() for a, b in itertools.pairwise([*firsts, len(beats)])])
    first_hits = hits[list(firsts)] / np.median(hits[list(firsts)])
    pulse = np.where([first in silent for first in firsts], 0.0, pulse / np.median(pulse))
    struck = (first_hits >= FADED) & (pulse + TRUST_HITS * first_hits >= STRUCK)
    stop = next((at for at in range(len(firsts), start, -1) if struck[at - 1]), len(firsts))
    return firsts[start:stop]


def _peaks_at(frames: NDArray[np.int64], values: NDArray[np.float32]) -> NDArray[np.float64]:
    return np.asarray([values[max(0, frame - 2) : frame + 4].max(initial=0.0) for frame in frames], np.float64)


def _end_of_last_bar(bar_s: tuple[float, ...], seconds: float) -> float:
    if len(bar_s) < 2:
        return seconds
    return min(seconds, bar_s[-1] + float(np.median(np.diff(bar_s))))


def _tempi(beats: NDArray[np.float64]) -> tuple[float, float, float]:
    """Return the tempo of the whole, of the first and of the last sixteen beats, in beats a minute."""
    if len(beats) < 3:
        return 0.0, 0.0, 0.0
    return tuple(60 / _slope(part) for part in (beats, beats[:17], beats[-17:]))  # type: ignore[return-value]


def _slope(beats: NDArray[np.float64]) -> float:
    """Return the seconds from beat to beat that fit best: the median of the slopes over eight beats, or fewer."""
    step = min(8, len(beats) - 1)
    return float(np.median(beats[step:] - beats[:-step])) / step
