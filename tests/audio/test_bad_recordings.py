"""Recordings as strangers send them: nothing breaks, each is refused in plain words, and the next song is heard."""

import contextlib
import json
import os
import resource
import signal
import subprocess
import sys
import wave
from pathlib import Path

import av
import numpy as np
import psutil
import pytest
from examples import seldom

from companion.audio.decoding import NotHeard, decoded
from companion.audio.heard_frames import RawHearing
from companion.audio.hearing import hearing_of, raw_hearing
from companion.audio.kept_hearings import keep
from companion.audio.protection import ASF, ASF_LOCKED
from companion.audio.show_hearing import hear_songs
from companion.child import python
from companion.errors import CompanionError
from companion.show import Song

RATE = 22_050


def wav(path: Path, seconds: float, rate: int = RATE, channels: int = 1) -> Path:
    """Write a tone; silence if the path says so."""
    loud = 0.0 if "silent" in path.name else 0.3
    tone = (loud * 32767 * np.sin(2 * np.pi * 220 * np.arange(round(seconds * rate)) / rate)).astype("<i2")
    with wave.open(str(path), "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(np.repeat(tone, channels).tobytes())
    return path


def video(path: Path, *, sound: bool) -> Path:
    """Write twelve seconds of a film, with or without sound."""
    with av.open(str(path), "w") as container:
        picture = container.add_stream("mpeg4", rate=5)
        picture.width, picture.height, picture.pix_fmt = 64, 48, "yuv420p"
        stream = container.add_stream("aac", rate=RATE) if sound else None
        for number in range(60):
            frame = av.VideoFrame.from_ndarray(np.full((48, 64, 3), number, np.uint8), format="rgb24")
            container.mux(picture.encode(frame))
        container.mux(picture.encode(None))
        if stream is not None:
            tone = (0.3 * np.sin(2 * np.pi * 220 * np.arange(12 * RATE) / RATE)).astype(np.float32)
            for start in range(0, len(tone), 1024):
                piece = av.AudioFrame.from_ndarray(tone[None, start : start + 1024], format="fltp", layout="mono")
                piece.sample_rate, piece.pts = RATE, start
                container.mux(stream.encode(piece))
            container.mux(stream.encode(None))
    return path


def test_the_sound_of_a_film_is_heard(tmp_path: Path) -> None:
    assert len(decoded(video(tmp_path / "clip.mp4", sound=True))) / 22_050 == pytest.approx(12, abs=0.3)


def test_a_film_without_sound_says_so(tmp_path: Path) -> None:
    with pytest.raises(NotHeard, match="no sound"):
        decoded(video(tmp_path / "mute.mp4", sound=False))


def sparse_wav(path: Path, seconds: int) -> Path:
    """Write silence as a sparse file, which takes no room on the disk."""
    wav(path, 1, 8_000)
    frames = seconds * 8_000
    with path.open("r+b") as file:
        file.seek(4)
        file.write((36 + 2 * frames).to_bytes(4, "little"))
        file.seek(40)
        file.write((2 * frames).to_bytes(4, "little"))
        file.truncate(44 + 2 * frames)
    return path


def test_a_recording_that_is_too_long_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("companion.audio.decoding.LONGEST_S", 60)
    with pytest.raises(NotHeard, match="longer than 1 minutes: cut out the one song"):
        decoded(sparse_wav(tmp_path / "long.wav", 120))


@pytest.mark.long
def test_a_recording_of_a_whole_night_is_refused_before_it_fills_the_memory(tmp_path: Path) -> None:
    """Three hours of silence, not read to its end."""
    path = sparse_wav(tmp_path / "night.wav", 3 * 3600)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(NotHeard, match="longer than 20 minutes: cut out the one song"):
        decoded(path)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 400 * 1024  # KiB; 20 minutes are 106 MB


@pytest.mark.parametrize("entry", [b"enca", seldom(b"drms")])
def test_a_protected_recording_is_named_as_such(tmp_path: Path, entry: bytes) -> None:
    """ISO/IEC 14496-12, 8.12: the sample entry of an encrypted sound track is not that of its codec."""
    path = video(tmp_path / "bought.mp4", sound=True)
    content = path.read_bytes()
    assert b"mp4a" in content
    path.write_bytes(content.replace(b"mp4a", entry))
    with pytest.raises(NotHeard, match="protected: only the shop's own player can play it"):
        decoded(path)
    (tmp_path / "old.wma").write_bytes(ASF + bytes(14) + ASF_LOCKED + bytes(500))
    with pytest.raises(NotHeard, match="protected"):
        decoded(tmp_path / "old.wma")


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.mp3", b"ID3\x04\x00\x00\x7f\x7f\x7f\x7f" + b"\0" * 64),  # tags said to be 256 MiB long
        ("b.m4a", b"\0\0\0\x01ftyp\xff\xff\xff\xff\xff\xff\xff\xff" * 8),  # boxes of 16 EiB
        ("c.ogg", b"OggS" + b"\xff" * 400),
        ("d.flac", b"fLaC\x80\xff\xff\xff" + b"\xff" * 64),
        ("e.m3u8", b"#EXTM3U\n#EXTINF:10,\nhttp://127.0.0.1:9/never.ts\n#EXT-X-ENDLIST\n"),
        ("f.mp3", b"ffconcat version 1.0\nfile /etc/passwd\n"),
        ("g.sdp", b"v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=audio 9 RTP/AVP 0\n"),
    ],
)
def test_hostile_containers_are_refused(tmp_path: Path, name: str, content: bytes) -> None:
    """Lengths that lie, and files that send the reader elsewhere: to the network, to another file."""
    (tmp_path / name).write_bytes(content)
    with pytest.raises(NotHeard):
        decoded(tmp_path / name)


