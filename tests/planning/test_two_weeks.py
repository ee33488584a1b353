"""A list of 60 songs in a PDF becomes a question message, a plan, a playlist and a quiz, as a new user would do it."""

import csv
import datetime as dt
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from planning.shows import EVENING, TODAY
from reportlab.pdfgen.canvas import Canvas
from setlist.invented import KEYS, TITLES

from companion.errors import CompanionError
from companion.leader.landing_answers import answer_questions
from companion.leader.questions import ask
from companion.listening.player import Press
from companion.listening.playlist import write_playlists
from companion.listening.session import listen_to
from companion.planning.known_offers import offers_of_known, take_known
from companion.planning.planned import (
    explain_place,
    plan_days,
    readiness,
    write_calendar,
)
from companion.practice_log.export import export_records
from companion.practice_log.logged import exported, log_practice, renamed_records, show_and_progress
from companion.practice_log.records import LogKind, read_records
from companion.quiz.cards import Card
from companion.quiz.judging import judge
from companion.quiz.sitting import sit_quiz
from companion.setlist import import_list
from companion.show import PracticeTime, read_show

pytestmark = pytest.mark.usefixtures("reads_here")


def evening() -> dt.datetime:
    return EVENING


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


def test_practice_logged_by_hand_changes_the_plan(pier: Path) -> None:
    before = plan_days(pier, TODAY)
    songs = log_practice(pier, LogKind.HEARD, "set 1", EVENING)
    assert len(songs) == 4
    log_practice(pier, LogKind.PRACTISED, "gasworks", EVENING, minutes=12)
    after = plan_days(pier, TODAY)

    def needs(made: Any) -> dict[str, tuple[int, int]]:  # noqa: ANN401  a plan
        return {one.song.title: (one.blocks, one.hearings) for one in made.order}

    assert needs(after)["Kettle on the Jetty"][1] < needs(before)["Kettle on the Jetty"][1]
    assert needs(after)["Gasworks Corner"][0] == needs(before)["Gasworks Corner"][0] - 1
    with pytest.raises(CompanionError, match="no song or set"):
        log_practice(pier, LogKind.HEARD, "zebra crossing", EVENING)
    assert [one["did"] for one in exported(pier)] == ["heard"] * 4 + ["practised"]


def test_an_offered_known_is_written_into_the_file(pier: Path) -> None:
    for _ in range(3):
        log_practice(pier, LogKind.PRACTISED, "Gasworks Corner", EVENING, minutes=12)
    ((one, old, new),) = offers_of_known(pier)
    assert (one.title, old) == ("Gasworks Corner", 1)
    assert new > 1
    take_known(pier, [(one, new)], EVENING)
    assert read_show(pier).show.sets[0].songs[0].known == new
    assert "# a comment" in pier.read_text()
    assert offers_of_known(pier) == ()  # what was done is counted once
    assert {ranked.song.title: ranked.known_now for ranked in plan_days(pier, TODAY).order}[one.title] == new


def test_a_wrong_answer_offers_a_lower_known(pier: Path) -> None:
    pier.write_text(pier.read_text().replace("known: 1", "known: 5"))
    sit_quiz(pier, evening, lambda _: 1, most=1, only="Gasworks Corner")
    assert [(one.title, old, new) for one, old, new in offers_of_known(pier)] == [("Gasworks Corner", 5, 4)]


def test_one_right_answer_offers_no_new_known(pier: Path) -> None:
    sit_quiz(pier, evening, lambda _: 3, most=4)
    assert offers_of_known(pier) == ()


@pytest.mark.parametrize("name", ["done.csv", "done.json"])
def test_the_practice_log_is_exported_for_other_programs(pier: Path, tmp_path: Path, name: str) -> None:
    log_practice(pier, LogKind.PRACTISED, "gasworks", EVENING, minutes=12)
    log_practice(pier, LogKind.HEARD, "kettle", EVENING)
    assert export_records(pier, tmp_path / name) == 2
    text = (tmp_path / name).read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines())) if name.endswith("csv") else json.loads(text)
    assert [(one["did"], one["title"], one["at"]) for one in rows] == [
        ("practised", "Gasworks Corner", EVENING.isoformat()),
        ("heard", "Kettle on the Jetty", EVENING.isoformat()),
    ]
    assert float(rows[0]["minutes"]) == 12


def test_a_wrong_answer_brings_its_song_back_and_stopping_keeps_the_answers(pier: Path) -> None:
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


def test_a_named_song_is_quizzed_even_if_nothing_is_due(pier: Path) -> None:
    def asked() -> tuple[int, int, int]:
        sat = sit_quiz(pier, evening, lambda _: 3, only="kettle")
        return sat.right, sat.again, sat.left

    assert asked() == (1, 0, 0)
    assert asked() == (1, 0, 0)  # once more on the same evening
    assert sit_quiz(pier, evening, lambda _: 3).right == 1  # of today's, only the other song's is left


def test_unreached_questions_stay_open(pier: Path) -> None:
    sat = sit_quiz(pier, evening, lambda _: 1, most=1)
    assert (sat.right, sat.again, sat.left) == (0, 2, 1)  # the wrong one was run again


@pytest.mark.parametrize(
    ("only", "says"),
    [("zebra crossing", "no song or set called 'zebra crossing'"), ("moth", "nothing can be asked about moth")],
)
def test_a_song_without_questions_is_reported(pier: Path, only: str, says: str) -> None:
    with pytest.raises(CompanionError, match=says):
        sit_quiz(pier, evening, lambda _: 3, only=only)


def test_records_follow_a_song_that_a_second_list_renames(pier: Path, tmp_path: Path) -> None:
    log_practice(pier, LogKind.PRACTISED, "Kettle on the Jetty", EVENING, minutes=12)
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


def test_listening_records_hearings_and_lists_songs_not_played(pier: Path) -> None:
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
