"""Nothing lands without a doubt beside words that were not understood, wherever in the line they are."""

import re

import pytest
from examples import seldom
from leader.reply_shape import BALL, PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.show import Show

# Lines of one statement, each understood in full (test below). Everything that lands is about that statement.
UNDERSTOOD = [
    (PIER, "2 G"),
    (PIER, "2 is in G"),
    (PIER, "Old Canal Road in B flat minor"),
    (PIER, "G for 2"),
    (PIER, "thanks Moth is D"),
    (PIER, "number two is in E flat"),
    (PIER, "1 and 2 are in G"),
    (PIER, "5-7 are A"),
    (PIER, "4 you start"),
    (PIER, "drums start 4"),
    (PIER, "4 piano intro"),
    (PIER, "2 fades out"),
    (PIER, "4 ends cold"),
    (PIER, "2 tag x3"),
    (PIER, "2 straight into 3"),
    (PIER, "drop 8"),
    (PIER, "we're not doing 8"),
    (PIER, "no chart for 2"),
    (PIER, "2 at 112 bpm"),
    (PIER, "5 in 6/8 time"),
    (PIER, "2 is 3:40 long"),
    (PIER, "7 original key"),
    (PIER, "the ferry is in C"),
    (PIER, "Umbrellas: E"),
    (PIER, "4 learn the acoustic version"),
    (BALL, "all of set 2 is in D"),
    (BALL, "first three in C"),
    (BALL, "everything except 4 fades"),
    (BALL, "the rest cold"),
]
# No program knows them all: an unknown word, a name, a negation, a past, a condition, a comparison, a further number.
INSERTED = [
    "zorp",
    "Wilfred",
    "not",
    "was",
    "unless",
    "except",
    "instead of",
    "unlike",
    "isn't",
    "than",
    "99",
    "≠",
    "👎",
]


# Put in here, the word leads to the songs of which the line says nothing: it is explained.
EXPLAINED = {"drums start except 4", "no chart except for 2", "no chart for except 2"}
# A key behind it is the exception to what the lines above say of all songs.
EXCEPTED_KEY = re.compile(r"except .* [A-G]( flat)?( minor)?")


def landed(show: Show, text: str) -> list[str]:
    found = read_answers(text, show, today=TODAY).found
    return [said(show, one) for one in found if not one.doubt and one.field != "notes"]


@pytest.mark.parametrize(("show", "line"), UNDERSTOOD, ids=lambda part: part if isinstance(part, str) else "")
def test_a_line_that_is_understood_in_full_lands_without_a_doubt(show: Show, line: str) -> None:
    assert landed(show, line) != []


@pytest.mark.parametrize(
    "put_in",
    [INSERTED[::16], seldom(INSERTED[8::16] + INSERTED[4::8] + INSERTED[2::4]), seldom(INSERTED[1::2])],
    ids=["", "more", "others"],
)
@pytest.mark.parametrize(("show", "line"), UNDERSTOOD, ids=lambda part: part if isinstance(part, str) else "")
def test_nothing_lands_unseen_where_a_word_is_put_in_that_nothing_explains(
    show: Show, line: str, put_in: list[str]
) -> None:
    words = line.split(" ")
    for inserted in put_in:
        for at in range(len(words) + 1):
            text = " ".join([*words[:at], inserted, *words[at:]])
            is_explained = text in EXPLAINED or EXCEPTED_KEY.fullmatch(text)
            assert is_explained or (text, landed(show, text)) == (text, [])


TIMES = [
    "it's Sat 5 Dec",
    "Saturday 5th",
    "date: 12 December",
    "first set at 8pm",
    "sets at 8 and 9.30",
    "sets 60 and 75 mins",
    "2 x 45 mins",
    "we start at half eight",
    "8.30 till 9.15 and 10 till 10.45",
]


