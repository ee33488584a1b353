"""Bench: what the journal costs. A press beside a disk that takes 50 ms for a sync, and a long journal replayed.

    .venv/bin/python tests/bench/journal.py [--presses 2000] [--runs 3]

The press goes through the whole night (gesture, step, journal, wire) on a real file whose sync is made slow; the floor
is the same night without a journal. Taking up is the time of a journal of 3,000 steps above that of none.
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import Row, percentile, show
from night.evening import Evening
from night.test_soak import long_book

from companion.night import memory as memory_room
from companion.night.memory import Memory, StartOptions, memory_of
from companion.ports import Journal
from companion.stage import State

SYNC_S = 0.05
EVERY_S = 0.003  # between two presses: a sync is on its way at most of them
STEPS = 3000
BOUNCE_MS = 50


class SlowDisk(Memory):
    """A journal whose sync takes its time; nothing else of it is other than on stage."""

    def __init__(self, path: Path) -> None:
        self._journal = Journal(path, 0, lambda _: None, sync=lambda _: time.sleep(SYNC_S))

    def go_on(self, state: State, at_ms: int) -> str:
        raise NotImplementedError


class Nothing:
    """No journal at all."""

    is_unsaved = False

    def write(self, record: bytes) -> None:
        pass

    def note(self, record: bytes) -> None:
        pass

    def go_on(self, state: State, at_ms: int) -> str:
        raise NotImplementedError


def presses_us(record: Memory | Nothing, presses: int) -> list[float]:
    """Press so often; how long each press took until its sound was handed to the wire."""
    evening = Evening(long_book())
    evening.night._record = record  # noqa: SLF001 - the one part that is another here
    took = []
    for number in range(presses):
        evening.now_ms += BOUNCE_MS
        # Forward and back, so that each press is a step with another sound.
        came = evening.came(bytes((0xB0, 64 if number // 400 % 2 == 0 else 67, 127)))
        begun = time.perf_counter_ns()
        evening.night.take(came)
        took.append((time.perf_counter_ns() - begun) / 1000)
        evening.now_ms += BOUNCE_MS
        evening.night.take(evening.came(came.message[:2] + b"\0"))
        for kept in (evening.tape.sent, evening.wall.views, evening.clocks, evening.notebook.lines):
            kept.clear()
        time.sleep(EVERY_S)
    return took


def taking_up_ms(folder: Path, *, fresh: bool) -> float:
    """Return how long the memory takes to open: with all of the journal, or with none."""
    begun = time.perf_counter_ns()
    with memory_of(folder / "show.yaml", BOOK, StartOptions(fresh=fresh), lambda _: None):
        return (time.perf_counter_ns() - begun) / 1e6


def write_steps(folder: Path) -> None:
    """Write a night of so many steps that was killed."""
    with memory_of(folder / "show.yaml", BOOK, StartOptions(fresh=True), lambda _: None) as memory:
        evening = Evening(BOOK)
        evening.night._record = memory  # noqa: SLF001 - same
        for number in range(STEPS):
            evening.now_ms += BOUNCE_MS
            evening.night.take(evening.came(bytes((0xB0, 64 if number // 400 % 2 == 0 else 67, 127))))
            evening.now_ms += BOUNCE_MS
            evening.night.take(evening.came(bytes((0xB0, 64 if number // 400 % 2 == 0 else 67, 0))))


BOOK = long_book()


def main() -> None:
    """Measure and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--presses", type=int, default=2000)
    parser.add_argument("--runs", type=int, default=3)
    asked = parser.parse_args()
    slow: list[list[float]] = []
    none: list[list[float]] = []
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        for run in range(asked.runs):
            none.append(presses_us(Nothing(), asked.presses))
            record = SlowDisk(folder / f"{run}.journal")
            slow.append(presses_us(record, asked.presses))
        vars(memory_room)["data_path"] = lambda: folder  # a place of its own
        write_steps(folder)
        found = [taking_up_ms(folder, fresh=False) for _ in range(asked.runs)]
        fresh = [taking_up_ms(folder, fresh=True) for _ in range(asked.runs)]
    show(
        f"A press with a journal on a disk that syncs in {SYNC_S * 1000:.0f} ms; the floor has no journal",
        [
            Row(
                f"{name} of press to wire, above it",
                "us",
                [percentile(a, share) for a in slow],
                [percentile(b, share) for b in none],
            )
            for name, share in (("p50", 0.5), ("p99", 0.99))
        ],
    )
    added_ms = [(percentile(a, 0.99) - percentile(b, 0.99)) / 1000 for a, b in zip(slow, none, strict=True)]
    show("The same, to be laid on a pedal to sound of some milliseconds", [Row("p99, added", "ms", added_ms)])
    above = [whole - least for whole, least in zip(found, fresh, strict=True)]
    show(f"A journal of {STEPS} steps replayed, above none", [Row("replayed", "ms", above, (), 150)])
    sys.stdout.flush()
    os._exit(0)  # its syncs may continue


if __name__ == "__main__":
    main()
