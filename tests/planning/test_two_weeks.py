"""A list of 60 songs in a PDF becomes a question message, a plan, a playlist and a quiz, as a new user would do it."""

import csv
import datetime as dt
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from planning.shows import TODAY
from reportlab.pdfgen.canvas import Canvas
from setlist.invented import KEYS, TITLES

from companion.errors import CompanionError
from companion.leader.landing_answers import answer_questions
from companion.leader.questions import ask
from companion.listening.player import Press
from companion.listening.playlist import write_playlists
from companion.listening.session import listen_to
from companion.planning.known_offers import offers_of_known, take_known
from companion.planning.plan import Plan
from companion.planning.planned import (
    explain_place,
    keep_time,
    log_today,
    means_today,
    plan_days,
    practice_time,
    readiness,
    write_calendar,
)
from companion.practice_log.export import export_records
from companion.practice_log.logged import exported, log_practice, renamed_records, show_and_progress
from companion.practice_log.records import Did, read_records
from companion.quiz.cards import Card
from companion.quiz.judging import judge
from companion.quiz.sitting import sit_quiz
from companion.setlist import import_list
from companion.show import PracticeTime, read_show

EVENING = dt.datetime(2027, 6, 5, 19, tzinfo=dt.UTC)
SHOW = """show: Pier Street  # mine
date: 2027-06-19
sets:
  - set: First
    songs:
      - title: Gasworks Corner   # a comment
        key: Bb
        known: 1
        hard: 1
        recording: a.ogg
      - title: Kettle on the Jetty
        key: F
      - title: Moth
        recording: gone.ogg
      - {title: Weeds, recording: "https://example.org/weeds"}
"""


def evening() -> dt.datetime:
    return EVENING


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(SHOW)
    return path


def pdf(path: Path) -> None:
    dice = random.Random(60)  # noqa: S311  no secret
    canvas = Canvas(str(path))
    for page in range(3):
        canvas.setFont("Helvetica-Bold", 16)
        canvas.drawString(60, 800, f"Set {page + 1} ({20 + page}:00, 60 min)")
        canvas.setFont("Helvetica", 12)
        for at in range(20):
            y = 770 - 34 * at
            canvas.drawString(60, y, f"{at + 1}.")
            canvas.drawString(90, y, TITLES[page * 20 + at])
            canvas.drawString(330, y, dice.choice(KEYS) if at % 5 else "")
            canvas.drawString(400, y, f"{dice.randrange(2, 5)}:{dice.randrange(60):02}")
            canvas.drawString(460, y, "organ solo" if at % 7 == 0 else "")
        canvas.showPage()
    canvas.save()


def test_sixty_songs_in_a_pdf_become_questions_a_plan_a_playlist_and_a_quiz(tmp_path: Path) -> None:
    pdf(tmp_path / "list.pdf")
    path = tmp_path / "show.yaml"
    imported = import_list(tmp_path / "list.pdf", path)
    assert [[song.title for song in one.songs] for one in imported.show.sets] == [
        list(TITLES[start : start + 20]) for start in (0, 20, 40)
    ]
    message = ask(show_and_progress(path)[0])
    assert sum(question.ask.name == "KEY" for question in message.now) == 12
    (tmp_path / "reply.txt").write_text("1 Bb, 6 Gm, 11 D\nThe date is 19 June 2027")
    landed = answer_questions(path, tmp_path / "reply.txt", EVENING)
    assert landed.is_written
    assert [str(one) for one in landed.answers.found][:1] == [f"{TITLES[0]}: key Bb"]
    made = plan_days(path, TODAY, PracticeTime((90,) * 7))
    assert len(made.days) == 14
    assert explain_place(made, TITLES[0]).startswith(f"{TITLES[0]} is number ")
    playlist, paths = write_playlists(read_show(path).show, path)
    assert len(playlist.without) == 60
    assert all(Path(each).is_file() for each in paths)
    sat = sit_quiz(path, evening, lambda card: judge(card, card.answer, 9))
    assert (sat.right, sat.again, sat.left) == (20, 0, 0)
    assert len(read_records(path).kept) == 20


