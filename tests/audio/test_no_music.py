"""What has no chords is not heard as a song: speech, noise, drums alone, a voice alone."""

import shutil
from pathlib import Path

import numpy as np
import pytest
import soxr
from audio.invented_songs import BASS, DRUMS, GUITAR, KEYS, LEAD, PAD, Call, InventedSong, Part
from audio.rendered_songs import found_fonts, render, scored
from examples import seldom
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.heard_draft import draft_of
from companion.audio.heard_frames import RawHearing
from companion.audio.hearing import hearing_of, raw_hearing
from companion.audio.landing import sure_parts

SECONDS = 14
FORMANTS_HZ = ((300, 800), (900, 2300), (2500, 2700))


def spoken() -> NDArray[np.float32]:
    """Return syllables like speech: a gliding voice through three formants, or a hiss, with pauses."""
    dice = np.random.default_rng(5)
    sound = 0.001 * dice.standard_normal(SECONDS * RATE)
    at = RATE // 3
    while at < len(sound) - RATE // 2:
        long = int(dice.uniform(0.09, 0.28) * RATE)
        pitch = dice.uniform(95, 150) * np.exp(np.linspace(0, dice.uniform(-0.2, 0.15), long))
        formants = [dice.uniform(*span) for span in FORMANTS_HZ]
        voice = np.zeros(long)
        for harmonic in range(1, 30):
            loud = sum(1 / (1 + ((harmonic * pitch[0] - formant) / 90) ** 2) for formant in formants)
            voice += loud * np.sin(2 * np.pi * harmonic * np.cumsum(pitch) / RATE)
        if dice.random() < 0.3:
            voice = dice.standard_normal(long)
        sound[at : at + long] += 0.4 * np.hanning(long) * voice / float(np.abs(voice).max())
        at += long + int(dice.choice((0.02, 0.05, 0.4)) * RATE)
    return sound.astype(np.float32)


def alone_in_a_band(channel: int, folder: Path, monkeypatch: pytest.MonkeyPatch) -> NDArray[np.float32]:
    """Return a song of which only the drums are heard, or only the voice that sings the lead."""
    fonts = tuple(found_fonts())
    if shutil.which("fluidsynth") is None or not fonts:
        pytest.skip("no FluidSynth or no sound font on this computer")
    bars = tuple((Call(root, "maj", 4),) for root in (7, 0, 2, 7, 7, 0, 2, 7))
    song = InventedSong(1, "4/4", 118.0, 7, False, (Part("A", bars, 0.8),), fonts[0], False)
    song.programs = {KEYS: 0, BASS: 33, GUITAR: 27, PAD: 49, LEAD: 53}

    def alone(song: InventedSong) -> object:
        score = scored(song)
        score.timed = [one for one in score.timed if one[2].channel == channel]
        return score

    monkeypatch.setattr("audio.rendered_songs.scored", alone)
    samples, rate = render(song, folder)
    return np.asarray(soxr.resample(samples, rate, RATE, "HQ"), np.float32)


@pytest.mark.parametrize("what", ["noise", seldom("speech"), seldom("drums alone")])
def test_without_chords_nothing_is_claimed_and_the_draft_says_so(
    what: str, noise: RawHearing, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    match what:
        case "speech":
            raw = raw_hearing(spoken())
        case "noise":
            raw = noise
        case _:
            raw = raw_hearing(alone_in_a_band(DRUMS, tmp_path, monkeypatch))
    draft = draft_of(hearing_of(raw))
    assert (draft.record_key, draft.tempo_bpm, draft.meter, draft.sections) == (None, None, None, ())
    assert draft.doubts == ("no chords heard: is this speech, drums alone, voices alone, or noise?",)


@pytest.mark.long
def test_a_voice_that_sings_through_the_chords_alone_is_sure_of_its_key_at_most(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draft = draft_of(hearing_of(raw_hearing(alone_in_a_band(LEAD, tmp_path, monkeypatch))))
    assert draft.doubts[0].startswith(("chords: hardly any are clear", "no chords heard"))
    assert set(sure_parts(draft)) <= {"key"}
