"""Bench: the start. Process start to 'foot is answered', to the first picture, and ``companion --help``.

    .venv/bin/python tests/bench/start.py [--runs 3] [--each 5] [--songs 60]

A foot counts as answered when the first sound has reached the instrument's port and a press after it has been answered
there too. The first picture is the first look at the display's memory that shows what it will show at rest.
All of these are of a show that was played before; the first time after an edit, show and rig must be read as well.
The floors are the same Python doing nothing, and importing the two compiled modules that nobody can do without.
"""

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stage_under_test import COMPANION, SECTIONS, own_home, play, write_rig, write_show
from bench.stopwatch import ROOT, Row, show
from real.jack import JackServer, JackTap
from real.window import Display

from companion.night.read_before import FILE as READ_BEFORE

BARE = (sys.executable, "-c", "pass")
TWO_IMPORTS = (sys.executable, "-c", "import rtmidi, yaml")
HELP = (COMPANION, "--help")
MS = 1e6  # nanoseconds


def until_it_ends(command: tuple[str, ...], folder: Path) -> float:
    """Return the milliseconds from start to end of a command that does its work and ends."""
    begun = time.monotonic_ns()
    subprocess.run(command, check=True, capture_output=True, env=own_home(folder), cwd=ROOT)
    return (time.monotonic_ns() - begun) / MS


def until_the_foot_is_answered(folder: Path, show_file: Path, rig: Path, screen: Display | None) -> float:
    """Return the milliseconds from process start until a press is answered."""
    with JackServer() as server, JackTap(server, "Prober") as tap:
        begun = time.monotonic_ns()
        program = play(folder, show_file, rig, server, screen)
        while not (heard := tap.heard()):  # looked at often: a wait of ours must not count as the program's
            time.sleep(0.001)
            if time.monotonic_ns() - begun > 20_000 * MS:
                raise TimeoutError("no sound came: " + "\n".join(program.lines))
        sound_at = heard[0].at_ns
        answered_at = 0
        while not answered_at:
            pressed_at = tap.send(b"\xb0\x40\x7f")
            time.sleep(0.05)
            tap.send(b"\xb0\x40\x00")
            time.sleep(0.05)
            # The rig's pedal asks for silence, which is answered at any place of the show: on channel 1, damper up.
            answered_at = next((at for at, message in tap.heard() if message == b"\xb0\x40\x00" and at > sound_at), 0)
            if time.monotonic_ns() - begun > 20_000 * MS:
                raise TimeoutError("no press was answered: " + "\n".join(program.lines))
        assert answered_at > pressed_at or answered_at > sound_at
        program.end()
    return (answered_at - begun) / MS


def until_the_foot_is_answered_after_an_edit(folder: Path, show_file: Path, rig: Path, screen: Display) -> float:
    """Return the same where the show must be read, since it was never read before as it is now."""
    for kept in folder.rglob(READ_BEFORE):
        kept.unlink()
    return until_the_foot_is_answered(folder, show_file, rig, screen)


def until_the_first_picture(folder: Path, show_file: Path, rig: Path, screen: Display) -> float:
    """Return the milliseconds from process start until the display shows what it will show at rest."""
    width, height = screen.size
    memory = np.frombuffer(screen.framebuffer(), np.uint32).reshape(height, width)[::6, ::6]
    with JackServer() as server, JackTap(server, "Prober"):
        looks = [(0.0, memory.copy())]
        begun = time.monotonic_ns()
        program = play(folder, show_file, rig, server, screen)
        while len(looks) < 2 or (time.monotonic_ns() - begun) / MS < looks[-1][0] + 1500:
            if not np.array_equal(memory, looks[-1][1]):
                looks.append(((time.monotonic_ns() - begun) / MS, memory.copy()))
            if time.monotonic_ns() - begun > 20_000 * MS:
                break
            time.sleep(0.004)
        program.end()
    last = looks[-1][1]
    colours, counts = np.unique(last, return_counts=True)
    drawn = last != colours[counts.argmax()]  # all but the ground: text and marks
    return next(at for at, look in looks if at and (look == last)[drawn].mean() >= 0.9)


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--each", type=int, default=5, help="starts a run, of each kind; their median counts")
    parser.add_argument("--songs", type=int, default=60, help="songs in the show")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary, Display() as display:
        folder = Path(temporary)
        show_file = write_show(folder, asked.songs * len(SECTIONS))
        rig = write_rig(folder, "Prober", press="all off")
        measures: dict[str, Callable[[], float]] = {
            "bare": lambda: until_it_ends(BARE, folder),
            "imports": lambda: until_it_ends(TWO_IMPORTS, folder),
            "help": lambda: until_it_ends(HELP, folder),
            "foot": lambda: until_the_foot_is_answered(folder, show_file, rig, display),
            "foot alone": lambda: until_the_foot_is_answered(folder, show_file, rig, None),
            "edited": lambda: until_the_foot_is_answered_after_an_edit(folder, show_file, rig, display),
            "picture": lambda: until_the_first_picture(folder, show_file, rig, display),
        }
        figures: dict[str, list[float]] = {name: [] for name in measures}
        for measure in measures.values():
            measure()  # once for the files to be in memory
        for run in range(asked.runs):
            rounds = [{name: measure() for name, measure in measures.items()} for _ in range(asked.each)]
            for name, of_runs in figures.items():
                of_runs.append(statistics.median(one[name] for one in rounds))
            sys.stderr.write(
                f"run {run + 1}: " + ", ".join(f"{name} {of[-1]:.0f}" for name, of in figures.items()) + "\n"
            )
    show(
        f"Start, a show of {asked.songs} songs; the floor imports rtmidi and yaml, or does nothing",
        [
            Row("process start to foot is answered", "ms", figures["foot"], figures["imports"], 4),
            Row("the same without a screen", "ms", figures["foot alone"], figures["imports"]),
            Row("the same, with a screen, after an edit", "ms", figures["edited"], figures["imports"]),
            Row("process start to first picture", "ms", figures["picture"], figures["imports"], 8),
            Row("companion --help, beside bare Python", "ms", figures["help"], figures["bare"], 6),
        ],
    )


if __name__ == "__main__":
    main()
