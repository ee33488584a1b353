"""Hear one recording: tuning, tempo, beats, bars, chords, key and form, each with how sure it is."""

from collections.abc import Callable
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.bars import BarGrid, bar_grid
from companion.audio.beats import FRAMES_A_SECOND, beat_path, steady_beat_path
from companion.audio.chords import HeardChord, heard_chords
from companion.audio.constant_q import HOP, RATE, constant_q
from companion.audio.form import BarPicture, HeardSection, heard_sections
from companion.audio.keys import HeardKey, heard_key
from companion.audio.networks.beat_net import beat_features, beat_frames
from companion.audio.networks.chord_net import BINS, ChordFrames, chord_frames
from companion.audio.tuning import tuning_cents

FIRST_BIN: Final = 18  # of the constant-Q picture: where the chord network's seven octaves begin
BINS_A_CENT: Final = 3 / 100
CHORD_FRAMES_A_SECOND: Final = RATE / HOP
SOUND_BANDS: Final = 12
NO_MUSIC_FIT: Final = 0.25


class RawHearing(msgspec.Struct, frozen=True):
    """What costs processor time, kept so that a better decision costs seconds. Arrays have frames as rows."""

    seconds: float
    cents: float
    in_tune: float
    likely: NDArray[np.float32]
    levels: NDArray[np.float32]
    flux: NDArray[np.float32]
    chords: ChordFrames


class Hearing(msgspec.Struct, frozen=True):
    """What was heard in a recording. Times are in seconds from the beginning of the file.

    ``bar_s``: where each bar begins, and where the last one ends. ``chords`` count beats of ``grid``.
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


def raw_hearing(samples: NDArray[np.float32], stage: Callable[[str], None] = lambda _name: None) -> RawHearing:
    """Listen to mono samples at RATE; ``stage`` is called with the name of each part of the work before it begins."""
    stage("tuning")
    cents, in_tune = tuning_cents(samples)
    stage("beats")
    features = beat_features(samples)
    half = features.shape[1] // 2
    likely = beat_frames(features)
    stage("chords")
    picture = constant_q(samples, cents * BINS_A_CENT)[:, FIRST_BIN : FIRST_BIN + BINS]
    chords = chord_frames(picture)
    return RawHearing(
        len(samples) / RATE, cents, in_tune, likely, _bands(features[:, :half]), features[:, half:].sum(axis=1), chords
    )


def _bands(levels: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return levels in few wide bands, in decibels."""
    parts = np.array_split(levels, SOUND_BANDS, axis=1)
    return np.stack([20 * part.mean(axis=1) for part in parts], axis=1).astype(np.float32)


def hearing_of(raw: RawHearing) -> Hearing:
    """Decide what was heard. Quick, so that it may be done again with other anchors."""
    path = steady_beat_path(raw.likely.sum(axis=1))
    beats = path.frames
    seconds = beats / FRAMES_A_SECOND
    edges = _chord_edges(beats, raw)
    grid = bar_grid(beats, raw.likely, _changes(raw.chords.triads, edges), raw.flux)
    places = _places(grid, len(beats))
    chords = heard_chords(raw.chords, edges, places)
    firsts = [number for number in grid.downbeats if number < len(beats)]
    bar_s = tuple(float(seconds[number]) for number in firsts)
    ends = _end_of_last_bar(bar_s, raw.seconds)
    key = heard_key(chords, raw.chords.triads)
    picture = _bar_picture(raw, bar_s, ends)
    tempo, first, last = _tempi(seconds)
    return Hearing(
        raw.seconds,
        raw.cents,
        tempo,
        first,
        last,
        *_other_tempo(raw, path.fit, tempo),
        grid,
        (*bar_s, ends),
        key,
        tuple(chords),
        tuple(heard_sections(picture)),
    )


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
        [triads[a : max(a + 1, b)].mean(axis=0) if a < len(triads) else triads[-1] for a, b in zip(edges[:-1], edges[1:], strict=True)]
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


def _end_of_last_bar(bar_s: tuple[float, ...], seconds: float) -> float:
    if len(bar_s) < 2:
        return seconds
    return min(seconds, bar_s[-1] + float(np.median(np.diff(bar_s))))


def _bar_picture(raw: RawHearing, bar_s: tuple[float, ...], end: float) -> BarPicture:
    edges = [*bar_s, end]
    harmony, sound, hits = [], [], []
    triads = raw.chords.triads[:, 1:25].astype(np.float64)  # major and minor
    for start, stop in zip(edges[:-1], edges[1:], strict=True):
        middle = (start + stop) / 2
        halves = [_mean(triads, a * CHORD_FRAMES_A_SECOND, b * CHORD_FRAMES_A_SECOND) for a, b in ((start, middle), (middle, stop))]
        harmony.append(np.concatenate(halves))
        sound.append(_mean(raw.levels.astype(np.float64), start * FRAMES_A_SECOND, stop * FRAMES_A_SECOND))
        at = round(start * FRAMES_A_SECOND)
        hits.append(float(raw.flux[max(0, at - 2) : at + 4].max(initial=0.0)))
    loud = np.asarray(hits)
    usual = np.median(loud) if len(loud) else 1.0
    return BarPicture(
        np.asarray(harmony).reshape(len(hits), -1),
        np.asarray(sound).reshape(len(hits), -1),
        np.maximum(loud / max(float(usual), 1e-9) - 1, 0),
    )


def _mean(rows: NDArray[np.float64], start: float, stop: float) -> NDArray[np.float64]:
    low = min(round(start), len(rows) - 1)
    return np.asarray(rows[low : max(low + 1, round(stop))].mean(axis=0))


def _tempi(beats: NDArray[np.float64]) -> tuple[float, float, float]:
    """Return the tempo of the whole, of the first and of the last sixteen beats, in beats a minute."""
    if len(beats) < 3:
        return 0.0, 0.0, 0.0
    return tuple(60 / _slope(part) for part in (beats, beats[:17], beats[-17:]))  # type: ignore[return-value]


def _slope(beats: NDArray[np.float64]) -> float:
    """Return the seconds from beat to beat that fit best: the median of the slopes over eight beats, or fewer."""
    step = min(8, len(beats) - 1)
    return float(np.median(beats[step:] - beats[:-step])) / step


def _other_tempo(raw: RawHearing, fit: float, tempo: float) -> tuple[float | None, float]:
    """Return the tempo that a listener may count instead, half or double, and how sure the first is."""
    if tempo <= 0:
        return None, 0.0
    other = tempo / 2 if tempo > 112 else tempo * 2
    try:
        twin = beat_path(raw.likely.sum(axis=1), other * 0.85, other * 1.18)
    except ValueError:
        return None, 1.0
    lead = (fit - twin.fit) * len(raw.likely) / max(len(raw.likely) / 500, 1)
    sure = float(1 / (1 + np.exp(-lead / 2)))
    return (round(other, 1) if sure < 0.97 else None), sure
