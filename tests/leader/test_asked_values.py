"""Answers right below a quoted question about one song: they are what it asks for, and no time or number of a song."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import LeaderAnswer, LeaderAnswers, read_answers


def _read(text: str) -> LeaderAnswers:
    return read_answers(text, PIER, today=TODAY)


def _facts(text: str) -> dict[str, LeaderAnswer]:
    return {said(PIER, one): one for one in _read(text).found}


@pytest.mark.parametrize(
    ("ask", "answer", "fact"),
    [
        ("tempo?", "116", "4 tempo 116"),
        ("tempo?", "♩=116", "4 tempo 116"),
        ("how fast?", "116 bpm", "4 tempo 116"),
        ("how long?", "2:50", "4 length 2:50"),
        ("how long?", "2.50", "4 length 2:50"),
        ("wie lang?", "4 Minuten", "4 length 4:00"),
        ("quanto dura?", "tre minuti e mezzo", "4 length 3:30"),
        ("durée ?", "4 min 20", "4 length 4:20"),
        ("how long?", "3 and a half minutes", "4 length 3:30"),
        ("tonart?", "Ess", "4 key Eb"),
        ("vem börjar?", "basen", "4 starts_with bass"),
        ("key?", "Yes, D.", "4 key D"),
    ],
)
def test_an_answer_is_the_value_that_the_question_asks_for(ask: str, answer: str, fact: str) -> None:
    text = f"> 4. Moth - {ask}\n{answer}"
    assert {fact: one.doubt for fact, one in _facts(text).items()} == {fact: ""}
    assert _read(text).left == ()


@pytest.mark.parametrize(
    ("ask", "answer", "fact"),
    [
        ("tempo?", "116 or thereabouts", "4 tempo 116"),
        ("tempo ?", "116 je crois", "4 tempo 116"),
        ("how long?", "four minutes if the solo behaves", "4 length 4:00"),
        ("how long?", "about 4", "4 length 4:00"),
        ("qui commence ?", "Accordéon tout seul, 8 mesures", "4 starts_with accordion"),
        ("who starts?", "No - temple bells", "4 starts_with temple bells"),
        ("wie endet das?", "abrupt, auf der Eins Schluss", "4 ending auf eins"),
        ("come finisce?", "secco", "4 ending secco"),
    ],
)
def test_an_answer_with_other_words_is_in_doubt(ask: str, answer: str, fact: str) -> None:
    assert _facts(f"> 4. Moth - {ask}\n{answer}")[fact].doubt != ""


@pytest.mark.parametrize(
    "text",
    [
        "> 4. Moth - how long?\nask Pat",
        "> 4. Moth - tempo?\n110 or 130, see how it feels",
        "> 4. Moth (do I start?)\nNo",
        "> Which day?\n116",
    ],
)
def test_no_value_is_made_up(text: str) -> None:
    assert not [fact for fact in _facts(text) if fact.startswith(("4 length", "4 tempo", "4 starts_with"))]


def test_what_was_not_understood_above_a_quoted_question_casts_no_doubt_below_it() -> None:
    found = _facts("zorp answers in blue\n> 4. Moth - key?\nA\n> 8 Postbox Tango - who starts?\nthe drums start it")
    assert {fact: one.doubt for fact, one in found.items()} == {"4 key A": "", "8 starts_with drums": ""}


def test_each_answer_between_quoted_questions_is_of_its_own() -> None:
    found = _facts("> 4 Moth - tempo?\n120\n> 6 The Long Ferry Home - length?\n2.45\n> 2 Old Canal Road - tonart?\nEss")
    assert {fact: one.doubt for fact, one in found.items()} == {"4 tempo 120": "", "6 length 2:45": "", "2 key Eb": ""}


def test_a_note_in_words_is_the_beat_on_which_a_song_ends() -> None:
    assert not any(fact.startswith("1 ") for fact in _facts("Moth in G, auf der Eins ist Schluss"))


def test_as_many_answers_as_quoted_questions_answer_them_in_turn() -> None:
    found = _facts("> 4 Moth (tempo?)\n> 6 The Long Ferry Home (how long?)\n120\n3:15\n\nBest, Jo")
    assert {fact: one.doubt for fact, one in found.items()} == {"4 tempo 120": "", "6 length 3:15": ""}


def test_a_line_below_several_quoted_questions_is_no_value_of_the_last() -> None:
    quoted = "> 1 Gasworks Corner - key?\n> 2 Old Canal Road - who starts?\n> 4 Moth - tempo?\n"
    assert "4 tempo 120" not in _facts(f"{quoted}120 people are coming, great")


@pytest.mark.parametrize(
    ("answer", "notes"),
    [("Streicher", ["Streicher"]), ("warm organ", ["warm organ"]), ("ask Pat", []), ("no idea", [])],
)
def test_a_sound_that_a_quoted_question_asks_for_is_a_note(answer: str, notes: list[str]) -> None:
    found = read_answers(f"> 4 Moth - sound?\n{answer}", PIER, today=TODAY).found
    assert [one.value for one in found if one.field == "notes"] == notes
    assert not [one for one in found if one.field == "starts_with"]
