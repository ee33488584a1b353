"""The real program on a show of a few lines and a rig of a few, and a foot on its pedals."""

import sys
import time
from collections.abc import Callable
from pathlib import Path

from real.jack import JackServer, JackTap
from real.program import Program

Play = Callable[[str, str], Program]
"""Starts the program on a show's songs and a rig."""

DOWN_S = 0.04  # faster edges count as bounce (30 ms)
UP_S = 0.1  # until the next press: the loop may hear the release 30 ms late, and would take that press for a bounce


def play(jack: JackServer, folder: Path, songs: str, rig: str) -> Program:
    """Start it on these songs and this rig, without a screen; what it remembers lies in the folder."""
    (folder / "show.yaml").write_text(f"show: Weighhouse\nsongs:\n{songs}", encoding="utf-8")
    (folder / "rig.yaml").write_text(f"rig: Outside\n{rig}", encoding="utf-8")
    words = ("play", str(folder / "show.yaml"), "--rig", str(folder / "rig.yaml"), "--screen", "none")
    home = {name: str(folder / "home") for name in ("HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME")}
    return Program((sys.executable, "-m", "companion.cli", *words), env={**jack.env, **home})


def press(box: JackTap, control: int) -> None:
    """Press a pedal as a foot does."""
    for value, pause_s in ((127, DOWN_S), (0, UP_S)):
        box.send(bytes((0xB0, control, value)))
        time.sleep(pause_s)
