"""Hear one recording: tuning, tempo, beats, bars, chords, key and form, each with how sure it is."""

import itertools
from collections.abc import Callable
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.anchors import NOTHING_KNOWN, Anchors, with_downbeats
from companion.audio.bar_pictures import LEVEL_BANDS, ONSET_BANDS, BandFrames, bar_picture
from companion.audio.bars import BarGrid
from companion.audio.beats import FRAMES_A_SECOND, beat_path, steadied
from companion.audio.constant_q import RATE, constant_q
from companion.audio.form import HeardSection, heard_sections
from companion.audio.heard_chords import HeardChord, heard_chords
from companion.audio.heard_frames import CHORD_FRAMES_A_SECOND, RawHearing
from companion.audio.keys import HeardKey, heard_key
from companion.audio.medleys import SongBreak, song_break
from companion.audio.networks.beat_net import beat_features, beat_frames
from companion.audio.networks.chord_net import BINS, chord_frames
from companion.audio.pitch_of_a import tuning_cents
from companion.audio.pulses import counted_pulses, same_meter, second_tempo, tempi

LEVEL_DB: Final = -16.0  # of full scale: where the songs lie that the decisions were fitted on
BLOCK: Final = round(0.4 * RATE)  # samples; long enough for a beat of most tempos
GATE_DB: Final = 20.0
SILENCE: Final = 1e-10  # power of a block, full scale 1
FIRST_BIN: Final = 18  # of the constant-Q picture: where the chord network's seven octaves begin
BINS_A_CENT: Final = 3 / 100
NO_CHORDS: Final = 0.6  # of the frames without a chord, by the network: 0.8 for a voice alone, 0.05 for a band
CLEAR_CHORDS: Final = 0.7  # the probability of the likeliest chord: 0.86 and more for bands, 0.6 for a voice alone
QUIET: Final = 0.3  # of what usually begins in a bar
FADED: Final = 0.15  # of how loud first beats usually are: the room still rings
STRUCK: Final = 1.0  # of how likely beats usually are, and TRUST_HITS times how loud first beats are: a bar is played
TRUST_HITS: Final = 1.2


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
    counted = counted_pulses(raw, anchors, steadied(free, likely))
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
    tempo, first, last = tempi(seconds)
    other, sure = second_tempo(counted)
    grid = msgspec.structs.replace(grid, sure=grid.sure * same_meter(counted))
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
