"""The leader's answers, pasted on the page: read as ``companion questions --answers`` reads them; sure ones land."""

import datetime as dt
import re
from pathlib import Path

import pytest
from pages.visiting import Site

from companion import child
from companion.child import Ended
from companion.files import SourceFile
from companion.leader.answers import read_answers
from companion.leader.landing_answers import answer_questions
from companion.pages.reply_apart import read_reply_apart
from companion.show.show_file import show_in

SHOW = """\
show: Night at the Mill
sets:
  - set: First
    songs:
      - title: Tram Home   # ask Osbert
        key: D
      - title: Herring Waltz
      - title: Lamplighter
      - title: Gravel Hour
        key: C
"""
REPLY = "Herring Waltz is in Bb\nLamplighter - F\nTram Home: E\nGravel Hour is fine I think, ask Jo about the thing\n"


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Site:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return Site(tmp_path, SHOW)


def test_sure_answers_land_as_the_command_writes_them_and_the_rest_is_listed(site: Site, tmp_path: Path) -> None:
    other = tmp_path / "by command"
    other.mkdir()
    (other / "mill.yaml").write_text(SHOW, encoding="utf-8")
    (other / "reply.txt").write_text(REPLY, encoding="utf-8")
    now = dt.datetime.now().astimezone()
    landed = answer_questions(other / "mill.yaml", other / "reply.txt", now, settle=lambda _: None)
    assert landed.answers.found
    assert landed.answers.contradicts
    answer = site.ask("POST", "/reply", {"text": REPLY})
    assert answer.status_code == 200, answer.text
    assert answer.headers["x-notice"].startswith(f"{len(landed.answers.found)} answer")
    assert site.text == (other / "mill.yaml").read_text(encoding="utf-8")
    assert "key: Bb" in site.text
    assert "key: D" in site.text, "what contradicts the show is the player's to decide"
    assert "the leader says E" in answer.text
    assert not list((tmp_path / "kept" / "pages").glob("tmp*")), "the message is not kept"


def test_a_message_that_answers_nothing_changes_nothing(site: Site) -> None:
    answer = site.ask("POST", "/reply", {"text": "See you Friday\n"})
    assert answer.status_code == 200
    assert answer.headers["x-notice"] == "Nothing is taken"
    assert site.text == SHOW


