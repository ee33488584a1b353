"""Bench: reading. A show of 200 songs of 8 sections read and checked, against PyYAML's C loader on the same text.

    .venv/bin/python tests/bench/read_show.py [--runs 5] [--each 5] [--songs 200]

Reading keeps line and column of every value, checks every value, and tells what is missing; the floor builds dicts.
Both begin with the text in memory and are measured in turns in one process, so that a busy machine is busy for both.
Each turn has other titles, tempos and chords, so that nothing is remembered from the turn before.
The second row is the start: what importing the reader adds to importing yaml and msgspec, in new processes.
"""

import argparse
import itertools
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeVar

import yaml

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import ROOT, Row, show

from companion.files import SourceFile
from companion.show.checks import check
from companion.show.show_file import show_in

T = TypeVar("T")
MS = 1e6  # nanoseconds
SONG = """\
      - title: Song number {number}
        key: {key}
        record_key: C
        tempo: {tempo}
        meter: 4/4
        length: "{minutes}:40"
        starts_with: keys
        count_off: two bars, sticks
        ending: ritard
        sound: tonewheel organ
        chart: charts/song-{number}.pdf   # from the leader
        known: 2
        hard: 3
        notes: half-time in the bridge of number {number}
        road_map:
"""
SECTION = """\
          - section: {name}
            bars: 4
            chords: "{chords}"
            sound: {sound}
"""
SECTIONS = ("Intro", "Verse", "Chorus", "Verse", "Chorus", "Solo", "Chorus", "Outro")
SOUNDS = ("bright piano", "tonewheel organ", "strings", "synth lead")
DEGREES = ("1", "5/7", "6-", "4", "2-7", "b7", "3-", "5sus4", "4maj7", "1/3", "6-7", "2", "57")
KEYS = ("Bb", "F#m", "C", "Eb", "Am", "G")


def chords(number: int, name: str) -> str:
    """Make a chord line of four bars that no other section of any song has, but those of its name in this song."""
    place = number * len(SECTIONS) + SECTIONS.index(name)
    return " | ".join(DEGREES[place // len(DEGREES) ** bar % len(DEGREES)] for bar in range(4))


def written(songs: int, first: int = 0) -> str:
    """Write an invented show of so many songs in four sets, one value a line; songs are numbered from ``first``."""
    lines = ["show: Pier Street\nband: The Tidewater Nine\ndate: 2027-06-19\nsets:\n"]
    for number in range(first, first + songs):
        if (number - first) % max(1, songs // 4) == 0:
            lines.append(f"  - set: Set from {number}\n    starts: 20:00\n    minutes: 600\n    songs:\n")
        key, tempo = KEYS[number % len(KEYS)], 60 + number % 120
        lines.append(SONG.format(number=number, key=key, tempo=tempo, minutes=2 + number % 4))
        for place, name in enumerate(SECTIONS):
            lines.append(
                SECTION.format(name=name, chords=chords(number, name), sound=SOUNDS[(number + place) % len(SOUNDS)])
            )
    return "".join(lines)


def read_and_checked(text: str) -> int:
    """Read and check the show as ``companion check`` does; return how many things it lacks."""
    return len(check(show_in(SourceFile("show.yaml", text))).missing)


def loaded(text: str) -> object:
    """Parse the same text into plain values."""
    return yaml.load(text, Loader=yaml.CSafeLoader)


def milliseconds(work: Callable[[T], object], on: Sequence[T]) -> float:
    """Return the median time of the work, done once on each."""
    times = []
    for one in on:
        begun = time.perf_counter_ns()
        work(one)
        times.append(time.perf_counter_ns() - begun)
    return statistics.median(times) / MS


def import_milliseconds(modules: str, each: int) -> float:
    """Return the median time of a new process that imports these modules and ends."""
    command = (sys.executable, "-c", f"import {modules}")
    return milliseconds(lambda run: subprocess.run(run, check=True, cwd=ROOT), [command] * each)


def main() -> None:
    """Measure, and print the table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    options.add_argument("--runs", type=int, default=5)
    options.add_argument("--each", type=int, default=5)
    options.add_argument("--songs", type=int, default=200)
    asked = options.parse_args()
    numbers = itertools.count(asked.songs, asked.songs)
    text = written(asked.songs)
    lacking = read_and_checked(text)
    figures, floors, starts, bare = [], [], [], []
    for _ in range(asked.runs):
        texts = [written(asked.songs, next(numbers)) for _ in range(asked.each)]
        floors.append(milliseconds(loaded, texts))
        figures.append(milliseconds(read_and_checked, texts))
        bare.append(import_milliseconds("yaml, msgspec", asked.each))
        starts.append(import_milliseconds("yaml, msgspec, companion.show.show_file", asked.each))
    sys.stdout.write(
        f"{asked.songs} songs, {text.count(chr(10)):,} lines, {len(text):,} characters, {lacking} missing\n"
    )
    reading = Row("a show read and checked / PyYAML's C loader", "ms", figures, floors, 3.0)
    starting = Row("import the reader / yaml and msgspec", "ms", starts, bare)
    show("Reading a show", [reading, starting])


if __name__ == "__main__":
    main()
