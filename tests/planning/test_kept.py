"""What is kept from day to day and from show to show: the practice time, what was done, what was known."""

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from planning.shows import EVENING, TODAY
from setlist.invented import TITLES

from companion.errors import CompanionError
from companion.planning.plan_model import Plan
from companion.planning.plan_text import known_lines, seldom_lines
from companion.planning.planned import explain_place, keep_time, log_today, means_today, plan_days, practice_time
from companion.practice_log.logged import log_practice, show_and_progress
from companion.practice_log.records import LogKind, read_records
from companion.show import PracticeTime


def test_the_practice_time_is_kept_with_the_show_and_the_next_plan_is_the_same(pier: Path) -> None:
    before = pier.read_text()
    time = practice_time(pier, "45, sat=120", "sun", None, today=TODAY)
    assert time == PracticeTime((45, 45, 45, 45, 45, 120, 45), (6,), 45)
    keep_time(pier, time)
    kept = "practice:\n  minutes: 45, sat=120\n  days_off: sun\n  listening: 45\n"
    assert pier.read_text() == before.replace("sets:\n", f"{kept}sets:\n", 1)
    assert plan_days(pier, TODAY) == plan_days(pier, TODAY, time)
    assert practice_time(pier, today=TODAY) == time
    keep_time(pier, practice_time(pier, rehearsals="18 June, 2027-06-16", today=TODAY))
    assert f"{kept}  rehearsals: 2027-06-16, 2027-06-18\n" in pier.read_text()
    keep_time(pier, practice_time(pier, "30", "none", 20, "none", today=TODAY))
    assert pier.read_text() == before.replace("sets:\n", "practice:\n  minutes: 30\n  listening: 20\nsets:\n", 1)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ((None, None, None, "next week"), '"next week" is not a date. Write: 16 June 2027, 18 June 2027'),
        (("sixty", None, None), '"sixty" is not a number of minutes a day. Write: 60, or 45, sat=120, sun=0'),
        (("60, xyz=5", None, None), '"xyz=5" is not a number of minutes a day'),
        (("5000", None, None), '"5000" is not a number of minutes a day'),
        ((None, "dawn", None), '"dawn" is not a date or a weekday. Write: sun, 16 June 2027'),
        ((None, None, None, "4 June"), "4 June 2028 is after the show. Write: 16 June 2027, 18 June 2027"),
        ((None, None, 5000), "5000 minutes of listening do not fit in a day"),
    ],
)
def test_unreadable_practice_time_is_refused_with_what_to_write(pier: Path, typed: tuple[Any, ...], says: str) -> None:
    with pytest.raises(CompanionError) as refused:
        practice_time(pier, *typed, today=TODAY)
    assert says in str(refused.value)


def test_todays_finished_work_is_not_planned_again(pier: Path) -> None:
    before = plan_days(pier, TODAY).days[0]
    log_practice(pier, LogKind.PRACTISED, "Moth", EVENING, minutes=25)
    log_practice(pier, LogKind.HEARD, "Weeds", EVENING)
    after = plan_days(pier, TODAY)
    assert (before.used, after.days[0].used) == (40, 30)  # three first blocks fit into the 35 minutes that are left
    assert "Moth" not in {block.title for block in after.days[0].blocks}
    assert after.days[0].listened <= 45 - 3.8
    tomorrow = plan_days(pier, TODAY + dt.timedelta(days=1)).days[0]
    assert tomorrow.listened > 0


def test_one_word_records_a_day_that_went_as_planned(pier: Path) -> None:
    planned = plan_days(pier, TODAY).days[0]
    assert log_today(pier, LogKind.PRACTISED, EVENING) == tuple(block.title for block in planned.blocks)
    assert log_today(pier, LogKind.HEARD, EVENING) == tuple(
        one.title for one in planned.listening for _ in range(one.times)
    )
    told = [(one.did, one.title, one.minutes) for one in read_records(pier).kept]
    assert told[: len(planned.blocks)] == [(LogKind.PRACTISED, block.title, block.minutes) for block in planned.blocks]
    assert plan_days(pier, TODAY).days[0].used == 0
    tomorrow = plan_days(pier, TODAY + dt.timedelta(days=1))
    assert not any(one.is_new for one in tomorrow.order)


def test_a_set_run_as_planned_is_recorded_as_run(pier: Path) -> None:
    for day in range(14):
        log_today(pier, LogKind.PRACTISED, EVENING + dt.timedelta(days=day))
    ran = [(one.title, one.at.day) for one in read_records(pier).kept if one.did is LogKind.RAN]
    assert [title for title, _ in ran] == ["Gasworks Corner", "Kettle on the Jetty", "Moth", "Weeds"]
    assert {day for _, day in ran} == {17}  # the day before the light one, and once only


