"""Single marks of the sheets, taken from the leaves: lines, rests, rows of contents; and the bar of progress."""

import datetime as dt
import io
import itertools
import sys

import pytest
import rich.progress

from companion.commands.progress_bar import with_progress
from companion.music import read_key
from companion.paper.band_pack import pack_leaves
from companion.paper.crib_sheet import crib_leaves
from companion.paper.leaves import Leaf, Paper, PenLine, Words
from companion.paper.paper_fonts import width_pt
from companion.paper.pen import EDGE_PT, LeafPen
from companion.paper.plan_sheet import plan_leaves
from companion.paper.readers import reader_for
from companion.paper.set_list import LEADING, set_list_leaves
from companion.planning.plan import plan
from companion.show import PracticeTime, Section, Set, Show, Song

VERSE = (Section("Verse", 8, chords="1 | 4"),)
TODAY, DAY = dt.date(2027, 6, 5), dt.date(2027, 6, 19)


def words(leaf: Leaf) -> list[Words]:
    return [mark for mark in leaf.marks if isinstance(mark, Words)]


def test_the_lines_of_a_long_title_are_evenly_spaced() -> None:
    title = "Everybody Who Ever Waited for the Last Ferry " * 6
    (leaf,) = set_list_leaves(Show("Pier", sets=(Set("One", songs=(Song(title.strip()),)),)), Paper.A4)
    lines = [mark for mark in words(leaf) if "Ferry" in mark.text or "Waited" in mark.text]
    assert len(lines) > 2
    gaps = {round(below.y - above.y, 3) for above, below in itertools.pairwise(lines)}
    assert gaps == {round(lines[0].size * LEADING, 3)}


def test_the_crib_sheet_underlines_each_set_name() -> None:
    sets = tuple(Set(name, songs=(Song(f"{name} song"), Song(f"{name} more"))) for name in ("One", "Two", "Three"))
    (leaf,) = crib_leaves(Show("Pier", sets=sets), Paper.A4)
    for name in ("One", "Two", "Three"):
        (head,) = [mark for mark in words(leaf) if mark.text == name]
        under = [
            mark
            for mark in leaf.marks
            if isinstance(mark, PenLine) and mark.x1 == head.x and 0 < mark.y1 - head.y < 6 and mark.y1 == mark.y2
        ]
        assert [mark.x2 - mark.x1 > Paper.A4.width * 0.8 for mark in under] == [True], name


def test_the_plan_marks_only_days_without_minutes_as_off() -> None:
    time = PracticeTime((45, 0, 45, 45, 0, 45, 45))
    made = plan(Show("Pier", date=DAY, sets=(Set("One", songs=(Song("Moth"),)),)), TODAY, time, {})
    leaf = next(iter(plan_leaves(made, Paper.A4)))
    off = [mark.y for mark in words(leaf) if mark.text == "off"]
    days = {mark.y: mark.text for mark in words(leaf) if mark.text in {f"{day.date:%a %d %b}" for day in made.days}}
    assert [days[y] for y in off] == [f"{day.date:%a %d %b}" for day in made.days if day.date.weekday() in (1, 4)]


def test_a_pack_says_no_chart_only_beside_songs_without_one() -> None:
    sets = (
        Set("One", songs=(Song("Moth", road_map=VERSE), Song("Weeds"))),
        Set("Two", songs=(Song("Tidal", road_map=VERSE),)),
    )
    contents = next(pack_leaves(Show("Pier", sets=sets), reader_for("C"), Paper.A4))
    rows = {mark.y: mark.text for mark in words(contents) if mark.text in ("One", "Two", "Moth", "Weeds", "Tidal")}
    assert [rows[mark.y] for mark in words(contents) if mark.text == "no chart"] == ["Weeds"]
    assert list(rows.values()) == ["One", "Moth", "Weeds", "Two", "Tidal"]


