"""Songs alone answer the questions that the message asks about all songs at once."""

import datetime as dt
from pathlib import Path

import pytest
from leader.reply_shape import PIER, TODAY

from companion.leader.answers import LeaderAnswers, read_answers
from companion.leader.asking import message_for
from companion.leader.reply_records import NOT_YOU, read_replies
from companion.leader.reply_report import reply_report

STARTS = frozenset({"starts_with", "ending"})
YOURS = {"Old Canal Road": "keys", "Moth": "keys"}


def read(text: str, at_once: frozenset[str] = STARTS) -> LeaderAnswers:
    return read_answers(text, PIER, today=TODAY, at_once=at_once)


def sure(answers: LeaderAnswers, field: str = "starts_with") -> dict[str, object]:
    return {one.title: one.value for one in answers.found if one.field == field and not one.doubt}


@pytest.mark.parametrize(
    "text",
    [
        "yes: 2 and 4",
        "only 2, 4",
        "just 2 and 4 please",
        "2 4 are yours",
        "2 and 4 are yours",
        "2, 4",
        "only Old Canal Road and Moth",
        "nur 2 und 4",
        "2 und 4 sind deine",
        "seulement 2 et 4",
        "solo 2 y 4",
        "alleen 2 en 4",
        "only 2 and 4\n5 fades, the rest cold",
    ],
)
def test_songs_alone_are_those_that_the_keys_start(text: str) -> None:
    answers = read(text)
    assert sure(answers) == YOURS
    assert not answers.left


@pytest.mark.parametrize(
    "text",
    [
        "we start everything except 2, 4 - those are you",
        "we start everything except 2 and 4",
        "the band starts all but 2 and 4, those are yours",
        "wir fangen alle an außer 2 und 4",
        "on commence tout sauf 2 et 4",
    ],
)
def test_what_the_band_does_not_start_the_keys_start(text: str) -> None:
    answers = read(text)
    assert sure(answers) == YOURS
    assert {(one.to, one.field) for one in answers.passed} == {(NOT_YOU, "starts_with")}
    assert len(answers.passed) == 6
    assert len(list(reply_report(answers))) == 3, "a line for all that the keys do not start"


def test_none_of_them_is_an_answer() -> None:
    assert len(read("none of them").passed) == 8


def test_songs_alone_are_in_doubt_where_the_message_did_not_ask_who_starts() -> None:
    answers = read("2 and 4 are yours", frozenset())
    assert [(one.value, bool(one.doubt)) for one in answers.found] == [("keys", True)] * 2


@pytest.mark.parametrize("text", ["only 2, 4", "2, 4", "none of them"])
@pytest.mark.parametrize("at_once", [frozenset[str](), frozenset({"starts_with", "chart"})])
def test_songs_alone_answer_nothing_where_two_questions_may_be_meant(text: str, at_once: frozenset[str]) -> None:
    assert not sure(read(text, at_once)) | sure(read(text, at_once), "chart")


def test_songs_alone_are_those_with_charts_where_the_message_asks_for_charts() -> None:
    assert sure(read("only 2 and 4", frozenset({"chart"})), "chart") == dict.fromkeys(YOURS, True)


@pytest.mark.parametrize("text", ["2, 4\nboth in G", "no", "2 4 are hard", "only 2 if Jo sings", "> only 2, 4", "2"])
def test_other_words_beside_songs_are_no_such_answer(text: str) -> None:
    assert not sure(read(text))


def test_the_message_keeps_what_it_asks_at_once(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    path.write_text(
        "show: Pier\nvenue: Hall\ndate: 2026-12-12\nsongs: [{title: Moth, key: C}, {title: Tango, key: D}]\n"
    )
    now = dt.datetime(2026, 11, 28, 10, tzinfo=dt.UTC)
    message_for(path, now)
    assert {"starts_with", "ending"} <= read_replies(path).at_once
