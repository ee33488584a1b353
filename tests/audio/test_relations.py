"""What holds of any recording, whatever is true of it: the same music, changed in a known way, is heard changed so."""

import contextlib
from fractions import Fraction
from pathlib import Path

import av
import msgspec
import numpy as np
import pytest
import soxr
from av.filter import Graph
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.decoding import decoded
from companion.audio.hearing import Hearing, hearing_of, raw_hearing

Samples = NDArray[np.float32]
SHIFTS = (-1, 2, 4)  # semitones
STRETCHED = 0.9  # of the bars keep their chords through a filter that stretches sound, and smears it


class Heard(msgspec.Struct, frozen=True):
    """A hearing in numbers that no spelling changes. Chords, bar by bar, are semitones above the tonic."""

    tonic: int
    is_minor: bool
    meter: str
    road_map: list[tuple[str, int]]
    chords: list[list[tuple[int, str, int, int]]]
    bpm: float
    first_bar_s: float


def heard(samples: NDArray[np.floating]) -> Heard:
    return in_numbers(hearing_of(raw_hearing(samples.astype(np.float32))))


def in_numbers(one: Hearing) -> Heard:
    key, many = one.key.key, one.grid.beats_in_bar
    assert key is not None
    tonic = key.tonic.semitone
    chords = [
        [
            ((chord.root - tonic) % 12, chord.triad, chord.seventh, chord.bass)
            for chord in one.chords
            if chord.root is not None and chord.start < first + many and chord.stop > first
        ]
        for first in one.grid.downbeats
    ]
    road_map = [(section.letter, section.bars) for section in one.sections]
    return Heard(tonic, key.mode.value == "minor", one.grid.meter, road_map, chords, one.tempo_bpm, one.bar_s[0])


@pytest.fixture(scope="module")
def samples(recording: Path) -> Samples:
    return decoded(recording)


@pytest.fixture(scope="module")
def first(samples: Samples) -> Heard:
    return heard(samples)


def is_same_but_for_the_tempo(one: Heard, other: Heard, bars: float = 1.0) -> bool:
    """Return whether meter and road map are the same, and so are the chords of this share of the bars."""
    same = [first == second for first, second in zip(one.chords, other.chords, strict=False)]
    return (one.meter, one.road_map) == (other.meter, other.road_map) and sum(same) >= bars * len(one.chords)


def stretched(samples: Samples, speed: float) -> Samples:
    """Return the same pitches at another speed, by FFmpeg's filter atempo."""
    graph = Graph()
    steps = [
        graph.add_abuffer(sample_rate=RATE, format="flt", layout="mono", time_base=Fraction(1, RATE)),
        graph.add("atempo", str(speed)),
        graph.add("aformat", "sample_fmts=flt:channel_layouts=mono"),
        graph.add("abuffersink"),
    ]
    graph.link_nodes(*steps).configure()
    frame = av.AudioFrame.from_ndarray(samples[None].astype(np.float32), format="flt", layout="mono")
    frame.sample_rate, frame.pts, frame.time_base = RATE, 0, Fraction(1, RATE)
    graph.push(frame)
    graph.push(None)
    pieces = []
    with contextlib.suppress(av.FFmpegError):
        while True:
            pieces.append(graph.pull().to_ndarray().reshape(-1))
    return np.concatenate(pieces).astype(np.float32)


def as_tape(samples: Samples, up: int) -> Samples:
    """Return what a tape plays that runs faster by a factor of 2^(up/12): pitch and tempo move."""
    return np.asarray(soxr.resample(samples, 2 ** (up / 12), 1, "HQ"), np.float32)


def written(path: Path, samples: Samples, codec: str, channels: int) -> Path:
    """Write samples at RATE with one of FFmpeg's encoders."""
    layout, form = ("mono", "stereo")[channels - 1], {"libmp3lame": "s16p", "libopus": "flt", "flac": "s16"}[codec]
    rate = 48_000 if codec == "libopus" else 44_100
    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=rate)
        assert isinstance(stream, av.AudioStream)
        stream.layout = layout
        resampler = av.AudioResampler(format=form, layout=layout, rate=rate, frame_size=stream.frame_size or 1024)
        frame = av.AudioFrame.from_ndarray(samples[None].astype(np.float32), format="flt", layout="mono")
        frame.sample_rate = RATE
        for piece in (*resampler.resample(frame), *resampler.resample(None)):
            container.mux(stream.encode(piece))
        container.mux(stream.encode(None))
    return path


@pytest.mark.long
def test_the_same_music_lower_quieter_and_two_seconds_later_is_the_same_music_there(
    samples: Samples, first: Heard
) -> None:
    """As a tape that runs slower by a semitone: F# or Gb, as its key is spelled."""
    late = heard(0.2 * np.concatenate([np.zeros(2 * RATE), as_tape(samples, -1)]))
    assert (late.tonic, late.is_minor) == ((first.tonic - 1) % 12, first.is_minor)
    assert is_same_but_for_the_tempo(late, first)
    assert late.bpm == pytest.approx(first.bpm * 2 ** (-1 / 12), rel=0.01)
    assert late.first_bar_s == pytest.approx(first.first_bar_s * 2 ** (1 / 12) + 2, abs=0.06)


@pytest.mark.long
@pytest.mark.parametrize("up", SHIFTS)
def test_the_same_music_on_a_faster_or_slower_tape_is_moved_with_it(samples: Samples, first: Heard, up: int) -> None:
    moved = heard(as_tape(samples, up))
    assert (moved.tonic, moved.is_minor) == ((first.tonic + up) % 12, first.is_minor)
    assert is_same_but_for_the_tempo(moved, first)
    assert moved.bpm == pytest.approx(first.bpm * 2 ** (up / 12), rel=0.01)


@pytest.mark.long
@pytest.mark.parametrize("up", SHIFTS)
def test_the_same_music_transposed_at_its_own_tempo_is_moved_in_key_alone(
    samples: Samples, first: Heard, up: int
) -> None:
    moved = heard(stretched(as_tape(samples, up), 2 ** (-up / 12)))
    assert (moved.tonic, moved.is_minor) == ((first.tonic + up) % 12, first.is_minor)
    assert is_same_but_for_the_tempo(moved, first, STRETCHED)
    assert moved.bpm == pytest.approx(first.bpm, rel=0.01)


@pytest.mark.long
@pytest.mark.parametrize("speed", [0.9, 1.1])
def test_the_same_music_slower_or_faster_has_the_same_road_map(samples: Samples, first: Heard, speed: float) -> None:
    other = heard(stretched(samples, speed))
    assert (other.tonic, other.is_minor) == (first.tonic, first.is_minor)
    assert is_same_but_for_the_tempo(other, first, STRETCHED)
    assert other.bpm == pytest.approx(first.bpm * speed, rel=0.01)


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "codec", "channels"),
    [("a.mp3", "libmp3lame", 1), ("b.mp3", "libmp3lame", 2), ("c.ogg", "libopus", 2), ("d.flac", "flac", 1)],
)
def test_the_same_music_recoded_is_heard_alike(
    samples: Samples, first: Heard, tmp_path: Path, name: str, codec: str, channels: int
) -> None:
    other = heard(decoded(written(tmp_path / name, samples, codec, channels)))
    assert (other.tonic, other.is_minor) == (first.tonic, first.is_minor)
    assert is_same_but_for_the_tempo(other, first)
    assert other.bpm == pytest.approx(first.bpm, rel=0.005)
