"""The program as the benches run it: a show whose every step changes the sound, a rig, ports and a display."""

import sysconfig
from pathlib import Path

from real.jack import JackServer
from real.program import Program
from real.window import Display

COMPANION = str(Path(sysconfig.get_path("scripts")) / "companion")
SECTIONS = ("Intro", "Verse", "Pre-chorus", "Chorus", "Verse two", "Chorus two", "Solo", "Bridge", "Breakdown", "Outro")
SOUNDS = ("grand piano", "tonewheel organ")

RIG = """rig: Bench
keyboards:
  board: {{port: {port}, channel: 1, sounds: {{grand piano: 1, tonewheel organ: 17}}}}
pedals:
  right: {{port: {port}, channel: 1, control: 64, press: {press}}}
"""


def write_show(folder: Path, steps: int) -> Path:
    """Write a show of at least so many steps, each of which changes the sound; the songs follow without a break."""
    songs = -(-steps // len(SECTIONS)) + 1
    lines = ["show: Bench", "band: The Even Tempers", "sets:", "  - set: One", "    songs:"]
    for song in range(songs):
        lines += [
            f"      - title: Study {song + 1}",
            "        key: Bb",
            f"        tempo: {90 + song % 60}",
            "        meter: 4/4",
        ]
        lines += ["        road_map:"]
        for number, section in enumerate(SECTIONS):
            lines.append(
                f"          - {{section: {section}, bars: 8, sound: {SOUNDS[number % 2]}, chords: 1 | 5 | 6- | 4}}"
            )
        if song < songs - 1:
            lines.append(f"        segue: Study {song + 2}")
    path = folder / "bench-show.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def write_rig(folder: Path, port: str, press: str = "next") -> Path:
    """Write a rig whose keyboard and pedal are both behind the port of this name."""
    path = folder / "bench-rig.yaml"
    path.write_text(RIG.format(port=port, press=press), encoding="utf-8")
    return path


def play(folder: Path, show: Path, rig: Path, server: JackServer, display: Display | None) -> Program:
    """Start ``companion play`` as a player does, with what it keeps for the user in a folder of its own."""
    screen = "none" if display is None else "full"
    command = (COMPANION, "play", str(show), "--rig", str(rig), "--screen", screen, "--fresh")
    return Program(command, env={**own_home(folder), **server.env, **(display.env if display else {})})


def own_home(folder: Path) -> dict[str, str]:
    """Return an environment in which the program finds and leaves nothing of the user's, and is compiled once only."""
    return {
        "PYTHONDONTWRITEBYTECODE": "",  # if it is set, each start would compile all of the program again
        "HOME": str(folder),
        "XDG_CONFIG_HOME": str(folder / "config"),
        "XDG_DATA_HOME": str(folder / "data"),
        "XDG_STATE_HOME": str(folder / "state"),
        "XDG_CACHE_HOME": str(folder / "cache"),
        "XDG_RUNTIME_DIR": str(folder),
    }