def test_the_message_is_read_in_a_process_of_its_own_within_limits(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    def here(*_: object, **__: object) -> None:
        raise AssertionError("read in the server's process")

    monkeypatch.setattr("companion.leader.answers._read", here)
    assert " taken" in site.ask("POST", "/reply", {"text": REPLY}).headers["x-notice"]
    site.path.write_text(SHOW, encoding="utf-8")
    for ended in (Ended.TOO_LONG, Ended.TOO_MUCH, Ended.BROKEN):
        monkeypatch.setattr(child, "ask", lambda *_, ended=ended: child.ChildOutput(ended, b""))
        answer = site.ask("POST", "/reply", {"text": REPLY})
        assert answer.status_code == 422
        assert answer.text.startswith("this message ")
        assert site.text == SHOW


def test_the_answers_survive_the_way_to_the_process_and_back() -> None:
    show = show_in(SourceFile("mill.yaml", SHOW)).show
    day = dt.date(2027, 6, 1)
    alone = read_answers(REPLY, show, today=day, numbers=[0, 1, 2, 3], asked=frozenset({(0, "key")}))
    apart = read_reply_apart(REPLY, show, today=day, numbers=[0, 1, 2, 3], asked=frozenset({(0, "key")}))
    assert apart == alone


def test_every_answer_in_doubt_is_shown_with_its_value_and_taken_changed_or_left_out(site: Site) -> None:
    reply = "Herring Waltz A (Bb on the record)\nLamplighter in C, fast!!\nLamplighter drums start\nTram Home: E\n"
    answer = site.ask("POST", "/reply", {"text": reply})
    assert answer.headers["x-notice"] == "1 answer taken; Undo takes all of it back; 3 in doubt wait for you"
    assert "3 answers of the leader are in doubt" in answer.text
    for words in (
        "Herring Waltz: key A?",
        "Take A<",
        "Lamplighter: key C?",
        "the show says key D, the leader says E",
        "Keep D<",
    ):
        assert words in answer.text
    assert "drums start" in answer.text
    assert "starts_with" not in answer.text
    assert answer.text.count("Bb on the record") == 1, "not as words that were not understood too"
    numbers = re.findall(r'id="reply-(\d+)-own"', answer.text)
    kettle, lamp, tram = numbers
    taken = site.ask("POST", "/list", {"does": "reply-take", "name": kettle, "word": "A"})
    assert taken.headers["x-notice"] == "Herring Waltz: key A"
    changed = site.ask("POST", "/list", {"does": "reply-take", "name": lamp, "word": "Db"})
    assert changed.status_code == 200
    left = site.ask("POST", "/list", {"does": "reply-out", "name": tram})
    assert "of the leader" not in left.text
    keys = re.findall(r"key: (\w+)", site.text)
    assert keys == ["D", "A", "Db", "C"]
    undone = site.ask("POST", "/undo", {})
    assert "Lamplighter: key C?" in site.ask("GET", "/view", {}).text, undone.text
    assert site.ask("POST", "/list", {"does": "reply-take", "name": tram, "word": "E"}).status_code == 422


def test_a_value_that_cannot_be_read_leaves_its_answer_open_and_says_why(site: Site) -> None:
    answer = site.ask("POST", "/reply", {"text": "Herring Waltz A (Bb on the record)\n"})
    (number,) = re.findall(r'id="reply-(\d+)-own"', answer.text)
    refused = site.ask("POST", "/list", {"does": "reply-take", "name": number, "word": "Hmm"})
    assert refused.status_code == 200
    assert "Herring Waltz: key A?" in refused.text
    assert '"slip">&quot;Hmm&quot; is not a key' in refused.text
    assert site.text == SHOW
    assert site.ask("POST", "/list", {"does": "reply-take", "name": number, "word": " "}).status_code == 200
    assert site.text == SHOW


@pytest.mark.parametrize("text", ["x" * 20_000, "\ud800", "<script>alert(1)</script> is in C"])
def test_a_hostile_message_is_refused_or_shown_harmlessly(site: Site, text: str) -> None:
    answer = site.ask("POST", "/reply", {"text": text})
    assert answer.status_code in (200, 400, 422)
    assert "<script>" not in answer.text
    assert site.text == SHOW


def test_what_an_answer_leaves_open_stays_on_the_page_until_the_player_is_done_with_it(site: Site) -> None:
    site.ask(
        "POST",
        "/reply",
        {"text": "Herring Waltz A (Bb on the record)\nLamplighter ask Jo\nthe blue one with hats on\n"},
    )
    (doubt,) = re.findall(r'id="reply-(\d+)-own"', site.ask("GET", "/view").text)
    left = site.ask("POST", "/list", {"does": "reply-out", "name": doubt}).text
    assert "of the leader" not in left
    assert "Lamplighter, key: ask Jo" in left
    assert "not understood: the blue one with hats on" in left
    numbers = re.findall(r'data-list="reply-done" data-name="(\d+)"', left)
    assert numbers
    for number in numbers:
        done = site.ask("POST", "/list", {"does": "reply-done", "name": number})
        assert done.headers["x-notice"].startswith("Done with: ")
    assert "not understood" not in site.ask("GET", "/view").text
    assert site.ask("POST", "/list", {"does": "reply-done", "name": "999"}).status_code == 422
    assert site.ask("POST", "/list", {"does": "reply-done", "name": "all"}).status_code == 422


MANY = "show: Mill\nsongs:\n" + "".join(f"  - {{title: Waltz {one}, key: C}}\n" for one in "ABCDEF")


def test_one_button_takes_what_is_said_of_most_songs_and_undo_takes_it_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    site = Site(tmp_path, MANY)
    page = site.ask("POST", "/reply", {"text": "most are cold\nwe start all but 2, I think"}).text
    assert "6 songs: Waltz A, Waltz B and 4 more: cold ending?" in page
    assert "Take cold ending for all 6" in page
    number = re.search(r'data-list="reply-take-all" data-name="(\d+)"', page)
    assert number
    answer = site.ask("POST", "/list", {"does": "reply-take-all", "name": number[1], "word": "cold"})
    assert answer.headers["x-notice"] == "Waltz A, Waltz B and 4 more: cold ending"
    assert site.text.count("ending: cold") == 6
    assert "Take cold for all" not in answer.text
    site.ask("POST", "/undo", {})
    assert site.text == MANY


def test_all_of_them_are_left_out_or_done_with_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    site = Site(tmp_path, MANY)
    page = site.ask("POST", "/reply", {"text": "most are cold\nthe rest ask Jo who starts"}).text
    for does, gone in (("reply-out-all", "Leave all out"), ("reply-done-all", "ask Jo")):
        number = re.search(rf'data-list="{does}" data-name="(\d+)"', page)
        assert number, does
        page = site.ask("POST", "/list", {"does": does, "name": number[1]}).text
        assert gone not in page
    assert site.text == MANY


def test_the_answers_of_one_line_are_one_question(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    site = Site(tmp_path, MANY)
    page = site.ask("POST", "/reply", {"text": "2 F minor, 96 bpm, ends cold, I think"}).text
    asked = re.search(r'<legend>([^<]*)\?</legend>.*?data-list="reply-take-all" data-name="(\d+)"', page, re.DOTALL)
    assert asked
    assert asked[1] == "Waltz B: tempo 96, cold ending"
    answer = site.ask("POST", "/list", {"does": "reply-take-all", "name": asked[2], "word": "96"})
    assert answer.headers["x-notice"] == "Waltz B: tempo 96, cold ending"
    assert ("tempo: 96" in site.text, "ending: cold" in site.text) == (True, True)
    site.ask("POST", "/undo", {})
    assert site.text == MANY
