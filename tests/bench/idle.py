"""Bench: what the program costs at rest on stage. Processor time and memory of engine and screen over a minute.

    .venv/bin/python tests/bench/idle.py [--runs 3] [--seconds 60]

The floor is two bare programs: one that opens the same two ports and listens, one that opens the same window, draws it
once and waits. Memory is the proportional set size, in which a page that two processes share counts half for each.
Linux only, since it reads /proc.
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stage_under_test import play, write_rig, write_show
from bench.stopwatch import Row, show
from real.jack import JackServer, JackTap
from real.program import Program
from real.window import Display

BARE_PORTS = """
import sys, rtmidi
ear = rtmidi.MidiIn(rtapi=rtmidi.API_UNIX_JACK, name="bare")
mouth = rtmidi.MidiOut(rtapi=rtmidi.API_UNIX_JACK, name="bare")
ear.set_callback(lambda event, _: None)
ear.open_port(next(i for i, name in enumerate(ear.get_ports()) if "Prober" in name))
mouth.open_port(next(i for i, name in enumerate(mouth.get_ports()) if "Prober" in name))
print("up", flush=True)
sys.stdin.read()
"""
BARE_WINDOW = """
import os
os.environ["SDL_FRAMEBUFFER_ACCELERATION"] = "0"  # as the program does: software GL alone would take 75 MiB
import pygame
pygame.display.init()
window = pygame.display.set_mode((1920, 1080), pygame.FULLSCREEN)
window.fill("navy")
pygame.display.flip()
print("up", flush=True)
while pygame.event.wait().type != pygame.QUIT:
    pass
"""
TICKS_A_SECOND = os.sysconf("SC_CLK_TCK")


class Cost(NamedTuple):
    """Of one process or several: share of one core (0..1) and proportional memory in MiB."""

    core: float
    memory_mib: float


def family(pid: int) -> list[int]:
    """Return a process and all that it has started, and what these have."""
    children = Path(f"/proc/{pid}/task/{pid}/children")
    threads = [path / "children" for path in children.parent.parent.iterdir()]
    return [pid, *(one for path in threads for child in path.read_text().split() for one in family(int(child)))]


def draws(pid: int) -> bool:
    """Return whether a process has loaded what opens windows."""
    return "libSDL2" in Path(f"/proc/{pid}/maps").read_text()


def cpu_ticks(pid: int) -> int:
    """Return the ticks that all threads of a process have run, in user and system time."""
    after_name = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return int(after_name[11]) + int(after_name[12])


def memory_mib(pid: int) -> float:
    """Return the proportional set size."""
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
        if line.startswith("Pss:"):
            return int(line.split()[1]) / 1024
    raise ValueError(f"no proportional set size of {pid}")


def cost(groups: dict[str, list[int]], seconds: float) -> dict[str, Cost]:
    """Return what each group of processes costs from now for so long."""
    before = {name: sum(map(cpu_ticks, pids)) for name, pids in groups.items()}
    begun = time.monotonic()
    time.sleep(seconds)
    passed = time.monotonic() - begun
    return {
        name: Cost((sum(map(cpu_ticks, pids)) - before[name]) / TICKS_A_SECOND / passed, sum(map(memory_mib, pids)))
        for name, pids in groups.items()
    }


def of_the_program(folder: Path, display: Display, seconds: float, presses: int) -> dict[str, Cost]:
    """Measure the real program, up next or, after two presses, while a song is played."""
    with JackServer() as server, JackTap(server, "Prober") as tap:
        program = play(folder, write_show(folder, 600), write_rig(folder, "Prober"), server, display)
        server.wait_for_connections("Prober", 2)
        time.sleep(4)
        for _ in range(presses):
            tap.send(b"\xb0\x40\x7f")
            time.sleep(0.1)
            tap.send(b"\xb0\x40\x00")
            time.sleep(0.1)
        time.sleep(1)
        pids = family(program.process.pid)
        screen = [pid for pid in pids if draws(pid)]
        if not screen:
            raise RuntimeError("no window has come: there is nothing to measure")
        costs = cost({"engine": [pid for pid in pids if pid not in screen], "screen": screen}, seconds)
        program.end()
    return costs


def of_the_bare_pair(display: Display, seconds: float) -> dict[str, Cost]:
    """Measure the two bare programs side by side."""
    with JackServer() as server, JackTap(server, "Prober"):
        ports = Program((sys.executable, "-c", BARE_PORTS), env=server.env)
        window = Program((sys.executable, "-W", "ignore", "-c", BARE_WINDOW), env=display.env)
        for program in (ports, window):
            program.wait_for(lambda line: line == "up")
        time.sleep(4)
        costs = cost({"engine": [ports.process.pid], "screen": [window.process.pid]}, seconds)
        ports.hang_up()
        window.end()
    return costs


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--seconds", type=float, default=60)
    asked = parser.parse_args()
    rest, playing, bare = [], [], []
    with tempfile.TemporaryDirectory() as temporary, Display() as display:
        for run in range(asked.runs):
            rest.append(of_the_program(Path(temporary), display, asked.seconds, presses=0))
            playing.append(of_the_program(Path(temporary), display, asked.seconds, presses=2))
            bare.append(of_the_bare_pair(display, asked.seconds))
            sys.stderr.write(f"run {run + 1}: rest {rest[-1]}, playing {playing[-1]}, bare {bare[-1]}\n")

    def percent(costs: list[dict[str, Cost]], part: str) -> list[float]:
        return [100 * one[part].core for one in costs]

    def together(costs: list[dict[str, Cost]]) -> list[float]:
        return [sum(part.memory_mib for part in one.values()) for one in costs]

    # JACK wakes each client in each period, so that bare ports alone may cost more than the goal.
    added = [ours - ports for ours, ports in zip(percent(playing, "engine"), percent(bare, "engine"), strict=True)]
    show(
        f"At rest, {asked.seconds:.0f} s; percent of one core (the goal is of the figure), MiB of both together",
        [
            Row("engine, a song up next", "%", percent(rest, "engine"), goal=1),
            Row("engine, a song playing", "%", percent(playing, "engine"), goal=1),
            Row("  bare program on the same ports", "%", percent(bare, "engine")),
            Row("engine, what it adds to bare ports", "%", added, goal=1),
            Row("screen, a song up next", "%", percent(rest, "screen"), goal=5),
            Row("screen, a song playing, with its beat mark", "%", percent(playing, "screen"), goal=5),
            Row("  bare program with the same window", "%", percent(bare, "screen")),
            Row("memory of both, a song up next", "MiB", together(rest), together(bare), 1.4),
            Row("memory of both, a song playing", "MiB", together(playing), together(bare), 1.4),
        ],
    )


if __name__ == "__main__":
    main()