def test_what_was_done_elsewhere_is_logged_and_changes_the_plan(pier: Path) -> None:
    before = plan_days(pier, TODAY)
    songs = log_practice(pier, Did.HEARD, "set 1", EVENING)
    assert len(songs) == 4
    log_practice(pier, Did.PRACTISED, "gasworks", EVENING, minutes=12)
    after = plan_days(pier, TODAY)

    def needs(made: Any) -> dict[str, tuple[int, int]]:  # noqa: ANN401  a plan
        return {one.song.title: (one.blocks, one.hearings) for one in made.order}

    assert needs(after)["Kettle on the Jetty"][1] < needs(before)["Kettle on the Jetty"][1]
    assert needs(after)["Gasworks Corner"][0] == needs(before)["Gasworks Corner"][0] - 1
    with pytest.raises(CompanionError, match="no song or set"):
        log_practice(pier, Did.HEARD, "zebra crossing", EVENING)
    assert [one["did"] for one in exported(pier)] == ["heard"] * 4 + ["practised"]


def test_the_practice_time_is_kept_with_the_show_and_the_next_plan_is_the_same(pier: Path) -> None:
    before = pier.read_text()
    time = practice_time(pier, "45, sat=120", "sun", None)
    assert time == PracticeTime((45, 45, 45, 45, 45, 120, 45), (6,), 45)
    keep_time(pier, time)
    kept = "practice:\n  minutes: 45, sat=120\n  days_off: sun\n  listening: 45\n"
    assert pier.read_text() == before.replace("sets:\n", f"{kept}sets:\n", 1)
    assert plan_days(pier, TODAY) == plan_days(pier, TODAY, time)
    assert practice_time(pier) == time
    keep_time(pier, practice_time(pier, "30", "none", 20))
    assert pier.read_text() == before.replace("sets:\n", "practice:\n  minutes: 30\n  listening: 20\nsets:\n", 1)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("sixty", None, None), '"sixty" is not a number of minutes a day. Write: 60, or 45, sat=120, sun=0'),
        (("60, xyz=5", None, None), '"xyz=5" is not a number of minutes a day'),
        (("5000", None, None), '"5000" is not a number of minutes a day'),
        ((None, "19.6.", None), '"19.6." is not a date or a weekday. Write: sun, 2027-06-12'),
        ((None, None, 5000), "5000 minutes of listening do not fit in a day"),
    ],
)
def test_practice_time_that_is_none_is_refused_with_what_to_write(
    pier: Path, typed: tuple[str | None, str | None, int | None], says: str
) -> None:
    with pytest.raises(CompanionError) as refused:
        practice_time(pier, *typed)
    assert says in str(refused.value)


def test_what_was_done_today_is_not_planned_again(pier: Path) -> None:
    before = plan_days(pier, TODAY).days[0]
    log_practice(pier, Did.PRACTISED, "Moth", EVENING, minutes=25)
    log_practice(pier, Did.HEARD, "Weeds", EVENING)
    after = plan_days(pier, TODAY)
    assert (before.used, after.days[0].used) == (40, 30)  # three first blocks fit into the 35 minutes that are left
    assert "Moth" not in {block.title for block in after.days[0].blocks}
    assert after.days[0].listened <= 45 - 3.8
    tomorrow = plan_days(pier, TODAY + dt.timedelta(days=1)).days[0]
    assert tomorrow.listened > 0


def test_a_day_that_went_as_planned_is_recorded_in_one_word(pier: Path) -> None:
    planned = plan_days(pier, TODAY).days[0]
    assert log_today(pier, Did.PRACTISED, EVENING) == tuple(block.title for block in planned.blocks)
    assert log_today(pier, Did.HEARD, EVENING) == tuple(
        one.title for one in planned.listening for _ in range(one.times)
    )
    told = [(one.did, one.title, one.minutes) for one in read_records(pier).kept]
    assert told[: len(planned.blocks)] == [(Did.PRACTISED, block.title, block.minutes) for block in planned.blocks]
    assert plan_days(pier, TODAY).days[0].used == 0
    tomorrow = plan_days(pier, TODAY + dt.timedelta(days=1))
    assert not any(one.is_new for one in tomorrow.order)


def test_a_set_that_was_run_as_planned_is_recorded_as_run(pier: Path) -> None:
    for day in range(14):
        log_today(pier, Did.PRACTISED, EVENING + dt.timedelta(days=day))
    ran = [(one.title, one.at.day) for one in read_records(pier).kept if one.did is Did.RAN]
    assert [title for title, _ in ran] == ["Gasworks Corner", "Kettle on the Jetty", "Moth", "Weeds"]
    assert {day for _, day in ran} == {17}  # the day before the light one, and once only