class Terminal(io.StringIO):
    """A standard error that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("pages", "is_seen"), [(19, False), (20, True)])
def test_from_twenty_pages_a_progress_bar_is_shown(
    monkeypatch: pytest.MonkeyPatch, pages: int, *, is_seen: bool
) -> None:
    bars: list[tuple[float | None, float, bool]] = []

    def work(made: "object") -> str:
        assert callable(made)
        for done in range(8):
            made(done, pages)
        (task,) = shown[0].tasks
        bars.append((task.total, task.completed, task.visible))
        return "done"

    shown: list[rich.progress.Progress] = []
    start = rich.progress.Progress.start

    def noted(self: rich.progress.Progress) -> None:
        shown.append(self)
        start(self)

    monkeypatch.setattr(rich.progress.Progress, "start", noted)
    monkeypatch.setattr(sys, "stderr", Terminal())
    assert with_progress(work, "charts") == "done"
    assert bars == [(pages, 7, is_seen)]


@pytest.mark.parametrize(("days", "least", "most"), [(2, 22, 22), (14, 22, 22), (20, 15.5, 21.5), (60, 15, 15)])
def test_the_days_of_a_plan_share_half_of_the_page(days: int, least: float, most: float) -> None:
    """Rows are 22 points high for few days and 15 for many; twenty days fill half of what is below the head."""
    pier = Show("Pier", date=DAY, sets=(Set("One", songs=(Song("Moth"),)),))
    made = plan(pier, DAY - dt.timedelta(days), PracticeTime((30,) * 7), {})
    names = {f"{day.date:%a %d %b}" for day in made.days}
    rows = [mark.y for mark in words(plan_leaves(made, Paper.A4)[0]) if mark.text in names]
    gaps = [round(below - above, 3) for above, below in itertools.pairwise(rows)]
    assert least <= min(gaps)
    assert max(gaps) <= most


def test_long_names_on_the_contents_of_a_pack_are_cut_before_what_stands_at_their_right() -> None:
    long = "Everybody Who Ever Waited for the Last Ferry Home to the Old Harbour Wall in November " * 3
    sets = (Set(long, songs=(Song(long, key=read_key("C"), road_map=VERSE),)),)
    contents = next(pack_leaves(Show(long, band=long, sets=sets), reader_for("C"), Paper.A4))
    cut_off = [mark for mark in words(contents) if mark.text.endswith("…")]
    assert len(cut_off) == 5  # the show's title, its band, the set, the song and the line at the foot
    for one in cut_off:
        ends = one.x + width_pt(one.text, one.size)
        others = [mark.x for mark in words(contents) if mark.y == one.y and mark.x > one.x]
        assert ends < min(others, default=Paper.A4.width - EDGE_PT + 0.01)


def test_a_list_longer_than_its_columns_goes_on_over_the_page() -> None:
    """Of 130 songs that do not fit, every line is in one of two columns, from the top of its page down."""
    songs = tuple(Song(f"Song {at} of the Long Pier and of the Longer One Behind It") for at in range(130))
    made = plan(Show("Pier", date=DAY, sets=(Set("One", songs=songs),)), TODAY, PracticeTime((0,) * 7, listening=0), {})
    first, *others = plan_leaves(made, Paper.A4)
    assert len(others) > 2
    pen = LeafPen(Paper.A4)
    for number, leaf in enumerate(others, start=1):
        written = [mark for mark in leaf.marks if isinstance(mark, Words)]
        assert written == sorted(written, key=lambda mark: (mark.x > Paper.A4.width / 2, mark.y)), "in reading order"
        assert min(mark.y for mark in written) == pytest.approx(pen.top + 13.5)
        assert max(mark.y for mark in written) <= pen.bottom
        columns = {mark.x > Paper.A4.width / 2 for mark in written}
        assert number == len(others) or columns == {False, True}, "both columns are used"
    titles = [mark.text for leaf in (first, *others) for mark in leaf.marks if isinstance(mark, Words)]
    assert all(any(title.startswith(f"Song {at} ") for title in titles) for at in range(130))
