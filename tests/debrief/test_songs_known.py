"""A song played on a night counts as known, is asked about once, and is not learned again for the next show."""

import datetime as dt
from pathlib import Path

import pytest
from debrief.test_debrief import SHOW, debrief_of, every, live
from debrief.test_debrief import show as show  # noqa: PLC0414  the fixture

from companion.cli import main
from companion.debrief import last_played as last_played_room
from companion.debrief.last_played import last_played
from companion.debrief.learned import rewritten
from companion.debrief.lessons import lessons_of, taken
from companion.debrief.songs_known import KnownLearned
from companion.planning.planned import explain_place, plan_days
from companion.practice_log.records import read_records
from companion.show import read_show
from companion.stage import Next

WHOLE = every(60, *[Next] * 7)
"""Lanterns out, then Paper Oars; Ferryman's | Coat is up next."""
TODAY = dt.date(2030, 6, 5)
NEXT_GIG = "show: Barn dance\ndate: 2030-06-19\nsongs:\n  - {title: Lanterns out, key: G}\n  - Paper Oars\n"


@pytest.fixture(autouse=True)
def _own_directory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(last_played_room, "data_path", lambda: tmp_path)


def known_in(path: Path) -> dict[str, int | None]:
    return {song.title: song.known for one in read_show(path).show.sets for song in one.songs}


def known_lesson(show: Path) -> str:
    return str(len(lessons_of(debrief_of(show).learned)))


def test_the_debrief_offers_the_songs_that_were_played_as_known_and_asks_once(show: Path) -> None:
    live(show, *WHOLE)
    assert debrief_of(show).learned.known == KnownLearned(("Lanterns out", "Paper Oars"))
    assert main(["debrief", str(show), "--take", known_lesson(show)]) == 0
    assert known_in(show) == {"Lanterns out": 5, "Paper Oars": 5, "Ferryman's | Coat": None}
    assert debrief_of(show).learned.known == KnownLearned()