@pytest.mark.long
@pytest.mark.parametrize(("rate", "channels"), [(8_000, 1), (192_000, 2)])
def test_odd_rates_are_heard(tmp_path: Path, rate: int, channels: int) -> None:
    assert hearing_of(raw_hearing(decoded(wav(tmp_path / "odd.wav", 11, rate, channels)))).seconds == pytest.approx(
        11, abs=0.1
    )


@pytest.mark.long
def test_one_bad_recording_does_not_stop_the_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    wav(tmp_path / "silent.wav", 12)
    wav(tmp_path / "short.wav", 2)
    (tmp_path / "empty.mp3").write_bytes(b"")
    (tmp_path / "folder.mp3").mkdir()
    wav(tmp_path / "good.wav", 11)
    songs = [Song(name, recording=name) for name in ("silent.wav", "short.wav", "empty.mp3", "folder.mp3", "good.wav")]
    *bad, good = hear_songs(songs, tmp_path)
    assert all(one.problem and one.draft is None for one in bad)
    assert good.draft is not None


@pytest.mark.long
def test_a_recording_that_vanishes_while_it_is_heard_is_a_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    path = wav(tmp_path / "going.wav", 12)

    def vanish(_song: Song, _stage: str) -> None:
        path.unlink(missing_ok=True)

    (told,) = hear_songs([Song("Going", recording="going.wav")], tmp_path, vanish)
    assert told.draft is not None or "not there" in told.problem or "cannot be" in told.problem


@pytest.mark.long
def test_on_a_full_disk_no_half_result_is_left(noise: RawHearing, tmp_path: Path) -> None:
    """A limit on a file's size stops the writing half way, as a full disk does (setrlimit(2))."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (8_192, hard))
    try:
        with pytest.raises((OSError, CompanionError)):
            keep(noise, tmp_path / "song.npz")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.long
def test_a_full_disk_is_told_and_leaves_no_half_result(tmp_path: Path) -> None:
    """A limit on a file's size stops the writing half way, as a full disk does (setrlimit(2))."""
    path, kept_at = wav(tmp_path / "song.wav", 12), tmp_path / "heard" / "song.npz"
    shell = f"ulimit -f 8; exec {' '.join(python('companion.audio', str(path), str(kept_at)))}"
    said = subprocess.run(["/bin/bash", "-c", shell], capture_output=True, text=True, check=False)
    *_, last = [json.loads(line) for line in said.stdout.splitlines()]
    assert "cannot keep the result" in last["problem"]
    assert not kept_at.exists()


KILLED_WHILE_IT_HEARS = """
import os, pathlib, signal, sys, psutil
from companion.audio.show_hearing import hear_songs
from companion.show import Song

def stage(song, name):
    if name == "chords":  # the last one: a child that writes no more would not notice
        print(psutil.Process().children()[0].pid, flush=True)
        os.kill(os.getpid(), signal.SIGKILL)

list(hear_songs([Song("Lanterns", recording="tone.wav")], pathlib.Path(sys.argv[1]), stage))
"""


def test_the_listening_process_ends_when_the_one_that_started_it_is_killed(tmp_path: Path) -> None:
    wav(tmp_path / "tone.wav", 12, 8_000)
    cache = tmp_path / "cache"
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache)}
    command = [sys.executable, "-P", "-c", KILLED_WHILE_IT_HEARS, str(tmp_path)]
    said = subprocess.run(command, capture_output=True, text=True, check=False, env=environment)
    assert said.returncode == -signal.SIGKILL
    with contextlib.suppress(psutil.NoSuchProcess):
        psutil.Process(int(said.stdout)).wait(60)
    assert list(cache.rglob("*.npz")) == []


def test_the_listening_process_has_limits() -> None:
    code = "import resource, companion.audio.__main__ as m; m.limit_this_process(m.MAX_MEMORY, m.MAX_CPU_S)"
    code += "; print(resource.getrlimit(resource.RLIMIT_AS)[0], resource.getrlimit(resource.RLIMIT_CPU)[0])"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=os.environ)
    memory, seconds = (int(one) for one in said.stdout.split())
    assert 0 < memory <= 3 << 30
    assert 0 < seconds <= 600
