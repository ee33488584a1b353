"""A recording mapped by foot on a real port, and by the space bar in a real terminal."""

import math
import os
import pty
import struct
import subprocess
import sys
import threading
import time
import wave
from collections.abc import Sequence
from pathlib import Path

import pytest
from real.before import RIG, Before, tread
from real.jack import JackServer, JackTap

from companion.show import read_show

SHOW = (
    "show: Small hall\nsongs:\n  - title: Gasworks Corner   # the opener\n    tempo: 120\n    recording: corner.wav\n"
)
BAR_S = 2.0  # 4/4 at 120
FRAMES_A_SECOND = 8_000


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A show with one song, its recording of seven seconds, and a rig with pedals."""
    (tmp_path / "show.yaml").write_text(SHOW)
    (tmp_path / "rig.yaml").write_text(RIG)
    with wave.open(str(tmp_path / "corner.wav"), "wb") as file:
        file.setparams((1, 2, FRAMES_A_SECOND, 0, "NONE", ""))
        tone = (int(8_000 * math.sin(frame * 0.3)) for frame in range(FRAMES_A_SECOND * 7))
        file.writeframes(b"".join(struct.pack("<h", one) for one in tone))
    return tmp_path


def at_bars(begun: float, bars: Sequence[int]) -> None:
    """Wait until each of these bars begins, as one after the other is asked for."""
    time.sleep(max(0.0, begun + sum(bars) * BAR_S - time.monotonic()))


def test_a_foot_maps_a_song_on_a_real_port(
    jack: JackServer, foot_box: JackTap, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    words = ("listen", str(place / "show.yaml"), "--map", "gasworks", "--rig", str(place / "rig.yaml"))
    with Before(jack, place, *words, "--names", "Intro, Verse", "--yes", "--json") as program:
        jack.wait_for_connections("companion", 1)
        time.sleep(0.5)
        begun = time.monotonic()
        for bars in ((), (1,), (1, 2)):
            at_bars(begun, bars)
            tread(foot_box, 64)
        told = program.report()
    assert told["road_map"] == [
        {"section": "Intro", "bars": 1, "passes": 1},
        {"section": "Verse", "bars": 2, "passes": 1},
    ]
    assert told["written"]
    assert "# the opener" in (place / "show.yaml").read_text()


@pytest.mark.long
def test_the_space_bar_maps_a_song_and_the_change_is_confirmed(place: Path) -> None:
    ours, theirs = pty.openpty()
    home = {name: str(place / "home") for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")}
    program = subprocess.Popen(
        (sys.executable, "-m", "companion.cli", "listen", str(place / "show.yaml"), "--map", "gasworks"),
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, **home, "SDL_AUDIODRIVER": "dummy", "TERM": "xterm"},
    )
    os.close(theirs)
    said = bytearray()

    def read() -> None:
        try:
            while some := os.read(ours, 4096):
                said.extend(some)
        except OSError:  # the terminal has gone with the program
            return

    reader = threading.Thread(target=read, daemon=True)
    reader.start()

    def wait_for(words: bytes, seconds: float = 15) -> None:
        end = time.monotonic() + seconds
        while words not in said:
            assert time.monotonic() < end, said.decode(errors="replace")
            time.sleep(0.02)

    wait_for(b"once more from the top")
    time.sleep(0.8)
    begun = time.monotonic()
    for bars in ((), (1,), (1, 1)):
        at_bars(begun, bars)
        os.write(ours, b" ")
    wait_for(b"3 tapped")
    os.write(ours, b"q")
    wait_for(b"The sections, such as")
    os.write(ours, b"Intro, Verse\n")
    wait_for(b"Write this")
    os.write(ours, b"y\n")
    assert program.wait(15) == 0, said.decode(errors="replace")
    os.close(ours)
    (song,) = read_show(place / "show.yaml").show.sets[0].songs
    assert [(section.name, section.bars) for section in song.road_map] == [("Intro", 1), ("Verse", 1)]
    assert "+    road_map: Intro 1, Verse 1" in said.decode()
