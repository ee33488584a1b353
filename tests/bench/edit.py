"""Bench: editing. One value of one song changed in a show of 80 songs of 8 sections, against libyaml's bare events.

    .venv/bin/python tests/bench/edit.py [--runs 5] [--each 5] [--songs 80]

An edit finds the song among all others, changes its lines, and reads it again to compare what it says with what was
meant; the floor only lets libyaml go through the same text once and counts its events. Both are processor time of this
process, measured in turns, so that a busy machine is busy for both. Each turn has another text and another song.
"""

import argparse
import itertools
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.read_show import written
from bench.stopwatch import Row, show

from companion.edits import SectionNamed, SetValue, SongNamed, applied

MS = 1e6  # nanoseconds


def events(text: str) -> int:
    """Count the events of a text."""
    parser: Any = yaml.CBaseLoader(text)
    count = 0
    while (event := parser.get_event()) is not None and not isinstance(event, yaml.StreamEndEvent):
        count += 1
    return count


def edited(text: str, number: int) -> str:
    """Change a song's tempo."""
    return applied(text, [SetValue((SongNamed(f"Song number {number}"), "tempo"), 99)])


def section_edited(text: str, number: int) -> str:
    """Change the bars of a song's third section."""
    song = SongNamed(f"Song number {number}")
    return applied(text, [SetValue((song, "road_map", SectionNamed("Chorus"), "bars"), 12)])


def milliseconds(work: Callable[[], object]) -> float:
    """Return the processor time of the work, of this process."""
    begun = time.process_time_ns()
    work()
    return (time.process_time_ns() - begun) / MS


def main() -> None:
    """Measure, and print the table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    options.add_argument("--runs", type=int, default=5)
    options.add_argument("--each", type=int, default=5)
    options.add_argument("--songs", type=int, default=80)
    asked = options.parse_args()
    firsts = itertools.count(0, asked.songs)
    values: list[float] = []
    sections: list[float] = []
    floors: list[float] = []
    for _ in range(asked.runs):
        figures: tuple[list[float], list[float], list[float]] = ([], [], [])
        for turn in range(asked.each):
            first = next(firsts)
            text, number = written(asked.songs, first), first + turn * asked.songs // asked.each
            figures[0].append(milliseconds(lambda text=text: events(text)))  # type: ignore[misc]
            figures[1].append(milliseconds(lambda text=text, number=number: edited(text, number)))  # type: ignore[misc]
            figures[2].append(milliseconds(lambda text=text, number=number: section_edited(text, number)))  # type: ignore[misc]
        floors.append(statistics.median(figures[0]))
        values.append(statistics.median(figures[1]))
        sections.append(statistics.median(figures[2]))
    text = written(asked.songs)
    sys.stdout.write(f"{asked.songs} songs, {text.count(chr(10)):,} lines, {len(text):,} characters\n")
    rows = [
        Row("one value / libyaml's events of the text", "ms", values, floors, 2.7),
        Row("a section's bars / the same", "ms", sections, floors, 2.7),
    ]
    show("Editing a show", rows)


if __name__ == "__main__":
    main()
