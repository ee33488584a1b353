"""Bench: a rig of several keyboards. Pedal to last byte on two of them beside one; all of a rig sent again.

    .venv/bin/python tests/bench/whole_rig.py [--presses 100] [--runs 3] [--returns 5] [--screen none]

The program is the real one on real JACK ports. A change is a bank, a program and two controls on each keyboard, each
behind a port of its own, and it is over when the last byte of the last one has arrived. The floor is the same program
with one keyboard, and takes turns with it; as JACK's threads race differently from start to start, a run is made of
several starts.

A port that returns carries four keyboards and their tunings. The time begins when the watch has found it (it looks
twice a second) and ends with the last byte. JACK has no wire: what a real cable would add is shown beside it.
"""

import argparse
import random
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stage_under_test import own_home, play
from bench.stopwatch import Row, percentile, show
from real.jack import JackServer, JackTap
from real.program import Program, wait_until
from real.window import Display

BOARDS = ("lower", "upper")
SECTIONS = 10  # of a song; songs follow without a break
WARM_UP = 10  # presses before the count begins: the one that begins the first song is silent
MESSAGES = 5  # of a change on one keyboard: two of the bank, the program, two controls
WIRE_MS_A_BYTE = 0.32  # MIDI 1.0, hardware: 31,250 baud, ten bits a byte
CHANNELS = range(1, 5)

RETURNING = """
import sys
import companion.ports.watch as watch
from companion.cli import main
found = watch.PortFound
def told(*words):
    sys.stderr.write(f"found {words[1].value} {words[3]}\\n")
    sys.stderr.flush()
    return found(*words)
watch.PortFound = told
sys.exit(main(sys.argv[1:]))
"""


class Answers(NamedTuple):
    """Milliseconds from each press to its last byte, and how many presses had not all their bytes in time."""

    last_ms: list[float]
    lost: int


