"""Recordings as they come: decoded if they can be, refused in plain words where not; heard once, then kept."""

import wave
from pathlib import Path

import numpy as np
import pytest
from examples import seldom
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.decoding import NotHeard, decoded
from companion.audio.heard_frames import RawHearing
from companion.audio.hearing import hearing_of
from companion.audio.kept_hearings import keep, kept, sound_hash


def tone(seconds: float, rate: int) -> NDArray[np.float32]:
    return (0.5 * np.sin(2 * np.pi * 440 * np.arange(round(seconds * rate)) / rate)).astype(np.float32)


def wav(path: Path, samples: NDArray[np.float32], rate: int, channels: int = 1) -> Path:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(np.repeat((samples * 32767).astype("<i2"), channels).tobytes())
    return path


@pytest.mark.parametrize(("rate", "channels"), [(8_000, 1), (44_100, 2), seldom(192_000, 1)])
def test_any_rate_and_any_number_of_channels_becomes_mono_at_one_rate(tmp_path: Path, rate: int, channels: int) -> None:
    samples = decoded(wav(tmp_path / "a.wav", tone(12, rate), rate, channels))
    assert abs(len(samples) / RATE - 12) < 0.05
    spectrum = np.abs(np.fft.rfft(samples[: RATE * 8]))
    assert abs(int(spectrum.argmax()) / 8 - 440) < 1


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("a.mp3", b"not music at all, only words. " * 400, "not a readable recording"),
        ("b.wav", b"", "not a readable recording"),
        ("c.wav", b"RIFF\xff\xff\xff\xffWAVEfmt ", "not a readable recording"),
    ],
)
def test_a_file_that_is_not_a_recording_is_refused(tmp_path: Path, name: str, content: bytes, says: str) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(NotHeard, match=says):
        decoded(tmp_path / name)


def test_short_silent_and_missing_recordings_are_refused(tmp_path: Path) -> None:
    with pytest.raises(NotHeard, match="shorter than 10 seconds"):
        decoded(wav(tmp_path / "short.wav", tone(3, 22_050), 22_050))
    with pytest.raises(NotHeard, match="silent"):
        decoded(wav(tmp_path / "silent.wav", 0 * tone(12, 22_050), 22_050))
    with pytest.raises(NotHeard, match="not there"):
        decoded(tmp_path / "gone.wav")


def test_a_truncated_recording_is_heard_as_far_as_it_goes(tmp_path: Path) -> None:
    path = wav(tmp_path / "cut.wav", tone(30, 22_050), 22_050)
    path.write_bytes(path.read_bytes()[: 22_050 * 2 * 20])
    assert 19 < len(decoded(path)) / RATE < 20.5


def test_results_are_cached_and_read_back(noise: RawHearing, tmp_path: Path) -> None:
    path = tmp_path / "heard" / "one.npz"
    keep(noise, path)
    again = kept(path)
    assert again is not None
    assert np.allclose(again.chords.triads, noise.chords.triads, atol=1e-3)
    assert (round(again.seconds, 3), round(again.cents, 3)) == (round(noise.seconds, 3), round(noise.cents, 3))
    assert [one.name for one in path.parent.iterdir()] == ["one.npz"]


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 half", b"\x93NUMPY nothing"])
def test_a_damaged_cache_is_replaced(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "one.npz"
    path.write_bytes(content)
    assert kept(path) is None
    assert kept(tmp_path / "none.npz") is None


def test_the_cache_depends_on_the_sound_and_not_on_the_name(tmp_path: Path) -> None:
    one, other = tmp_path / "a.mp3", tmp_path / "b.mp3"
    one.write_bytes(b"same")
    other.write_bytes(b"same")
    assert sound_hash(one) == sound_hash(other)
    other.write_bytes(b"other")
    assert sound_hash(one) != sound_hash(other)


def test_noise_gives_a_result_and_no_error(noise: RawHearing) -> None:
    heard = hearing_of(noise)
    assert heard.seconds == pytest.approx(11, abs=0.1)
    assert sum(one.bars for one in heard.sections) == max(0, len(heard.bar_s) - 1)
