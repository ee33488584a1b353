"""The plan on paper, read back by two programs that did not write it."""

import datetime as dt
import os
from pathlib import Path

import pytest
from examples import seldom
from paper.readers_back import bare, missing_in_order, outside, overlapping, pages_of, poppler_text
from planning.shows import DAY, TODAY, big, show

from companion.errors import CompanionError
from companion.paper import Paper, print_plan
from companion.planning.plan import plan
from companion.planning.plan_model import Plan
from companion.show import PracticeTime

HOURS = PracticeTime((45, 45, 45, 45, 45, 120, 0))


def made(songs: int = 30, days: int = 14, time: PracticeTime = HOURS) -> Plan:
    return plan(big(songs), DAY - dt.timedelta(days=days), time, {}, rounds=0)


@pytest.mark.parametrize("paper", Paper)
def test_the_plan_sheet_has_each_day_with_its_minutes_and_work(tmp_path: Path, paper: Paper) -> None:
    days = made()
    assert print_plan(days, tmp_path / "plan.pdf", paper) == len(pages_of(tmp_path / "plan.pdf"))
    text = "".join(poppler_text(tmp_path / "plan.pdf"))
    rows = [f"{day.date:%a %d %b}" for day in days.days]
    assert missing_in_order(text, rows) == []
    assert missing_in_order(text, [f"{day.used} of {day.minutes} min" for day in days.days]) == []
    for day in days.days:
        if day.blocks:
            assert bare(f"{day.date:%A %d %B}") in bare(text)
        for block in day.blocks:
            assert bare(block.title) in bare(text)


@pytest.mark.parametrize(("songs", "days"), [(30, 14), seldom(70, 120), (3, 1)])
def test_no_letter_is_near_the_edge_or_overlaps_another(tmp_path: Path, songs: int, days: int) -> None:
    print_plan(made(songs, days), tmp_path / "plan.pdf")
    for number, page in enumerate(pages_of(tmp_path / "plan.pdf"), start=1):
        assert outside(page, edge=18) == [], f"page {number}"
        assert list(overlapping(page)) == [], f"page {number}"


def test_a_plan_without_minutes_names_every_song_and_an_empty_plan_is_still_a_page(tmp_path: Path) -> None:
    nothing = made(time=PracticeTime((0,) * 7, listening=0))
    print_plan(nothing, tmp_path / "none.pdf")
    text = "".join(poppler_text(tmp_path / "none.pdf"))
    seldom = [one.title for one in nothing.left_out if one.cut is None]
    cuts = [one.title for one in nothing.cuts]
    assert missing_in_order(text, ["What does not fit", *cuts, "Repeated less often", *seldom]) == []
    assert cuts
    assert seldom
    empty = plan(show(date=DAY), TODAY, HOURS, {})
    assert print_plan(empty, tmp_path / "empty.pdf") == 1


def test_a_rehearsal_and_the_songs_not_played_before_it_are_named(tmp_path: Path) -> None:
    days = made(time=PracticeTime((60,) * 7, rehearsals=(TODAY + dt.timedelta(days=2),)))
    print_plan(days, tmp_path / "plan.pdf")
    ((_, titles),) = days.untouched
    text = "".join(poppler_text(tmp_path / "plan.pdf"))
    assert missing_in_order(text, ["rehearsal with the band", "Not played before the rehearsal", *titles]) == []


def test_an_unwritable_file_is_reported(tmp_path: Path) -> None:
    with pytest.raises(CompanionError, match="cannot be written"):
        print_plan(made(3), tmp_path / "nowhere" / "plan.pdf")


def test_a_full_disk_leaves_the_older_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "plan.pdf"
    out.write_bytes(b"older")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CompanionError, match=r"plan\.pdf cannot be written: No space left on device"):
        print_plan(made(3), out)
    assert out.read_bytes() == b"older"
    assert list(tmp_path.iterdir()) == [out]