def write_show(folder: Path, steps: int) -> Path:
    """Write a show of at least so many steps, each of which changes the sound of both keyboards."""
    songs = -(-steps // SECTIONS) + 1
    lines = ["show: Bench", "songs:"]
    for song in range(songs):
        lines += [f"  - title: Study {song + 1}", "    road_map:"]
        for number in range(SECTIONS):
            sound = "one" if number % 2 else "two"
            lines.append(f"      - {{section: Part {number}, bars: 8, sound: {{lower: {sound}, upper: {sound}}}}}")
        if song < songs - 1:
            lines.append(f"    segue: Study {song + 2}")
    path = folder / "show.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def write_rig(folder: Path, boards: Sequence[str]) -> Path:
    """Write a rig of these keyboards, each with a port of its own; one alone plays for both."""
    lines = ["rig: Bench", "keyboards:"]
    for number, board in enumerate(boards, 1):
        lines += [f"  {board}:", f"    port: {board.title()} Board", f"    channel: {number}"]
        if len(boards) == 1:
            lines.append("    stands_for: [upper]")
        lines.append("    sounds:")
        for program, sound in enumerate(("one", "two"), 1):
            lines.append(f"      {sound}: {{program: {program}, bank: [0, {program}], controls: {{7: 90, 11: 100}}}}")
    lines.append("pedals: {right: {port: Foot Box, control: 80, press: next}}")
    path = folder / f"rig-{len(boards)}.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def change(folder: Path, boards: Sequence[str], presses: int, seed: int, display: Display | None) -> Answers:
    """Start the program on this many keyboards and press."""
    dice = random.Random(seed)  # noqa: S311 - irregular, not secret
    with JackServer() as server, JackTap(server, "Foot Box") as box:
        taps = [JackTap(server, f"{board.title()} Board") for board in boards]
        rig = write_rig(folder, boards)
        program = play(folder, write_show(folder, presses + WARM_UP + 1), rig, server, display)
        wait_until(lambda: all(tap.heard() for tap in taps), "the first sound", 30)
        wait_until(lambda: any(one == box.output for one, _ in server.connections()), "the pedal's cable", 15)
        time.sleep(2.5)  # the screen must have come
        answers = Answers([], 0)
        for press in range(-WARM_UP, presses):
            for tap in taps:
                tap.forget()
            begun_ns = time.monotonic_ns()
            box.send(b"\xb0\x50\x7f")
            time.sleep(dice.uniform(0.08, 0.12))
            box.send(b"\xb0\x50\x00")
            heard = [tap.heard() for tap in taps]
            if press >= 0 and all(len(one) == MESSAGES for one in heard):
                answers.last_ms.append((max(one[-1].at_ns for one in heard) - begun_ns) / 1e6)
            elif press >= 0:
                answers = Answers(answers.last_ms, answers.lost + 1)
            time.sleep(dice.uniform(0.04, 0.07))
        program.end()
        for tap in taps:
            tap.close()
    return answers


def resent(folder: Path, returns: int) -> tuple[list[float], int]:
    """Take a port with four keyboards away so often; ms from its return to its last byte, and the bytes."""
    lines = ["rig: Bench", "keyboards:"]
    for channel in CHANNELS:
        sound = "{program: 5, bank: [0, 32], controls: {7: 90, 11: 100}}"
        lines.append(
            f"  k{channel}: {{port: Stack, channel: {channel}, transpose: channel tuning, sounds: {{s: {sound}}}}}"
        )
    sounds = ", ".join(f"k{channel}: s" for channel in CHANNELS)
    rig, song = folder / "stack.yaml", folder / "stack-show.yaml"
    rig.write_text("\n".join(lines) + "\n", encoding="utf-8")
    song.write_text(
        f"show: Bench\nsongs:\n  - {{title: One, key: B, fingered_in: C, sound: {{{sounds}}}, road_map: Intro 4}}\n",
        encoding="utf-8",
    )
    took: list[float] = []
    size = 0
    with JackServer() as server:
        words = ("play", str(song), "--rig", str(rig), "--screen", "none", "--fresh")
        with Program((sys.executable, "-c", RETURNING, *words), env={**own_home(folder), **server.env}) as program:
            at = 0
            for _ in range(returns):
                with JackTap(server, "Stack") as stack:
                    at = program.wait_for(lambda line: line.startswith("found out"), 20, at) + 1
                    found_ns = int(program.lines[at - 1].split()[2])
                    time.sleep(0.7)
                    heard = stack.heard()
                    size = sum(len(one.message) for one in heard)
                    took.append((heard[-1].at_ns - found_ns) / 1e6)
                at = program.wait_for(lambda line: "there is no MIDI output" in line, 20, at)
    return took, size


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--presses", type=int, default=100, help="presses a run, on each side")
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--starts", type=int, default=2, help="starts of each side in a run; they share its presses")
    parser.add_argument("--returns", type=int, default=5, help="how often a run takes the port away")
    parser.add_argument("--screen", choices=("full", "none"), default="full")
    asked = parser.parse_args()
    presses = -(-asked.presses // asked.starts)
    sides: dict[int, list[Answers]] = {1: [], 2: []}
    returned: list[list[float]] = []
    size = 0
    with tempfile.TemporaryDirectory() as temporary, Display() as display:
        folder = Path(temporary)
        for run in range(asked.runs):
            parts: dict[int, list[Answers]] = {1: [], 2: []}
            for start in range(asked.starts):
                for number, found in parts.items():
                    screen = display if asked.screen == "full" else None
                    found.append(change(folder, BOARDS[:number], presses, run * asked.starts + start, screen))
            for number, found in parts.items():
                whole = Answers([ms for part in found for ms in part.last_ms], sum(part.lost for part in found))
                sides[number].append(whole)
                sys.stderr.write(
                    f"run {run + 1}, {number} keyboards: p50 {percentile(whole.last_ms, 0.5):.2f}"
                    f" p99 {percentile(whole.last_ms, 0.99):.2f} ms, {whole.lost} lost\n"
                )
            took, size = resent(folder, asked.returns)
            returned.append(took)
    rows = [
        Row(
            f"{name} of press to last byte, two keyboards",
            "ms",
            [percentile(run.last_ms, share) for run in sides[2]],
            [percentile(run.last_ms, share) for run in sides[1]],
            1.2,
        )
        for name, share in (("p50", 0.5), ("p99", 0.99))
    ]
    rows += [
        Row("presses without all their bytes", "", [run.lost for run in sides[2]], (), 0),
        Row("the same with one keyboard (if any: again)", "", [run.lost for run in sides[1]]),
        Row("a port that returned to its last byte, worst", "ms", [max(run) for run in returned], (), 100),
        Row(f"what a cable would add for its {size} bytes", "ms", [size * WIRE_MS_A_BYTE for _ in returned]),
    ]
    show(
        f"A rig of several keyboards, {asked.presses} presses a run, screen: {asked.screen}; floor: one keyboard", rows
    )


if __name__ == "__main__":
    main()
