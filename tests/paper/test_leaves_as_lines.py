"""Whole leaves as lines that a person can review, one mark a line: where it is, how large, in which ink.

``tests/paper/leaves`` holds them. Each was compared by eye with the printed page. A change to the layout changes these
lines: look at the page, then write them anew with ``python tests/paper/test_leaves_as_lines.py``.
"""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.files import SourceFile
from companion.paper.band_pack import pack_leaves
from companion.paper.chart import chart_of
from companion.paper.chart_sheets import chart_sheets
from companion.paper.crib_sheet import crib_leaves
from companion.paper.floor_list import floor_list_leaves
from companion.paper.leaves import Highlighter, Jump, Leaf, LeafMark, Paper, PenLine, Words
from companion.paper.plan_sheet import plan_leaves
from companion.paper.readers import ChartReader, reader_for
from companion.paper.set_list import set_list_leaves
from companion.planning.plan import plan
from companion.show import PracticeTime, Show
from companion.show.show_file import show_in

FOLDER = Path(__file__).parent / "leaves"
SHOW = """\
show: Pier Street
band: The Tidewater Nine
date: 2027-06-19
sets:
  - set: First
    starts: "20:00"
    minutes: 45
    songs:
      - title: Gasworks Corner
        key: Bb
        tempo: 112
        length: "3:40"
        starts_with: keys
        count_off: two bars, sticks
        ending: ritard
        sound: tonewheel organ
        notes: two bars of drums first
        road_map: |
          Intro 4 *riff alone @bright piano | 1 | 5/7 | 6- | <4
          Verse 8 | <1> | 1... 5. | (1 | 4 | 1st 5 | 2nd 1^)
          Verse 8
          Chorus 8 in C hits 4, 4& watch drummer (two fingers up) | 1 | % | in 2/4 5 | 1 4 || 2- | 5 | 1 | %2
          Outro open
        segue: Everybody Who Ever Waited for the Last Ferry Home to the Old Harbour Wall
      - title: Everybody Who Ever Waited for the Last Ferry Home to the Old Harbour Wall
        key: D dorian
        fingered_in: C
        notes: >-
          the verse is half time until the drummer turns round, then four bars of nothing but hi-hat; in the second
          chorus the singer holds the last word as long as she likes, so wait for the fill
      - title: Brass Fanfare
        tacet: yes
  - set: Encore
    songs:
      - title: Kettle on the Jetty
        key: F#m
        road_map: |
          Intro 4*
          Verse 16 | 6- | 4
          Chorus 8 hits (bar 2 1e, 2&, 3a | bar 8 1) @strings
          Bridge 4 | 1 | so what
"""


def show() -> Show:
    return show_in(SourceFile("show.yaml", SHOW)).show


def chart_pages(each: Show, paper: Paper, reader: ChartReader) -> list[Leaf]:
    charts = [(chart_of(song, reader), song.title) for one in each.sets for song in one.songs if song.road_map]
    return [leaf for sheets in chart_sheets(charts, paper) for leaf in sheets.leaves]


TIME = PracticeTime((20, 20, 0, 20, 20, 20, 20), listening=30)
SHEETS: dict[str, Callable[[Show, Paper], list[Leaf]]] = {
    "set_list": set_list_leaves,
    "floor_list": floor_list_leaves,
    "crib_sheet": crib_leaves,
    "charts": lambda each, paper: chart_pages(each, paper, reader_for("keys")),
    "charts_numbers": lambda each, paper: chart_pages(each, paper, reader_for("Bb", in_numbers=True)),
    "charts_capo": lambda each, paper: chart_pages(each, paper, reader_for("guitar", capo=3)),
    "pack": lambda each, paper: list(pack_leaves(each, reader_for("Eb"), paper))[:1],
    "plan": lambda each, paper: list(plan_leaves(plan(each, dt.date(2027, 6, 14), TIME, {}), paper)),
}


def line_of(mark: LeafMark) -> str:
    """Describe a mark in points from the top left, to a tenth."""
    match mark:
        case Words(x, y, text, size, ink, squeeze):
            narrow = f" squeezed {squeeze:.2f}" if squeeze != 1 else ""
            return f"words {x:.1f},{y:.1f} {size:.1f} {ink.name.lower()}{narrow} {text}".rstrip()
        case PenLine(x1, y1, x2, y2, thick, ink):
            return f"line {x1:.1f},{y1:.1f} to {x2:.1f},{y2:.1f} {thick:.1f} {ink.name.lower()}"
        case Highlighter(x, y, width, height):
            return f"highlighter {x:.1f},{y:.1f} {width:.1f}x{height:.1f}"
        case Jump(x, y, width, height, leads_to):
            return f"jump {x:.1f},{y:.1f} {width:.1f}x{height:.1f} to {leads_to}"


def lines_of(leaves: list[Leaf]) -> str:
    lines = []
    for number, leaf in enumerate(leaves, start=1):
        lines.append(f"page {number}")
        lines += [f"bookmark {mark.level} {mark.title} {mark.name}".rstrip() for mark in leaf.bookmarks]
        lines += [line_of(mark) for mark in leaf.marks]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_has_these_marks_and_no_others(sheet: str) -> None:
    assert lines_of(SHEETS[sheet](show(), Paper.A4)) == (FOLDER / f"{sheet}.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    for name, leaves in SHEETS.items():
        (FOLDER / f"{name}.txt").write_text(lines_of(leaves(show(), Paper.A4)), encoding="utf-8")
