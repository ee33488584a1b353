"""Many answers and open questions that say the same: one line and one question for all of them."""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.cli import main
from companion.commands.asking_doubts import ReplyDoubtsAsked
from companion.errors import CompanionError
from companion.leader.alike import asked_together, open_lines, said_alike, why_in_doubt
from companion.leader.answers import LeaderAnswer, LeaderAnswers, OpenPiece
from companion.leader.asking import close_questions, message_for
from companion.leader.landing_answers import answer_questions, records_of
from companion.leader.reply_records import OpenQuestion
from companion.leader.reply_report import reply_report
from companion.show import read_show

NOW = dt.datetime(2026, 11, 28, 10, tzinfo=dt.UTC)
TITLES = ("Moth", "Old Canal Road", "Postbox Tango", "Weeds", "Kettle")
SONGS = "".join(f"  - {{title: {title}, key: C}}\n" for title in TITLES)
COLD = [LeaderAnswer("ending", "cold", 0, at, title, doubt="most") for at, title in enumerate(TITLES)]


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(f"show: Pier Street\ndate: 2026-12-12\nvenue: the hall\nsongs:\n{SONGS}")
    return path


def open_after(show: Path, reply: str) -> tuple[OpenQuestion, ...]:
    message_for(show, NOW)
    (show.parent / "reply.txt").write_text(reply)
    return answer_questions(show, show.parent / "reply.txt", NOW).open


def pressing(monkeypatch: pytest.MonkeyPatch, keys: str) -> Iterator[str]:
    pressed = iter(keys.replace("E", "\r"))
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    return pressed


def test_many_answers_that_are_alike_are_one_line_of_the_report() -> None:
    odd = LeaderAnswer("ending", "fade", 0, 7, "Nine Wet Umbrellas")
    assert list(reply_report(LeaderAnswers((*COLD, odd)))) == [
        "Moth, Old Canal Road and 3 more: cold ending (not sure: most)",
        "Nine Wet Umbrellas: fade-out",
    ]


def test_a_few_answers_have_a_line_each() -> None:
    assert len(list(reply_report(LeaderAnswers(tuple(COLD[:3]))))) == 3


