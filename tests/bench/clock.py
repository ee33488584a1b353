"""Bench: the MIDI clock. How late each tick is, from the engine's own process beside its real screen.

    .venv/bin/python tests/bench/clock.py [--runs 3] [--seconds 20]

The floor is a C program that sleeps to absolute deadlines, in the same run under the same load. Without a compiler the
floor is the same in Python. The tick is stamped where it is handed to the driver: what a JACK period adds is JACK's.
"""

import argparse
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import Row, percentile, show
from real.jack import JackServer, JackTap
from real.program import Program
from real.window import Display

TEMPI = (120, 174)
TICKS_A_QUARTER = 24
NS = 1e9
RIG = "rig: bench\nkeyboards: {lower: {port: Prober, general_midi: true, clock: yes}}\n"
ENGINE = """
import os, signal, sys, threading
from pathlib import Path
from companion.night import starting
from companion.night.memory import StartOptions
from companion.clock import now_ns
from companion.ports.clock_out import TICK, ClockOut

late = []

class Stamped(ClockOut):
    def _send(self, message):
        if message == TICK:
            late.append(now_ns() - self.due_ns())
        super()._send(message)

starting.ClockOut = Stamped
threading.Timer(float(sys.argv[3]), os.kill, (os.getpid(), signal.SIGINT)).start()
show, rig = map(Path, sys.argv[1:3])
starting.play(show, rig_path=rig, screen=starting.ScreenMode.FULL, options=StartOptions(fresh=True), out=sys.stderr)
print("late", *map(round, late[len(late) // 5:]), flush=True)  # the first fifth is the start's own
"""
PLAIN = """
import sys, time
period, ticks = float(sys.argv[1]), int(sys.argv[2])
begun = time.perf_counter_ns()
for tick in range(1, ticks + 1):
    due = begun + tick * period
    time.sleep(max(0.0, (due - time.perf_counter_ns()) / 1e9))
    print(round(time.perf_counter_ns() - due))
"""


def floor_command(folder: Path) -> tuple[str, ...]:
    """Build the floor; plain Python if there is no compiler."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if compiler is None:
        return (sys.executable, "-c", PLAIN)
    built = folder / "clock_floor"
    subprocess.run((compiler, "-O2", "-o", built, Path(__file__).with_name("clock_floor.c")), check=True)
    return (str(built),)


def engine_late(folder: Path, bpm: int, seconds: float) -> list[float]:
    """Return how late each tick of the engine was, in ms, with its window open on a display."""
    song = f'show: bench\nsongs:\n  - {{title: One, tempo: {bpm}, road_map: "Intro 4, Verse 8"}}\n'
    (folder / "show.yaml").write_text(song)
    (folder / "rig.yaml").write_text(RIG)
    with JackServer() as server, JackTap(server, "Prober"), Display() as display:
        words = (sys.executable, "-c", ENGINE, str(folder / "show.yaml"), str(folder / "rig.yaml"), str(seconds))
        with Program(words, env={**server.env, **display.env, "XDG_DATA_HOME": str(folder)}) as program:
            number = program.wait_for(lambda line: line.startswith("late "), seconds + 30)
            return [int(late) / 1e6 for late in program.lines[number].split()[1:]]


def floor_late(command: tuple[str, ...], bpm: int, seconds: float) -> list[float]:
    """Return the same of the floor, beside nothing but what else the machine does."""
    period = 60 * NS / bpm / TICKS_A_QUARTER
    words = (*command, str(period), str(int(seconds * NS / period)))
    done = subprocess.run(words, check=True, capture_output=True, text=True)
    return [int(late) / 1e6 for late in done.stdout.split()]


def main() -> None:
    """Run it and print the table."""
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--runs", type=int, default=3)
    reader.add_argument("--seconds", type=float, default=20)
    asked = reader.parse_args()
    rows = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        command = floor_command(folder)
        for bpm in TEMPI:
            ours = [engine_late(folder, bpm, asked.seconds) for _ in range(asked.runs)]
            floors = [floor_late(command, bpm, asked.seconds) for _ in range(asked.runs)]
            rows += [
                Row(
                    f"{bpm} bpm, standard deviation",
                    "ms",
                    [statistics.pstdev(run) for run in ours],
                    [statistics.pstdev(run) for run in floors],
                    1.5,
                ),
                Row(f"{bpm} bpm, p99 late", "ms", [percentile(run, 0.99) for run in ours], goal=0.5),
                Row(f"{bpm} bpm, last tick late", "ms", [run[-1] for run in ours]),
            ]
    show("MIDI clock; the floor is a C program that sleeps to absolute deadlines", rows)


if __name__ == "__main__":
    main()
