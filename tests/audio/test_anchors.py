"""What the player knows puts the rest right: a downbeat, taps, a meter, a tempo, the bars of the sections."""

from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from companion.audio.anchors import Anchors, WrittenSection, anchors_of, placed, with_downbeats
from companion.audio.bar_pictures import LEVEL_BANDS, ONSET_BANDS
from companion.audio.bars import BarGrid
from companion.audio.beats import FRAMES_A_SECOND
from companion.audio.form import HeardSection
from companion.audio.heard_draft import draft_of
from companion.audio.heard_frames import RawHearing
from companion.audio.hearing import hearing_of
from companion.audio.networks.chord_net import ChordFrames
from companion.music import Meter, read_key
from companion.show import Section, Song

CHORD_FRAMES_A_SECOND = 22_050 / 512
SIZES = {"triads": 73, "basses": 13, "sevenths": 4, "ninths": 4, "sixths": 3}


def grid(*firsts: int, beats: int = 40, many: int = 4) -> BarGrid:
    return BarGrid(np.arange(beats, dtype=np.float64) / 2, firsts, many, 2, 0.9)


def likely(beats: NDArray[np.float64], firsts: NDArray[np.float64], seconds: float) -> NDArray[np.float32]:
    frames = np.full((round(seconds * FRAMES_A_SECOND), 2), 0.02, np.float32)
    frames[np.round(beats * FRAMES_A_SECOND).astype(int), 0] = 0.9
    frames[np.round(firsts * FRAMES_A_SECOND).astype(int)] = (0.05, 0.9)
    return frames


@cache
def half_a_bar_off(*, beat_s: float = 0.5, bars: int = 16) -> RawHearing:
    """Return 16 bars of G, Em, C, D at 120 whose chords and accents say, wrongly, that beat 3 begins the bar."""
    beats = np.asarray(0.4 + beat_s * np.arange(4 * bars), np.float64)
    seconds = float(beats[-1]) + 0.6
    said = likely(beats, beats[2::4], seconds)
    frames = {
        name: np.full((round(seconds * CHORD_FRAMES_A_SECOND), many), 0.05 / many, np.float32)
        for name, many in SIZES.items()
    }
    for number, start in enumerate([0.0, *beats[2::4]]):
        root, kind = [(2, 0), (7, 0), (4, 1), (0, 0)][number % 4]
        inside = slice(round(start * CHORD_FRAMES_A_SECOND), None)
        frames["triads"][inside] = 0.001
        frames["triads"][inside, 1 + 12 * kind + root] = 0.95
        frames["basses"][inside] = 0.001
        frames["basses"][inside, 1 + root] = 0.95
    frames["sevenths"][:, 0] = 0.95
    onsets = np.repeat(said.sum(axis=1, keepdims=True) / ONSET_BANDS, ONSET_BANDS, axis=1)
    levels = np.random.default_rng(1).normal(20, 0.5, (len(said), LEVEL_BANDS)).astype(np.float32)
    return RawHearing(seconds, 0.0, 1.0, said, levels, onsets, ChordFrames(**frames))


@pytest.mark.parametrize(
    ("heard", "named", "firsts"),
    [
        ((2, 6, 10, 14, 18, 22, 26, 30, 34), (4.0,), (0, 4, 8, 12, 16, 20, 24, 28, 32, 36)),  # half a bar early
        ((1, 5, 9, 13, 17, 21, 25, 29, 33, 37), (4.06,), (0, 4, 8, 12, 16, 20, 24, 28, 32, 36)),  # a beat late
        ((0, 4, 8, 12, 14, 18, 22, 26, 30, 34), (0.0,), (0, 4, 8, 12, 14, 18, 22, 26, 30, 34)),  # right, with a 2/4
        ((2, 6, 10, 12, 16, 20, 24, 28, 32, 36), (2.0,), (0, 4, 8, 10, 14, 18, 22, 26, 30, 34, 38)),  # its 2/4 stays
        ((0, 4, 8, 12, 16, 20, 24, 28, 32, 36), (4.0, 11.0), (0, 4, 8, 12, 16, 20, 22, 26, 30, 34, 38)),  # two
    ],
)
def test_a_named_downbeat_moves_all_bars(heard: tuple[int, ...], named: tuple[float, ...], firsts: list[int]) -> None:
    assert with_downbeats(grid(*heard), Anchors(downbeats_s=named)).downbeats == tuple(firsts)