@pytest.mark.parametrize(("key", "decided"), [("y", True), ("n", False), ("E", None)])
def test_one_key_decides_about_all_that_are_alike(
    key: str, decided: object, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    left = pressing(monkeypatch, key)
    asked = ReplyDoubtsAsked(yes=False, as_json=False)
    asked.see(COLD)
    assert [asked.is_sure(one) for one in COLD] == [decided] * len(COLD)
    assert next(left, None) is None
    assert "5 songs: Moth, Old Canal Road and 3 more: cold ending (not sure: most)" in capsys.readouterr().out


def test_they_can_be_decided_one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    pressing(monkeypatch, "1ynEyq")
    asked = ReplyDoubtsAsked(yes=False, as_json=False)
    asked.see(COLD)
    assert [asked.is_sure(one) for one in COLD] == [True, False, None, True, None]


def test_open_questions_that_are_alike_are_one_line_and_close_by_their_range(pier: Path) -> None:
    opened = open_after(pier, "most are cold\nJo has a cold")
    assert list(open_lines(opened)) == [
        "1. not understood: Jo has a cold",
        "2-6. Moth, Old Canal Road and 3 more, ending: cold, not sure: said of most songs, and no other is named",
    ]
    assert [one.number for one in close_questions(pier, ["2-4", "6"], NOW)] == [2, 3, 4, 6]
    assert [one.number for one in close_questions(pier, ["1,5"], NOW)] == [1, 5]


@pytest.mark.parametrize("said", ["9-12", "0", "x", "3-", "-3", "1--3", "all of them"])
def test_what_names_no_open_question_closes_none(pier: Path, said: str) -> None:
    open_after(pier, "most are cold")
    with pytest.raises(CompanionError, match="there is no open question"):
        close_questions(pier, ["1", said], NOW)
    assert len(close_questions(pier, ["all"], NOW)) == len(TITLES)


@pytest.mark.parametrize(
    ("words", "field"),
    [
        ("we both start it, sort of", "starts_with"),
        ("Jo does something with the ending", "ending"),
        ("Jo has a cold", ""),
        ("the start and the ending are new", ""),
    ],
)
def test_words_about_a_song_belong_to_the_one_question_that_they_name(pier: Path, words: str, field: str) -> None:
    left = OpenPiece(words, "Weeds", set_at=0, song_at=3)
    _, record = records_of(LeaderAnswers((), left=(left,)), read_show(pier).show, (), NOW)
    assert (record.title, record.field) == ("Weeds", field)


def test_an_initial_behind_a_kiss_is_no_answer(pier: Path) -> None:
    assert open_after(pier, "1 drums start\nx M") == ()


def test_several_numbers_follow_done(pier: Path, capsys: pytest.CaptureFixture[str]) -> None:
    open_after(pier, "most are cold")
    assert main(["questions", str(pier), "--done", "1", "3", "5"]) == 0
    assert [line[:2] for line in capsys.readouterr().out.splitlines()[2:]] == ["2.", "4."]
    assert main(["questions", str(pier), "1"]) != 0
    assert "Numbers of open questions follow --done" in capsys.readouterr().err


def test_the_message_asks_once_about_many_doubts_that_are_alike_and_takes_yes_to_all(pier: Path) -> None:
    pier.write_text(pier.read_text().replace("key: C}", "key: C, starts_with: drums, chart: true, recording: a.ogg}"))
    open_after(pier, "most are cold")
    message = str(message_for(pier, NOW).message)
    assert "Just to be sure\n1-5: cold ending?\n" in message
    assert open_after(pier, "all yes") == ()
    assert pier.read_text().count("ending: cold") == len(TITLES)


def test_yes_to_all_is_not_understood_where_it_may_answer_another_question(pier: Path) -> None:
    open_after(pier, "most are cold")
    assert "not understood: all yes" in "".join(open_lines(open_after(pier, "all yes")))


LINE = "1 F, then the big wobble"
WOBBLE = "then the big wobble"


def in_doubt(field: str, value: str, song: int, doubt: str = WOBBLE, line: str = LINE) -> LeaderAnswer:
    return LeaderAnswer(field, value, 0, song, TITLES[song], doubt=doubt, line=line)


@pytest.mark.parametrize(
    ("answers", "groups"),
    [
        ([in_doubt("key", "F", 0), in_doubt("ending", "wobble", 0)], [2]),  # one song
        ([in_doubt("key", "F", 0), in_doubt("key", "G", 1)], [2]),  # one line, the same doubt
        ([in_doubt("key", "F", 0), in_doubt("key", "G", 1, "maybe")], [1, 1]),
        ([in_doubt("key", "F", 0), in_doubt("tempo", "96", 0, "or so")], [2]),  # one line about one song
        ([in_doubt("key", "F", 0), in_doubt("tempo", "96", 0, "or so", "1 is 96 or so")], [1, 1]),
        ([in_doubt("key", "F", 0), in_doubt("notes", WOBBLE, 0, WOBBLE, "")], [2]),
        ([in_doubt("key", "F", 0, f"hm; {WOBBLE}"), in_doubt("ending", "cold", 0, WOBBLE, "")], [2]),
    ],
)
def test_answers_that_the_same_words_doubt_are_one_question(answers: list[LeaderAnswer], groups: list[int]) -> None:
    assert [len(group) for group in asked_together(answers, said_alike, why_in_doubt)] == groups


def test_more_answers_of_a_line_than_can_be_checked_at_a_glance_are_asked_song_by_song() -> None:
    fields = ("key", "tempo", "ending")
    answers = [in_doubt(field, str(at), at) for at in range(len(TITLES)) for field in fields]
    assert [len(group) for group in asked_together(answers, said_alike, why_in_doubt)] == [len(fields)] * len(TITLES)


def test_one_key_decides_about_the_answers_of_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    pressing(monkeypatch, "y1yn")
    answers = [in_doubt("key", "F", 0), in_doubt("ending", "cold", 0)]
    apart = [in_doubt("key", "G", 1, "or so", "2 G or so"), in_doubt("tempo", "96", 1, "or so", "2 G or so")]
    asked = ReplyDoubtsAsked(yes=False, as_json=False)
    asked.see([*answers, *apart])
    assert [asked.is_sure(one) for one in (*answers, *apart)] == [True, True, True, False]
    assert f"2 answers: Moth: key F, cold ending (not sure: {WOBBLE})" in capsys.readouterr().out


def test_words_that_a_question_quotes_are_not_listed_once_more() -> None:
    left = (OpenPiece(WOBBLE, "Moth", set_at=0, song_at=0), OpenPiece("lovely shoes", "Moth", set_at=0, song_at=0))
    lines = list(reply_report(LeaderAnswers((in_doubt("key", "F", 0),), left=left)))
    assert lines == [f"Moth: key F (not sure: {WOBBLE})", "not understood: Moth: lovely shoes"]


def test_words_that_wait_with_an_answer_or_are_in_a_note_do_not_stay_open_as_well(pier: Path) -> None:
    left = (OpenPiece("brushes", "Weeds", set_at=0, song_at=3), OpenPiece("a kettle", "Moth", set_at=0, song_at=0))
    found = (
        in_doubt("tempo", "96", 0, "a kettle; or so"),
        LeaderAnswer("notes", "brushes", 0, 3, "Weeds", doubt="brushes"),
    )
    (pier.parent / "reply.txt").write_text("1 96 or so")
    landed = answer_questions(
        pier,
        pier.parent / "reply.txt",
        NOW,
        settle=lambda one: True if one.field == "notes" else None,
        read=lambda *_, **__: LeaderAnswers(found, left=left),
    )
    assert [str(one.record.words) for one in landed.open] == ["a kettle; or so"]