@pytest.mark.parametrize("missed", [(), (1,)])
def test_who_follows_the_plan_day_by_day_has_every_song_played_and_heard_by_the_show(
    tmp_path: Path, missed: tuple[int, ...]
) -> None:
    titles = TITLES[:16]
    path = tmp_path / "show.yaml"
    listed = "".join(f"  - {{title: '{title}', length: 210, known: {at % 4}}}\n" for at, title in enumerate(titles))
    path.write_text(f"show: Ball\ndate: 2027-06-10\npractice: {{listening: 35}}\nsongs:\n{listed}")
    for day in range(5):
        if day not in missed:
            log_today(path, Did.PRACTISED, EVENING + dt.timedelta(days=day))
            log_today(path, Did.HEARD, EVENING + dt.timedelta(days=day))
    progress = show_and_progress(path)[1]
    assert len(progress) == 16
    assert all(one.practised and len(one.heard) >= 2 for one in progress.values())


def test_a_song_called_today_is_a_song(pier: Path) -> None:
    assert means_today(pier, "Today")
    pier.write_text(pier.read_text().replace("title: Moth", "title: Today"))
    assert not means_today(pier, "today")


def earlier(pier: Path, songs: str, name: str = "spring.yaml", date: str = "2027-04-03") -> Path:
    path = pier.with_name(name)
    path.write_text(f"show: Spring Fair\ndate: {date}\nsongs:\n{songs}")
    return path


def known_in(made: Plan) -> dict[str, tuple[float, int]]:
    return {one.song.title: (one.known_now, one.blocks) for one in made.order}


def test_a_song_that_an_earlier_show_knew_is_not_learned_again(pier: Path) -> None:
    earlier(pier, "  - {title: moth, known: 5}\n  - {title: Kettle on the Jetty, key: G, known: 5}\n  - Weeds\n")
    made = plan_days(pier, TODAY)
    assert known_in(made)["Moth"] == (5, 0)
    assert known_in(made)["Kettle on the Jetty"][0] == 4  # it was in another key
    assert known_in(made)["Weeds"][0] == 1  # nothing was said: assumed as ever
    assert [str(one) for one in made.known_before] == [
        "Kettle on the Jetty: known 4 of 5 from spring.yaml",
        "Moth: known 5 of 5 from spring.yaml",
    ]
    assert explain_place(made, "Moth").endswith("How well it is known comes from spring.yaml.")


def test_work_logged_for_an_earlier_show_counts_and_the_newest_show_is_the_one(pier: Path) -> None:
    path = earlier(pier, "  - {title: Moth, hard: 0, chart: yes}\n")
    for _ in range(5):
        log_practice(path, Did.PRACTISED, "Moth", EVENING)
        log_practice(path, Did.HEARD, "Moth", EVENING)
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
    ],
)
def test_what_says_nothing_about_this_show_changes_nothing(pier: Path, songs: str, name: str, date: str) -> None:
    before = plan_days(pier, TODAY)
    earlier(pier, songs, name, date)
    assert plan_days(pier, TODAY) == before


def test_another_band_s_song_with_the_same_title_is_another_song(pier: Path) -> None:
    pier.write_text(pier.read_text().replace("- title: Moth", "- title: Moth\n        artist: The Nine"))
    earlier(pier, "  - {title: Moth, artist: Harbour Brass, known: 5}\n")
    assert known_in(plan_days(pier, TODAY))["Moth"][0] == 1


def test_known_is_offered_and_taken_into_the_file(pier: Path) -> None:
    for _ in range(3):
        log_practice(pier, Did.PRACTISED, "Gasworks Corner", EVENING, minutes=12)
    ((one, old, new),) = offers_of_known(pier)
    assert (one.title, old) == ("Gasworks Corner", 1)
    assert new > 1
    take_known(pier, [(one, new)], EVENING)
    assert read_show(pier).show.sets[0].songs[0].known == new
    assert "# a comment" in pier.read_text()
    assert offers_of_known(pier) == ()  # what was done is counted once
    assert {ranked.song.title: ranked.known_now for ranked in plan_days(pier, TODAY).order}[one.title] == new


def test_a_wrong_answer_offers_less_than_all_is_known(pier: Path) -> None:
    pier.write_text(pier.read_text().replace("known: 1", "known: 5"))
    sit_quiz(pier, evening, lambda _: 1, most=1, only="Gasworks Corner")
    assert [(one.title, old, new) for one, old, new in offers_of_known(pier)] == [("Gasworks Corner", 5, 4)]


def test_one_right_answer_offers_nothing(pier: Path) -> None:
    sit_quiz(pier, evening, lambda _: 3, most=4)
    assert offers_of_known(pier) == ()


