"""Whole leaves as lines that a person can review, one mark a line: where it is, how large, in which ink.

``tests/paper/leaves`` holds them. Each was compared by eye with the printed page. A change to the layout changes these
lines: look at the page, then write them anew with ``python tests/paper/test_leaves_as_lines.py``.
"""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.files import SourceFile
from companion.music import read_key
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
from companion.show import PracticeTime, Section, Set, Show, Song, SoundCall, read_show
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


def shared_pages(paper: Paper) -> list[Leaf]:
    """Lay out four short songs, two to a page, round a long one that needs pages of its own."""
    four = "1 | 4 | 5 | 1"
    short = Song("Short", key=read_key("G"), road_map=(Section("Verse", chords=four), Section("Chorus", chords=four)))
    parts = tuple(Section(f"Part {n}", chords=" || ".join("1451645")) for n in range(8))
    songs = (short, short, Song("Long", key=read_key("G"), road_map=parts), short, short)
    charts = [(chart_of(song, reader_for("keys")), f"song {n}") for n, song in enumerate(songs)]
    return [leaf for sheets in chart_sheets(charts, paper, level=1, share=True) for leaf in sheets.leaves]


def crowded() -> Show:
    """Return a show with a full set, one that is too long for its page, and an empty one."""
    note = "riff in the second verse; wait for the drummer, who turns round twice before he comes in. "
    songs = [
        Song(
            f"Song {n} of the Long Pier" + " and of the Longer One Behind It" * (n % 4 == 3),
            key=read_key(["Bb", "F", "Eb", "F#m", "Db"][n % 5]),
            tempo_bpm=90 + n,
            sounds=(SoundCall("tonewheel organ, second drawbars" if n % 3 else "grand piano"),),
            notes=note * (n % 5),
            segue=f"Song {n + 1} of the Long Pier" * (n % 6 == 0),
        )
        for n in range(44)
    ]
    first, second = tuple(songs[:14]), tuple(songs[14:])
    sets = (Set("First", songs=first), Set("Second", songs=second), Set("Empty"))
    return Show("Pier Street " * 12, date=dt.date(2027, 6, 19), sets=sets)


PIER, HARD, CROWDED = show(), read_show(Path(__file__).parent / "hard_to_print.yaml").show, crowded()
A4, LETTER = Paper.A4, Paper.LETTER
TIME = PracticeTime((20, 20, 0, 20, 20, 20, 20), listening=30)
SHEETS: dict[str, Callable[[], list[Leaf]]] = {
    "set_list": lambda: set_list_leaves(PIER, A4),
    "set_list_crowded": lambda: set_list_leaves(CROWDED, LETTER),
    "floor_list": lambda: floor_list_leaves(PIER, A4),
    "floor_list_crowded": lambda: floor_list_leaves(CROWDED, LETTER),
    "crib_sheet": lambda: crib_leaves(PIER, A4),
    "crib_sheet_crowded": lambda: crib_leaves(CROWDED, LETTER),
    "charts": lambda: chart_pages(PIER, A4, reader_for("keys")),
    "charts_hard": lambda: chart_pages(HARD, LETTER, reader_for("keys")),
    "charts_numbers": lambda: chart_pages(PIER, A4, reader_for("Bb", in_numbers=True)),
    "charts_capo": lambda: chart_pages(PIER, A4, reader_for("guitar", capo=3)),
    "charts_shared": lambda: shared_pages(A4),
    "pack": lambda: list(pack_leaves(PIER, reader_for("Eb"), A4))[:1],
    "plan": lambda: plan_leaves(plan(PIER, dt.date(2027, 6, 14), TIME, {}), A4),
    "plan_crowded": lambda: plan_leaves(plan(CROWDED, dt.date(2027, 6, 1), TIME, {}), LETTER),
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
    assert lines_of(SHEETS[sheet]()) == (FOLDER / f"{sheet}.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    for name, leaves in SHEETS.items():
        (FOLDER / f"{name}.txt").write_text(lines_of(leaves()), encoding="utf-8")