def test_what_is_not_known_after_all_is_named_by_its_number_in_the_debrief(
    show: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    live(show, *WHOLE)
    answers = iter([*"nn", "4", "2"])
    monkeypatch.setattr("click.termui.visible_prompt_func", lambda *_: next(answers))
    assert main(["debrief", str(show), "--write"]) == 0
    assert 'there is no song "4". Write: numbers from the debrief (1 to 3)' in capsys.readouterr().err
    assert known_in(show) == {"Lanterns out": 5, "Paper Oars": 3, "Ferryman's | Coat": None}
    assert debrief_of(show).learned.known == KnownLearned(), "both were answered"
    assert [one.title for one in read_records(show).kept] == ["Lanterns out", "Paper Oars"]


@pytest.mark.parametrize(("before", "after"), [("known: 1", 1), ("known: 3", 3), ("known: 4", 3)])
def test_a_song_that_is_not_known_is_never_raised(show: Path, before: str, after: int) -> None:
    text = show.read_text(encoding="utf-8").replace("tempo: 120", f"tempo: 120\n        {before}")
    show.write_text(text, encoding="utf-8")
    live(show, *WHOLE)
    learned = taken([debrief_of(show).learned.known.but(["Lanterns out"])])
    rewritten(show, learned).write(dt.datetime.now().astimezone())
    assert known_in(show)["Lanterns out"] == after


def test_a_song_of_the_songbook_is_known_there_and_so_by_every_show_that_uses_it(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["songbook", str(show), "--yes"]) == 0
    live(show, *WHOLE)
    before = show.read_text(encoding="utf-8")
    assert main(["debrief", str(show), "--take", known_lesson(show)]) == 0
    assert show.read_text(encoding="utf-8") == before
    assert [line for line in capsys.readouterr().err.splitlines() if line.startswith("Wrote")] == [
        f"Wrote {show.with_name('songbook.yaml')}"
    ]
    assert known_in(show) == {"Lanterns out": 5, "Paper Oars": 5, "Ferryman's | Coat": None}
    assert show.with_name("songbook.yaml").read_text(encoding="utf-8").count("known: 5") == 2


@pytest.mark.parametrize(
    ("seconds", "dry_run"),
    [(3, False), (60, True)],  # stepped through; no keyboard
)
def test_what_was_no_night_makes_nothing_known(show: Path, seconds: int, *, dry_run: bool) -> None:
    live(show, *every(seconds, *[Next] * 7), dry_run=dry_run)
    assert debrief_of(show).learned.known == KnownLearned()
    assert last_played(show) == {}


def test_the_next_plan_does_not_teach_what_was_played_and_says_why(show: Path) -> None:
    live(show, *WHOLE)
    barn = show.with_name("barn.yaml")
    barn.write_text(NEXT_GIG, encoding="utf-8")
    made = plan_days(barn, TODAY, last_played=last_played)
    night = (dt.datetime.now().astimezone() - dt.timedelta(hours=6)).date()
    assert {one.song.title: (one.known_now, one.blocks) for one in made.order} == {
        "Lanterns out": (5, 0),
        "Paper Oars": (5, 0),
    }
    why = f"How well you know it: 5 of 5, from boathouse.yaml, played on {night}."
    assert why in explain_place(made, "Paper Oars")


def test_what_the_debrief_calls_not_known_is_learned_again(show: Path) -> None:
    live(show, *WHOLE)
    learned = taken([debrief_of(show).learned.known.but(["Paper Oars"])])
    rewritten(show, learned).write(dt.datetime.now().astimezone())
    barn = show.with_name("barn.yaml")
    barn.write_text(NEXT_GIG, encoding="utf-8")
    made = plan_days(barn, TODAY, last_played=last_played)
    assert {one.song.title: one.known_now for one in made.order} == {"Lanterns out": 5, "Paper Oars": 3}
    assert [str(one) for one in made.known_before] == [
        "Lanterns out: known 5 of 5 from boathouse.yaml",
        "Paper Oars: known 3 of 5 from boathouse.yaml",
    ]


def test_a_rating_from_before_the_night_gives_way_to_it_and_another_one_does_not(show: Path) -> None:
    text = show.read_text(encoding="utf-8")
    for title in ("- title: Lanterns out", "- Paper Oars"):
        text = text.replace(title, f"- title: {title.split(None, 1)[1].removeprefix('title: ')}\n        known: 2")
    show.write_text(text, encoding="utf-8")
    live(show, *WHOLE)
    barn = show.with_name("barn.yaml")
    barn.write_text(NEXT_GIG.replace("- Paper Oars", "- {title: Paper Oars, known: 3}").replace("key: G", "known: 2"))
    made = plan_days(barn, TODAY, last_played=last_played)
    assert {one.song.title: one.known_now for one in made.order} == {"Lanterns out": 5, "Paper Oars": 3}


def test_a_show_that_is_played_again_does_not_teach_what_its_last_night_had(show: Path) -> None:
    live(show, *WHOLE)
    rated = SHOW.replace("sets:", "date: 2030-06-19\nsets:").replace("tempo: 120", "known: 2")
    show.write_text(rated, encoding="utf-8")
    made = plan_days(show, TODAY, last_played=last_played)
    assert {one.song.title: one.known_now for one in made.order} == {
        "Lanterns out": 2,  # as the player says now
        "Paper Oars": 5,
        "Ferryman's | Coat": 1,
    }


def test_where_the_show_has_its_own_value_the_songbook_is_left_alone(show: Path) -> None:
    assert main(["songbook", str(show), "--yes"]) == 0
    text = show.read_text(encoding="utf-8")
    show.write_text(text.replace("#lanterns-out\n", "#lanterns-out\n        known: 2\n"), encoding="utf-8")
    live(show, *WHOLE)
    assert main(["debrief", str(show), "--take", known_lesson(show)]) == 0
    assert "#lanterns-out\n        known: 5\n" in show.read_text(encoding="utf-8")
    assert show.with_name("songbook.yaml").read_text(encoding="utf-8").count("known: 5") == 1


@pytest.mark.parametrize("answers", [True, False])
def test_songs_that_go_into_the_songbook_after_the_night_are_known_by_the_next_list(
    show: Path, *, answers: bool
) -> None:
    text = show.read_text(encoding="utf-8").replace("tempo: 120", "tempo: 120\n        known: 2")
    show.write_text(text, encoding="utf-8")
    live(show, *WHOLE)
    if answers:
        assert main(["debrief", str(show), "--take", known_lesson(show)]) == 0
    assert main(["songbook", str(show), "--yes"]) == 0
    mail, barn = show.with_name("mail.txt"), show.with_name("barn.yaml")
    mail.write_text(
        "Barn dance, 19 June 2030\n\n1. Lanterns Out - G\n2. paper oars\n3. Tin Harbour - D\n", encoding="utf-8"
    )
    assert main(["import", str(mail), "--into", str(barn), "--yes"]) == 0
    made = plan_days(barn, TODAY, date=dt.date(2030, 6, 19), last_played=last_played)
    assert {one.song.title: one.known_now for one in made.order} == {
        "Lanterns out": 5,
        "Paper Oars": 5,
        "Tin Harbour": 1,
    }
