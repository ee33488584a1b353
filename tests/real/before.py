"""The commands before the doors as real programs: lines on their standard input are keys."""

import json
import subprocess
import sys
import time
from pathlib import Path
from typing import Any, Protocol

from real.jack import JackServer
from real.program import Program

SHOW = """
show: Small hall
songs:
  - title: Gasworks Corner
    road_map: Intro 4 @grand piano, Verse 8 @organ, Solo 8* @lead
"""
RIG = """\
rig: One synth   # hired
keyboards:
  lower:
    port: Synth
    channel: 1
    sounds:
      grand piano: 1             # the good one
      organ: {program: 17, controls: {volume: 100}}   # loud
      lead: {program: 82, bank: [0, 0]}
# feet
pedals:
  right: {port: Foot Box, channel: 1, control: 64, press: next}
  left: {port: Foot Box, channel: 1, control: 67, press: back}   # the soft one
"""


class CanSend(Protocol):
    """Whatever a foot can press."""

    def send(self, message: bytes) -> object:
        """Send one message."""


class Before(Program):
    """One of the commands before the doors; a line on its standard input is a key."""

    def __init__(self, jack: JackServer, folder: Path, *words: str, stdin: int = subprocess.PIPE) -> None:
        home = {name: str(folder / "home") for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")}
        super().__init__(
            (sys.executable, "-m", "companion.cli", *words),
            env={**jack.env, **home, "PYTHONIOENCODING": "utf-8"},
            stdin=stdin,
        )
        self._read_to = 0

    def hears(self, words: str, seconds: float = 20) -> str:
        """Wait until it says these words, after what it said last; the line."""
        line = self.wait_for(lambda line: words in line, seconds, after=self._read_to)
        self._read_to = line + 1
        return self.lines[line]

    def key(self, *names: str) -> None:
        for name in names:
            self.tell("" if name == "enter" else name)

    def report(self) -> Any:  # noqa: ANN401 - whatever the JSON says
        """Wait for its end; the JSON that it ended with."""
        assert self.wait(20) is not None, "\n".join(self.lines)
        self.end()
        return json.loads("\n".join(self.lines[self.lines.index("{") :]))


def laid_out(folder: Path) -> Path:
    """Lay a show and its rig out in a folder."""
    (folder / "show.yaml").write_text(SHOW)
    (folder / "rig.yaml").write_text(RIG)
    return folder


def words(place: Path, command: str, *more: str) -> tuple[str, ...]:
    show = () if command in ("ports", "pedals") else (str(place / "show.yaml"),)
    return (command, *show, "--rig", str(place / "rig.yaml"), *more)


def tread(box: CanSend, control: int, *, channel: int = 1) -> None:
    """Press a pedal as a foot does: down, a moment, up, a moment."""
    for value in (127, 0):
        box.send(bytes((0xAF + channel, control, value)))
        time.sleep(0.06)