@pytest.mark.parametrize("name", ["done.csv", "done.json"])
def test_what_was_done_is_written_for_another_program(pier: Path, tmp_path: Path, name: str) -> None:
    log_practice(pier, Did.PRACTISED, "gasworks", EVENING, minutes=12)
    log_practice(pier, Did.HEARD, "kettle", EVENING)
    assert export_records(pier, tmp_path / name) == 2
    text = (tmp_path / name).read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines())) if name.endswith("csv") else json.loads(text)
    assert [(one["did"], one["title"], one["at"]) for one in rows] == [
        ("practised", "Gasworks Corner", EVENING.isoformat()),
        ("heard", "Kettle on the Jetty", EVENING.isoformat()),
    ]
    assert float(rows[0]["minutes"]) == 12


def test_a_wrong_answer_brings_its_song_back_and_stopping_keeps_what_was_answered(pier: Path) -> None:
    answers = iter([1, 3, None])
    sat = sit_quiz(pier, evening, lambda _: next(answers))
    assert (sat.right, sat.again) == (1, 1)
    assert [one.grade for one in read_records(pier).kept] == [1, 3]


def test_only_one_song_can_be_asked_about(pier: Path) -> None:
    asked: list[str] = []

    def answer(card: Card) -> int:
        asked.append(card.song.title)
        return 3

    sit_quiz(pier, evening, answer, only="kettle")
    assert set(asked) == {"Kettle on the Jetty"}


def test_a_song_asked_for_by_name_is_asked_about_though_nothing_is_to_brush_up(pier: Path) -> None:
    def asked() -> tuple[int, int, int]:
        sat = sit_quiz(pier, evening, lambda _: 3, only="kettle")
        return sat.right, sat.again, sat.left

    assert asked() == (1, 0, 0)
    assert asked() == (1, 0, 0)  # once more on the same evening
    assert sit_quiz(pier, evening, lambda _: 3).right == 1  # of today's, only the other song's is left


def test_what_was_not_reached_is_left(pier: Path) -> None:
    sat = sit_quiz(pier, evening, lambda _: 1, most=1)
    assert (sat.right, sat.again, sat.left) == (0, 2, 1)  # the wrong one was run again


@pytest.mark.parametrize(
    ("only", "says"),
    [("zebra crossing", "no song or set called 'zebra crossing'"), ("moth", "nothing can be asked about moth")],
)
def test_a_song_that_cannot_be_asked_about_is_reported(pier: Path, only: str, says: str) -> None:
    with pytest.raises(CompanionError, match=says):
        sit_quiz(pier, evening, lambda _: 3, only=only)


def test_records_follow_a_song_that_a_second_list_renames(pier: Path, tmp_path: Path) -> None:
    log_practice(pier, Did.PRACTISED, "Kettle on the Jetty", EVENING, minutes=12)
    (tmp_path / "second.txt").write_text("1. Gasworks Corner\n2. Kettle on a Jetty\n3. Moth\n4. Weeds")
    import_list(tmp_path / "second.txt", pier, also=lambda made: renamed_records(made, EVENING))
    show, progress = show_and_progress(pier)
    assert show.sets[0].songs[1].title == "Kettle on a Jetty"
    assert len(progress["kettle on a jetty"].practised) == 1


def test_the_half_hour_and_the_calendar(pier: Path, tmp_path: Path) -> None:
    assert readiness(pier, EVENING).now
    write_calendar(plan_days(pier, TODAY), tmp_path / "plan.ics", EVENING)
    assert (tmp_path / "plan.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


class Silent:
    """A player whose files are a second long."""

    at = 0.0

    def play(self, path: str, from_s: float) -> None:
        assert path.endswith("a.ogg")
        self.at = from_s

    def pause(self, paused: bool) -> None:  # noqa: FBT001  as the shape has it
        raise AssertionError(paused)

    def at_s(self) -> float | None:
        return self.at if self.at < 1 else None

    def stop(self) -> None:
        self.at = 1.0

    def length_s(self, path: str) -> float:
        raise AssertionError(path)

    def wait(self) -> None:
        self.at += 0.1


def test_listening_records_what_was_heard_and_tells_what_was_silent(pier: Path) -> None:
    (pier.parent / "a.ogg").write_bytes(b"")
    player = Silent()

    def nothing() -> Iterator[Press]:
        return iter(())

    listened, silent = listen_to(pier, player, nothing, lambda _: None, player.wait, evening)
    assert [song.title for song, _ in listened.heard] == ["Gasworks Corner"]
    assert silent == (
        "Moth: gone.ogg is missing",
        "Weeds: a link; companion playlist includes it",
        "Kettle on the Jetty: no recording",
    )
    assert read_records(pier).kept[0].share >= 0.9
