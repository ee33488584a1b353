"""Why a song has its place: every sentence says what the plan went by."""

import datetime as dt
from typing import Any

import pytest
from planning.shows import TODAY, show, song

from companion.planning.advice import advised
from companion.planning.place_explained import explain
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import progress_of
from companion.show import PracticeTime, Section, Song

SOLO = (Section("Solo", 16, feature="solo"),)


def explained(one: Song, minutes: int = 60, today: dt.date = TODAY, *done: PracticeRecord) -> list[str]:
    """Explain the place of a song that comes second in its set, after one that is known."""
    opener = song("Fanfare", "C", known=5)
    made = advised(show(opener, one), today, PracticeTime((minutes,) * 7), progress_of(list(done)))
    at = next(at for at, each in enumerate(made.order, start=1) if each.song.title == one.title)
    return explain(made, at).splitlines()


def test_the_first_line_is_the_place_and_the_others_are_the_reasons() -> None:
    weeds = song("Weeds", "D", road_map=SOLO, hard=3, known=1, chart=False)
    assert explained(weeds)[:6] == [
        "Weeds is number 1 of 2: learn it first.",
        "  People listen to the keys: solo.",
        "  How hard it is: 3 of 5.",
        "  How well you know it: 1 of 5.",
        "  It has no chart.",
        "  Still to do: 5 blocks at the keyboard and 14 hearings.",
    ]
    # by hand: 1 + 3 / 2; 0.5 + 0.3 x 3; (5 - 1) / 5; without a chart 1.5
    weights = "features x2.5, opener x1, hard x1.4, little known x0.8, chart x1.5, days left x1 make 4.2"
    assert explained(weeds)[-1] == f"  In numbers: {weights}"


@pytest.mark.parametrize(
    ("more", "does"),
    [
        ({"road_map": SOLO}, "learn it first"),
        ({"hard": 1}, "learn enough to get by"),
        ({"hard": 5, "known": 0}, "skip it if time runs out"),
        ({"known": 5}, "it is ready"),
    ],
)
def test_each_group_says_what_to_do(more: dict[str, Any], does: str) -> None:
    assert explained(song("Weeds", "D", **more))[0].endswith(f": {does}.")


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({}, "It has no feature for the keys."),
        ({}, "How hard it is: 2 of 5 (not rated yet, so this is assumed)."),
        ({}, "How well you know it: 1 of 5 (not rated yet, so this is assumed)."),
        ({}, "Nothing says whether it has a chart."),
        ({"chart": True}, "It has a chart."),
    ],
)
def test_what_nobody_wrote_is_named(more: dict[str, Any], says: str) -> None:
    assert f"  {says}" in explained(song("Weeds", "D", **more))


def test_a_song_that_opens_a_set_says_so() -> None:
    made = advised(show(song("Weeds", "D")), TODAY, PracticeTime(), {})
    assert "  It opens the set First." in explain(made, 1).splitlines()


def test_the_days_are_named_on_which_the_plan_has_the_song() -> None:
    lines = explained(song("Weeds", "D", hard=0, known=4, chart=True))
    assert any(line.startswith("  At the keyboard: Sat 05 Jun") for line in lines)
    assert any(line.startswith("  Listening: Sat 05 Jun") for line in lines)


def test_too_few_days_are_a_reason_and_what_does_not_fit_is_named() -> None:
    hard = song("Weeds", "D", hard=5, known=0, road_map=SOLO)
    lines = explained(hard, 60, dt.date(2027, 6, 17))
    assert "  It needs the keyboard on 5 days, and only 2 days are left." in lines
    assert any(line.startswith("  Not all of it fits: only ") for line in lines)


def test_without_time_a_song_has_no_block_and_the_cut_says_how_to_get_by() -> None:
    lines = explained(song("Weeds", "D", hard=5, known=0), 0)
    assert "  At the keyboard: not planned." in lines
    assert any(line.startswith("  Not all of it fits: ask to drop (0 of ") for line in lines)


def test_one_block_and_one_hearing_are_singular() -> None:
    noon = dt.datetime(2027, 6, 4, 12, tzinfo=dt.UTC)
    heard = [PracticeRecord(noon, LogKind.HEARD, "Weeds", share=1.0)] * 4
    lines = explained(song("Weeds", "D", hard=0, known=4, chart=True), 60, TODAY, *heard)
    assert any(line.startswith("  Still to do: 1 block at the keyboard and ") for line in lines)