@pytest.mark.parametrize("missed", [(), (1,)])
def test_following_the_plan_covers_every_song_by_the_show(tmp_path: Path, missed: tuple[int, ...]) -> None:
    titles = TITLES[:16]
    path = tmp_path / "show.yaml"
    listed = "".join(f'  - title: "{title}"\n    length: 210\n    known: {at % 4}\n' for at, title in enumerate(titles))
    path.write_text(f"show: Ball\ndate: 2027-06-10\npractice: {{listening: 35}}\nsongs:\n{listed}")
    for day in range(5):
        if day not in missed:
            log_today(path, LogKind.PRACTISED, EVENING + dt.timedelta(days=day))
            log_today(path, LogKind.HEARD, EVENING + dt.timedelta(days=day))
    progress = show_and_progress(path)[1]
    assert len(progress) == 16
    assert all(one.practised and len(one.heard) >= 2 for one in progress.values())


def test_today_means_a_song_if_the_show_has_one(pier: Path) -> None:
    assert means_today(pier, "Today")
    pier.write_text(pier.read_text().replace("title: Moth", "title: Today"))
    assert not means_today(pier, "today")


def earlier(pier: Path, songs: str, name: str = "spring.yaml", date: str = "2027-04-03") -> Path:
    path = pier.with_name(name)
    path.write_text(f"show: Spring Fair\ndate: {date}\nsongs:\n{songs}")
    return path


def known_in(made: Plan) -> dict[str, tuple[float, int]]:
    return {one.song.title: (one.known_now, one.blocks) for one in made.order}


def test_a_song_known_from_an_earlier_show_is_not_learned_again(pier: Path) -> None:
    earlier(pier, "  - {title: moth, known: 5}\n  - {title: Kettle on the Jetty, key: G, known: 5}\n  - Weeds\n")
    made = plan_days(pier, TODAY)
    assert known_in(made)["Moth"] == (5, 0)
    assert known_in(made)["Kettle on the Jetty"][0] == 4  # it was in another key
    assert known_in(made)["Weeds"][0] == 1  # nothing was said: assumed as ever
    assert [str(one) for one in made.known_before] == [
        "Kettle on the Jetty: known 4 of 5 from spring.yaml",
        "Moth: known 5 of 5 from spring.yaml",
    ]
    assert known_lines(made) == ("Known from spring.yaml: Kettle on the Jetty (4 of 5), Moth (5 of 5)",)
    assert "How well you know it: 5 of 5, from spring.yaml." in explain_place(made, "Moth")


def test_work_logged_for_an_earlier_show_counts_and_the_newest_show_wins(pier: Path) -> None:
    path = earlier(pier, "  - {title: Moth, hard: 0, chart: yes}\n")
    for _ in range(5):
        log_practice(path, LogKind.PRACTISED, "Moth", EVENING)
        log_practice(path, LogKind.HEARD, "Moth", EVENING)
    assert known_in(plan_days(pier, TODAY))["Moth"][0] == 5
    earlier(pier, "  - {title: Moth, known: 2}\n", "may.yaml", "2027-05-08")
    assert known_in(plan_days(pier, TODAY))["Moth"][0] == 2


@pytest.mark.parametrize(
    ("songs", "name", "date"),
    [
        ("  - {title: Gasworks Corner, known: 5}\n", "spring.yaml", "2027-04-03"),  # the show itself says 1
        ("  - {title: Moth, known: 5}\n", "later.yaml", "2027-08-01"),  # after this show
        ("  - {title: Moth, known: seven}\n", "fault.yaml", "2027-04-03"),
        ("  - {title: Moth, known: 5}\n", "notes.txt", "2027-04-03"),
        ("  - {title: Moth, known: 5}\n", "pier.before-1.yaml", "2027-04-03"),  # this show's own older version
    ],
)
def test_unrelated_records_change_nothing(pier: Path, songs: str, name: str, date: str) -> None:
    before = plan_days(pier, TODAY)
    earlier(pier, songs, name, date)
    assert plan_days(pier, TODAY) == before


def test_another_bands_song_with_the_same_title_is_a_different_song(pier: Path) -> None:
    pier.write_text(pier.read_text().replace("- title: Moth", "- title: Moth\n        artist: The Nine"))
    earlier(pier, "  - {title: Moth, artist: Harbour Brass, known: 5}\n")
    assert known_in(plan_days(pier, TODAY))["Moth"][0] == 1


def test_songs_that_miss_the_same_share_a_line(tmp_path: Path) -> None:
    path = tmp_path / "long.yaml"
    songs = "".join(f"  - title: Song {number}\n" for number in range(40))
    path.write_text(f"show: Long\ndate: 2027-06-19\nsongs:\n{songs}")
    made = plan_days(path, TODAY)
    lines = seldom_lines(made)
    whats = [line.partition(": ")[0] for line in lines]
    assert len(whats) == len(set(whats)) < 10
    named = [title for line in lines for title in line.partition(": ")[2].split(", ")]
    assert named.count("Song 39") == 1
    assert len(named) == sum(one.cut is None for one in made.left_out) > 30
