"""The debrief on the page: what was different on the last night, and each lesson, taken or left by one click."""

import html
from pathlib import Path

import pytest
from debrief.test_debrief import NIGHT, SHOW, debrief_of, live
from pages.visiting import Answer, Site

from companion.cli import main
from companion.debrief import night_report as debrief_room
from companion.debrief.lessons import lesson_words, lessons_of
from companion.debrief.night_kinds import JournalKind
from companion.debrief.report_text import sum_line
from companion.night import memory as memory_room
from companion.pages import handed_out
from companion.show import read_show

LESSONS = (
    "Lanterns out takes 1:36, not 2:00",
    "Ferryman's | Coat takes 1:20",
    "Lanterns out, Solo is open",
    "Ferryman's | Coat, Solo is open",
    "the songs were played in a different order",
    "known now: Lanterns out, Ferryman's | Coat",
)


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    for room in (memory_room, debrief_room, handed_out):
        monkeypatch.setattr(room, "data_path", lambda: tmp_path)
    return Site(tmp_path, SHOW)


def say(site: Site, does: str, name: str) -> Answer:
    return site.ask("POST", "/list", {"does": does, "name": name})


def page(site: Site) -> str:
    answer = site.ask("GET", "/debrief")
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.text)


def offered(site: Site) -> list[str]:
    found = page(site)
    return [one for one in LESSONS if f'data-name="{one}"' in found]


def test_before_the_first_night_there_is_no_debrief_on_the_page(site: Site) -> None:
    assert "The debrief" not in site.ask("GET", "/view").text
    assert "No night has been played on this computer yet." in page(site)


def test_after_a_night_the_page_tells_it_in_the_words_of_the_command(site: Site) -> None:
    live(site.path, *NIGHT)
    whole = site.ask("GET", "/view").text
    assert "Before and after the show" in whole
    assert 'data-reads="/debrief"' in whole
    found = page(site)
    night = debrief_of(site.path)
    assert sum_line(night) in found
    assert "Lanterns out, 1:36 (planned 2:00)" in found
    assert "repeated: Solo (+1)" in found
    assert '"next" at Lanterns out, Solo' in html.unescape(found)
    assert tuple(map(lesson_words, lessons_of(night.learned))) == LESSONS
    assert offered(site) == list(LESSONS)


def test_one_lesson_is_taken_the_others_stay_and_undo_offers_it_again(site: Site) -> None:
    live(site.path, *NIGHT)
    answer = say(site, "lesson-take", LESSONS[0])
    assert answer.headers["x-notice"] == "Taken; Undo takes it back"
    assert site.text == SHOW.replace('length: "2:00"   #', 'length: "1:36"   #')
    assert offered(site) == list(LESSONS[1:])
    assert site.ask("POST", "/undo", {}).status_code == 200
    assert site.text == SHOW
    assert offered(site) == list(LESSONS)


def test_all_lessons_are_taken_at_once_and_by_one_undo_taken_back(site: Site) -> None:
    live(site.path, *NIGHT)
    assert say(site, "lesson-take", "all").headers["x-notice"] == "Taken: 6 lessons; Undo takes them back"
    songs = [song for one in read_show(site.path).show.sets for song in one.songs]
    assert [(song.title, song.length_s, song.known) for song in songs] == [
        ("Lanterns out", 96, 5),
        ("Ferryman's | Coat", 80, 5),
        ("Paper Oars", None, None),
    ]
    assert offered(site) == []
    assert "Nothing more." in page(site)
    assert site.ask("POST", "/undo", {}).status_code == 200
    assert site.text == SHOW
    assert offered(site) == list(LESSONS)


def test_a_song_that_is_not_known_yet_is_named_and_the_others_can_still_be_taken(site: Site) -> None:
    live(site.path, *NIGHT)
    assert say(site, "lesson-not-yet", "Ferryman's | Coat").headers["x-notice"] == "Not known yet: Ferryman's | Coat"
    assert say(site, "lesson-take", "known now: Lanterns out").status_code == 200
    songs = [song for one in read_show(site.path).show.sets for song in one.songs]
    assert [(song.title, song.known) for song in songs] == [
        ("Lanterns out", 5),
        ("Paper Oars", None),
        ("Ferryman's | Coat", 3),
    ]


def test_undo_says_how_many_steps_it_needs_where_the_songbook_is_written_too(site: Site) -> None:
    assert main(["songbook", str(site.path), "--only", "Lanterns out", "--yes"]) == 0
    before = site.path.with_name("songbook.yaml").read_text(encoding="utf-8")
    live(site.path, *NIGHT)
    site.ask("GET", "/view")
    assert say(site, "lesson-take", LESSONS[-1]).headers["x-notice"] == "Taken; Undo takes it back in 2 steps"
    for _ in range(2):
        assert site.ask("POST", "/undo", {}).status_code == 200
    assert site.path.with_name("songbook.yaml").read_text(encoding="utf-8") == before
    assert LESSONS[-1] in offered(site)


def test_a_night_can_be_called_a_rehearsal_and_back(site: Site) -> None:
    live(site.path, *NIGHT)
    assert say(site, "night-is", "rehearsal").headers["x-notice"] == "Taken as a rehearsal"
    assert debrief_of(site.path).kind is JournalKind.REHEARSAL
    assert offered(site) == list(LESSONS[2:4])
    say(site, "night-is", "night")
    assert offered(site) == list(LESSONS)


@pytest.mark.parametrize(
    ("does", "name"), [("lesson-take", "Moth takes 9:99"), ("lesson-not-yet", "Moth"), ("night-is", "dry run")]
)
def test_what_is_no_lesson_of_this_night_is_refused(site: Site, does: str, name: str) -> None:
    live(site.path, *NIGHT)
    answer = say(site, does, name)
    assert (answer.status_code, answer.text) == (422, "this lesson is no longer there; open the debrief again")
    assert site.text == SHOW


def test_a_show_with_faults_gets_no_lessons(site: Site) -> None:
    live(site.path, *NIGHT)
    assert site.ask("GET", "/view").status_code == 200
    site.path.write_text(SHOW.replace("tempo: 120", "tempoo: 120"), encoding="utf-8")
    answer = say(site, "lesson-take", LESSONS[1])
    assert answer.status_code == 422
    assert "tempoo: 120" in site.text
