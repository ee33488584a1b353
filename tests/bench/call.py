"""Bench: a song is called among 2,000. Each keystroke through the whole night, the first one of a new process too.

    .venv/bin/python tests/bench/call.py [--songs 2000] [--runs 5]

The floor is the matching library alone, on the same titles and the same letters; the goal of 16 ms is one picture of a
screen. Between the key that opens the call box and the first letter a hand needs a tenth of a second.
"""

import argparse
import json
import random
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import Row, percentile, show
from night.evening import Evening
from rapidfuzz import fuzz, process
from stage.scenes import book_of, song

from companion.night.default_keys import CALL_KEY
from companion.night.happenings import KeyReceived
from companion.stage.call_box import BEST, WORST_SCORE, without_accents

FIRST = ("Lantern", "Gasworks", "Harbour", "Copper", "Winter", "Paper", "Velvet", "Thursday", "Weighbridge", "Ferry")
SECOND = ("Row", "Corner", "Line", "Street", "Waltz", "Parade", "Hill", "Stairs", "Lights", "Quarter", "Song")
CALLED = ("lantern ro", "gaswroks", "ferry st", "zzz", "velvet qarter")
MS = 1e6
HAND_S = 0.1  # on its way from the key that opens the call box to the first letter


def titles(many: int) -> list[str]:
    """Return so many invented titles."""
    chance = random.Random(1)  # noqa: S311 - the same ones each time
    return [f"{chance.choice(FIRST)} {chance.choice(SECOND)} {number}" for number in range(many)]


def keystrokes_ms(many: int) -> list[float]:
    """Call songs in a night of so many; the milliseconds of each keystroke, the first of the process first."""
    evening = Evening(book_of([song(title, "Intro, Verse") for title in titles(many)]))
    took = []
    for called in CALLED:
        evening.night.take(KeyReceived(CALL_KEY, down=True))
        time.sleep(HAND_S)
        for letter in called:
            came = KeyReceived("space" if letter == " " else letter, down=True, text=letter)
            begun = time.perf_counter_ns()
            evening.night.take(came)
            took.append((time.perf_counter_ns() - begun) / MS)
        evening.night.take(KeyReceived("escape", down=True))
    return took


def floor_ms(many: int) -> list[float]:
    """Match the same letters against the same titles with the library alone, the milliseconds of each."""
    known, took = [without_accents(title) for title in titles(many)], []
    for called in CALLED:
        for end in range(1, len(called) + 1):
            typed = called[:end]
            begun = time.perf_counter_ns()
            process.extract(typed, known, scorer=fuzz.WRatio, limit=BEST, score_cutoff=WORST_SCORE)
            took.append((time.perf_counter_ns() - begun) / MS)
    return took


def in_a_new_process(what: str, many: int) -> list[float]:
    """Measure in a separate process, which has nothing in memory yet."""
    words = (sys.executable, __file__, "--songs", str(many), "--only", what)
    done = subprocess.run(words, check=True, capture_output=True, text=True)
    return [float(ms) for ms in json.loads(done.stdout)]


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--songs", type=int, default=2000)
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only", choices=("night", "floor"), help="measure once, here, and print the figures")
    asked = parser.parse_args()
    sides = {"night": keystrokes_ms, "floor": floor_ms}
    if asked.only:
        sys.stdout.write(json.dumps(sides[asked.only](asked.songs)))
        return
    figures: dict[str, list[list[float]]] = {side: [] for side in sides}
    for _ in range(asked.runs):
        for side, of_runs in figures.items():
            of_runs.append(in_a_new_process(side, asked.songs))
    first = {side: [run[0] for run in runs] for side, runs in figures.items()}
    worst = {side: [percentile(run[1:], 0.99) for run in runs] for side, runs in figures.items()}
    show(
        f"A song is called among {asked.songs}",
        [
            Row("first keystroke of the night, beside the library", "ms", first["night"], first["floor"]),
            Row("p99 of the others, beside the library", "ms", worst["night"], worst["floor"]),
            Row("first keystroke of the night", "ms", first["night"], (), 16),
            Row("p99 of the others", "ms", worst["night"], (), 16),
        ],
    )


if __name__ == "__main__":
    main()
