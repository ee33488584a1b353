"""Two songs in one recording: another tempo from there on, or a pause; and what is no medley."""

from pathlib import Path

import numpy as np
import pytest
import soxr
from numpy.typing import NDArray

from companion.audio.beats import FRAMES_A_SECOND
from companion.audio.constant_q import RATE
from companion.audio.decoding import decoded
from companion.audio.heard_draft import draft_of
from companion.audio.hearing import hearing_of, raw_hearing
from companion.audio.landing import sure_parts
from companion.audio.medleys import SongBreak, song_break

SILENT_A_SECOND = 43.0


def beats_of(*stretches: tuple[float, float]) -> NDArray[np.int64]:
    """Return the beats, in frames, of stretches of music: seconds, and beats a minute."""
    beats = [0.0]
    for seconds, bpm in stretches:
        beats += list(beats[-1] + np.arange(1, round(seconds * bpm / 60) + 1) * 60 / bpm)
    return np.round(np.asarray(beats) * FRAMES_A_SECOND).astype(np.int64)


def found(beats: NDArray[np.int64], pause: tuple[float, float] = (0, 0), pulse: float = 0.02) -> SongBreak | None:
    """``pause``: where no chord sounds, in seconds; ``pulse``: how likely its beats are."""
    likely = np.full(int(beats[-1]) + FRAMES_A_SECOND, 0.02, np.float32)
    likely[beats] = 0.9
    likely[int(pause[0] * FRAMES_A_SECOND) : int(pause[1] * FRAMES_A_SECOND)] = pulse
    silent = np.zeros(int(len(likely) / FRAMES_A_SECOND * SILENT_A_SECOND), np.float32)
    silent[int(pause[0] * SILENT_A_SECOND) : int(pause[1] * SILENT_A_SECOND)] = 0.95
    return song_break(beats, likely, silent, SILENT_A_SECOND)


@pytest.mark.parametrize(("first", "second"), [(92, 118), (140, 76 * 1.1), (100, 109)])
def test_another_tempo_for_good_is_another_song(first: float, second: float) -> None:
    there = found(beats_of((70, first), (50, second)))
    assert there is not None
    assert there.at_s == pytest.approx(70, abs=1.5)
    assert there.before_bpm == pytest.approx(first, rel=0.03)
    assert there.after_bpm == pytest.approx(second, rel=0.03)


@pytest.mark.parametrize(
    "stretches",
    [
        ((120, 100),),
        ((60, 100), (60, 103)),  # a band that plays one song drifts that far
        ((60, 80), (60, 160)),  # half and double are one pulse
        ((60, 80), (60, 120)),  # and so are two and three
        ((100, 120), (15, 70)),  # a slow ending
        ((20, 70), (100, 120)),  # a slow introduction
        ((30, 120),),
    ],
)
def test_a_song_that_drifts_or_begins_or_ends_slowly_is_one_song(stretches: tuple[tuple[float, float], ...]) -> None:
    assert found(beats_of(*stretches)) is None


def test_a_pause_inside_may_part_two_songs_but_drums_alone_do_not() -> None:
    beats = beats_of((120, 100))
    there = found(beats, (60, 65))
    assert there is not None
    assert 62 < there.at_s < 65.5
    assert found(beats, (60, 65), pulse=0.9) is None
    assert found(beats, (60, 61.5)) is None
    assert found(beats, (5, 9)) is None


@pytest.mark.long
def test_two_rendered_songs_in_one_file_are_told_and_nothing_of_them_is_sure(recording: Path) -> None:
    samples = decoded(recording)
    slower = np.asarray(soxr.resample(samples, 0.84, 1, "HQ"), np.float32)
    draft = draft_of(hearing_of(raw_hearing(np.concatenate([samples[: 31 * RATE], slower]))))
    assert draft.has_second_song
    assert draft.doubts[0].startswith("one song? At 0:3")
    assert sure_parts(draft) == ()