@pytest.mark.parametrize("line", TIMES)
def test_no_day_or_time_lands_unseen_where_a_word_is_put_in_that_nothing_explains(line: str) -> None:
    assert landed(PIER, line) != []
    words = line.split(" ")
    for inserted in ("zorp", "not", "was", "unless", "except", "instead of", "isn't", "about"):
        for at in range(len(words) + 1):
            text = " ".join([*words[:at], inserted, *words[at:]])
            assert (text, landed(PIER, text)) == (text, [])


@pytest.mark.parametrize(
    "remark",
    ["if Jo sings", "unless Jo is ill", "not any more", "zorp", "that was last year", "says Wilfred", "i think", "no"],
)
@pytest.mark.parametrize("form", ["{line}, {remark}", "{remark}, {line}", "{line} ({remark})", "{line} - {remark}"])
def test_nothing_lands_unseen_beside_a_clause_that_nothing_explains(form: str, remark: str) -> None:
    if form == "{remark}, {line}" and remark in ("no", "not any more"):
        return  # No, 2 is in G
    for show, line in UNDERSTOOD[:6]:
        text = form.format(line=line, remark=remark)
        assert (text, landed(show, text)) == (text, [])


# Lines of which only some facts are sure: those listed.
HALF_SURE = [
    ("1 G? 2 C", ["2 key C"]),
    ("1 G ?? / 2 C", ["2 key C"]),
    ("2 is wrong in G", []),
    ("1 zorp and 2 are in G", []),
    ("intro 2 G", []),
    ("no - chart for 2", []),
    ("7 original key perhaps", []),
    ("1 B! flat", []),
    ("1 B\nflat", []),
    ("1 G\n* A", []),
    ("1 G\nor A if Jo is ill", []),
    ("no chart: 4. 4 for zorp 112 bpm. 4 112 bpm", ["4 chart no"]),
]


@pytest.mark.parametrize(("text", "sure"), HALF_SURE)
def test_what_stands_beside_a_doubt_or_a_stray_fact_is_in_doubt(text: str, sure: list[str]) -> None:
    assert landed(PIER, text) == sure


@pytest.mark.parametrize("words", ["scratch that", "no wait", "wrong", "no, not that one", "sorry, A", "forget that"])
def test_what_the_next_line_takes_back_is_in_doubt(words: str) -> None:
    assert landed(PIER, f"1 Bb\n2 G\n{words}") == ["1 key Bb"]


JOKES = [
    ("everything in E. I'm kidding. 1 G, 2 Am", ["1 key G", "2 key Am"]),
    ("all in H. haha no. 1 G, 2 Am", ["1 key G", "2 key Am"]),
    ("everything in E. jk", []),
]


@pytest.mark.parametrize(("text", "sure"), JOKES)
def test_what_was_only_a_joke_lands_nowhere(text: str, sure: list[str]) -> None:
    assert landed(PIER, text) == sure
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.value in ("E", "B")]


# "All", and a key said for one song that "all" does not leave out.
@pytest.mark.parametrize("text", ["everything in E\n1 G", "1 G. All of them are in E", "all in E. 1 G"])
def test_all_is_in_doubt_beside_another_value(text: str) -> None:
    assert landed(PIER, text) == ["1 key G"]


@pytest.mark.parametrize("text", ["1 G, the rest in E", "all in E except 1 (G) and 2 (D)", "1 G\neverything else in E"])
def test_the_rest_is_sure_beside_other_values(text: str) -> None:
    assert "4 key E" in landed(PIER, text)


# What somebody else knows is no song of "the rest".
@pytest.mark.parametrize(
    "text", ["4 ask Pat, the rest in G", "4 don't know\nall the others in G", "ask Pat about 4. rest G"]
)
def test_the_rest_leaves_out_a_song_that_is_passed_on(text: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert "4 key G" not in [said(PIER, one) for one in read.found]
    assert [one.title for one in read.passed] == ["Moth"]


def test_numbers_below_words_that_doubt_a_set_are_in_doubt() -> None:
    found = read_answers("second set maybe\n4 G", PIER, today=TODAY).found
    assert [(said(PIER, one), bool(one.doubt)) for one in found] == [("4 key G", True)]