def test_one_sloppy_tap_among_three_does_not_count() -> None:
    taps = Anchors(taps_s=(4.1, 8.4, 11.95))  # on beats 8, 17 and 24; bars begin on 2, 6, 10 ...
    assert with_downbeats(grid(*range(2, 40, 4)), taps).downbeats == tuple(range(0, 40, 4))
    assert with_downbeats(grid(*range(2, 40, 4)), Anchors()).downbeats == tuple(range(2, 40, 4))


def test_a_song_heard_half_a_bar_off_is_put_right_by_one_downbeat() -> None:
    heard = half_a_bar_off()
    free = hearing_of(heard)
    assert free.bar_s[0] % 2 == pytest.approx(1.4, abs=0.05)  # bars of two seconds; bar one is at 0.4
    known = hearing_of(heard, Anchors(downbeats_s=(12.45,)))
    assert known.bar_s[0] == pytest.approx(0.4, abs=0.05)
    assert np.allclose(np.asarray(known.bar_s[:-1]) % 2, 0.4, atol=0.05)


def test_a_downbeat_between_the_beats_moves_the_beats() -> None:
    heard = hearing_of(half_a_bar_off(), Anchors(downbeats_s=(12.65,)))
    assert np.abs(np.asarray(heard.bar_s) - 12.65).min() < 0.05


@pytest.mark.parametrize(("bpm", "heard"), [(60, 60), (120, 120), (64, 60), (90, 120)])
def test_the_written_tempo_says_whether_it_is_half_or_double(bpm: float, heard: float) -> None:
    """A tempo that is none of the pulses is tonight's, not the record's: it changes nothing."""
    assert hearing_of(half_a_bar_off(), Anchors(tempo_bpm=bpm)).tempo_bpm == pytest.approx(heard, abs=1)


def test_the_written_bars_say_whether_the_tempo_is_half_or_double() -> None:
    for bars, bpm in ((4, 60), (8, 120)):
        known = anchors_of(Song("Kettle", road_map=(Section("Verse", bars), Section("Chorus", bars))))
        assert hearing_of(half_a_bar_off(), known).tempo_bpm == pytest.approx(bpm, abs=1)


@pytest.mark.parametrize(
    ("meter", "bars"), [(Meter(2, 4), 32), (Meter(5, 4), 13), (Meter(12, 8), 16), (Meter(7, 8), 16)]
)
def test_the_written_meter_is_counted(meter: Meter, bars: int) -> None:
    """7/8 has half a beat in its bar: the bars stay as heard."""
    known = Anchors(meter=meter, tempo_bpm=120)
    heard = hearing_of(half_a_bar_off(), known)
    assert len(heard.bar_s) - 1 == pytest.approx(bars, abs=1)
    draft = draft_of(heard, known)
    assert draft.meter == ("4/4" if meter == Meter(7, 8) else str(meter))


def test_the_known_key_is_not_heard_again() -> None:
    known = hearing_of(half_a_bar_off(), Anchors(key=read_key("F#")))
    assert (str(known.key.key), known.key.sure) == ("F#", 1.0)


def test_the_players_sections_keep_their_names_and_bars_and_get_chords() -> None:
    song = Song("Kettle", road_map=(Section("Intro", 4), Section("Verse", 4, 2)))
    known = Anchors(downbeats_s=(12.45,), sections=anchors_of(song).sections)
    draft = draft_of(hearing_of(half_a_bar_off(), known), known)
    assert [(one.name, one.bars) for one in draft.sections] == [("Intro", 4), ("Verse", 4), ("Verse", 4)]
    assert all(one.chords for one in draft.sections)
    assert "bars: your road map has 12, the recording 16?" in draft.doubts


@pytest.mark.parametrize(
    ("written", "starts"),
    [((4, 8), [4, 8]), ((8, 8), [0, 8]), ((16, 8), [])],
)
def test_written_sections_stand_where_most_sections_were_heard(written: tuple[int, ...], starts: list[int]) -> None:
    """Four bars of talk, four of introduction, eight of verse: 16 bars; a longer road map is of another recording."""
    heard = [HeardSection(0, 4, "A", 0, 0.5), HeardSection(4, 4, "B", 0, 0.9), HeardSection(8, 8, "C", 0, 0.9)]
    known = [WrittenSection(name, bars, at) for at, (name, bars) in enumerate(zip("XY", written, strict=True))]
    assert [one.start for one in placed(known, heard)] == starts


def test_a_road_map_with_open_or_unknown_bars_anchors_nothing() -> None:
    assert anchors_of(Song("A", road_map=(Section("Intro", 4), Section("Solo", 8, open=True)))).sections == ()
    assert anchors_of(Song("A", road_map=(Section("Intro", 4), Section("Verse")))).sections == ()
