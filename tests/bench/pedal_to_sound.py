"""Bench: from the pedal to the sound. CC 64 in, program change out, on real JACK ports, beside a floor in the same run.

    .venv/bin/python tests/bench/pedal_to_sound.py [--presses 500] [--runs 3] [--screen none]

The program is the real one with its real window on a display without a monitor, playing a show whose every step
changes the sound. The floor is a C++ program that answers from RtMidi's callback (plain python-rtmidi if there is no
compiler). A prober, in a separate process, presses at irregular times and waits for each answer; floor and program take
turns. Never judge by the maximum: an idle C program has maxima of 2 to 6 ms here too.

Whether an answer still goes out in the JACK period in which the press came in, or in the next, is a race between two of
JACK's threads that comes out differently from start to start, for the floor as for the program: it moves p50 by up to a
period. So a run is made of several starts of each side, and its percentiles are those of all their presses together.
"""

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stage_under_test import play, write_rig, write_show
from bench.stopwatch import Row, percentile, show
from real.jack import JackServer
from real.program import Program
from real.window import Display

Start = Callable[[JackServer], Program]  # starts one side on a server
HERE = Path(__file__).resolve().parent
WARM_UP = 20  # presses before the count begins: the first finds caches cold, and the one that begins a song is silent


def built(name: str, folder: Path) -> tuple[str, ...]:
    """Return the command of the C++ program of this name, built now; of the Python one if it cannot be built."""
    source, target = HERE / f"{name}.cpp", folder / name
    if shutil.which("g++"):
        made = subprocess.run(
            ("g++", "-std=c++17", "-O2", "-I/usr/include/rtmidi", str(source), "-o", str(target), "-lrtmidi"),
            capture_output=True,
            text=True,
            check=False,
        )
        if made.returncode == 0:
            return (str(target),)
        sys.stderr.write(f"{name}.cpp cannot be built here, Python takes its place:\n{made.stderr[:400]}\n")
    return (sys.executable, str(HERE / "without_compiler.py"), name)


class Answers(NamedTuple):
    """What the prober heard: the milliseconds of each answer, presses lost, answers that no press asked for."""

    heard_ms: list[float]
    lost: int
    extra: int


def together(parts: Sequence[Answers]) -> Answers:
    """Return the answers of several starts as one."""
    return Answers(
        [ms for part in parts for ms in part.heard_ms],
        sum(part.lost for part in parts),
        sum(part.extra for part in parts),
    )


def one_start(start: Start, prober_command: tuple[str, ...], presses: int, seed: int, **kind: bool) -> Answers:
    """Press on one side. The JACK server is a new one, since it limps on after a client that was ended from outside."""
    with JackServer(**kind) as server:
        prober = Program((*prober_command, "Prober"), env=server.env)
        prober.wait_for(lambda line: line == "ready")
        tested = start(server)
        server.wait_for_connections("Prober", 2)
        time.sleep(2.5)  # in its first second a port only sets state; and the screen must have come
        ask(prober, WARM_UP, seed=1000)
        answers = ask(prober, presses, seed)
        tested.hang_up(seconds=0.5)
        prober.hang_up()
    return answers


def ask(prober: Program, presses: int, seed: int) -> Answers:
    """Have it press so often."""
    before = len(prober.lines)
    prober.tell(f"{presses} {seed}")
    end = prober.wait_for(lambda line: line.startswith("extra"), seconds=presses * 0.2 + 30, after=before)
    answers = [line for line in prober.lines[before:end] if line]
    heard = [float(line) / 1000 for line in answers if line != "lost"]
    return Answers(heard, len(answers) - len(heard), int(prober.lines[end].split()[1]))


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--presses", type=int, default=500, help="presses a run, on each side (10000: the long one)")
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--real-time", action="store_true", help="JACK with real-time rights, as on a player's machine")
    parser.add_argument("--waits", action="store_true", help="JACK waits for late clients, so that it loses nothing")
    parser.add_argument("--starts", type=int, default=4, help="starts of each side in a run; they share its presses")
    parser.add_argument("--screen", choices=("full", "none"), default="full")
    asked = parser.parse_args()
    kind = {"real_time": asked.real_time, "waits": asked.waits}
    presses = -(-asked.presses // asked.starts)  # of one start
    sides: dict[str, list[Answers]] = {"program": [], "floor": []}
    with tempfile.TemporaryDirectory() as temporary, Display() as display:
        folder = Path(temporary)
        show_file = write_show(folder, asked.presses + WARM_UP + 1)
        rig = write_rig(folder, "Prober")
        floor, prober = built("floor", folder), built("prober", folder)

        def start_floor(server: JackServer) -> Program:
            tested = Program((*floor, "Floor"), env=server.env)
            tested.wait_for(lambda line: line == "ready")
            connect(server, "Floor")
            return tested

        def start_program(server: JackServer) -> Program:
            return play(folder, show_file, rig, server, display if asked.screen == "full" else None)

        for run in range(asked.runs):
            parts: dict[str, list[Answers]] = {"program": [], "floor": []}
            for seed in range(asked.starts):
                for side, start in (("program", start_program), ("floor", start_floor)):
                    parts[side].append(one_start(start, prober, presses, seed, **kind))
            for side, of_side in parts.items():
                answers = together(of_side)
                sides[side].append(answers)
                sys.stderr.write(
                    f"run {run + 1} {side}: p50 {percentile(answers.heard_ms, 0.5):.2f}"
                    f" p99 {percentile(answers.heard_ms, 0.99):.2f} max {percentile(answers.heard_ms, 1):.2f} ms,"
                    f" {answers.lost} lost, {answers.extra} extra\n"
                )
    program, bare = sides["program"], sides["floor"]
    rights = (", JACK in real time" if asked.real_time else "") + (", JACK waits" if asked.waits else "")
    language = "C++" if floor[0] != sys.executable else "python-rtmidi"
    show(
        f"Pedal to sound, {asked.presses} presses a run, screen: {asked.screen}, floor: {language}{rights}",
        [
            Row(
                f"{name} of press to program change",
                "ms",
                [percentile(run.heard_ms, share) for run in program],
                [percentile(run.heard_ms, share) for run in bare],
                goal,
            )
            for name, share, goal in (("p50", 0.5, 1.05), ("p99", 0.99, 1.15))
        ]
        + [
            Row("lost presses, in all runs", "", [sum(run.lost for run in program)], (), 0),
            Row("lost presses of the floor (if any: run again)", "", [sum(run.lost for run in bare)]),
            Row("answers that no press asked for", "", [sum(run.extra for run in program)], (), 0),
        ],
    )


def connect(server: JackServer, name: str) -> None:
    """Connect prober and floor both ways."""
    ports = [port for port in server.ports() if "system" not in port]
    for source, target in (("Prober", name), (name, "Prober")):
        out = next(port for port in ports if port.startswith(source) and port.endswith(":out"))
        into = next(port for port in ports if port.startswith(target) and port.endswith(":in"))
        server.connect(out, into)


if __name__ == "__main__":
    main()
