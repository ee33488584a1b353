"""The answer that the message invites, "the odd ones are enough, and what most of them do", lands for all songs."""

import pytest
from leader.reply_shape import BALL, PIER, TODAY

from companion.leader.answers import LeaderAnswer, read_answers
from companion.leader.most_meant import NOT_ALL

_ODD = ("Gasworks Corner", "Moth")


def _endings(text: str) -> dict[str, tuple[object, str]]:
    found: tuple[LeaderAnswer, ...] = read_answers(text, PIER, today=TODAY).found
    return {one.title: (one.value, one.doubt) for one in found if one.field == "ending"}


@pytest.mark.parametrize(
    "text",
    [
        "all cold, 1 and 4 fade",
        "all end cold. 1 and 4 fade",
        "all cold\n1 and 4 fade",
        "cold mostly, 1 and 4 fade",
        "mostly cold, 1 and 4 fade",
        "most are cold, 1 and 4 fade",
        "most of them end cold. 1 and 4 fade",
        "nearly all cold, 1 and 4 fade",
        "cold except 1 and 4 which fade",
        "cold, apart from 1 and 4, they fade",
        "meistens cold, 1 und 4 fade",
        "la plupart cold, 1 et 4 fade",
        "a maioria cold, 1 e 4 fade",
        "de meeste cold, 1 en 4 fade",
        "de fleste cold, 1 og 4 fade",
    ],
)
def test_the_odd_ones_and_what_most_do_land_without_a_doubt(text: str) -> None:
    found = _endings(text)
    assert {title for title, (value, _) in found.items() if value == "fade"} == set(_ODD)
    assert {one for title, one in found.items() if title not in _ODD} == {("cold", "")}
    assert len(found) == 8


@pytest.mark.parametrize("text", ["most are cold", "mostly cold"])
def test_what_is_said_of_most_is_in_doubt_while_no_odd_one_is_named(text: str) -> None:
    found = _endings(text)
    assert len(found) == 8
    assert {value for value, _ in found.values()} == {"cold"}
    assert all(doubt for _, doubt in found.values())


def test_most_have_one_reason_to_doubt() -> None:
    assert {doubt for _, doubt in _endings("most are cold").values()} == {NOT_ALL}


@pytest.mark.parametrize(
    ("text", "left_out"),
    [("mostly cold except 2", {"Old Canal Road"}), ("cold except 2 and 4", {"Old Canal Road", "Moth"})],
)
def test_a_song_that_is_left_out_gets_no_ending(text: str, left_out: set[str]) -> None:
    titles = {song.title for one in PIER.sets for song in one.songs}
    assert titles - set(_endings(text)) == left_out


@pytest.mark.parametrize("text", ["1 and 4 fade\nall cold", "everything in E\n1 G", "1 fades. no wait, all end cold"])
def test_what_is_said_of_all_after_some_is_doubted(text: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert all(one.doubt for one in found if one.value in ("cold", "E"))


@pytest.mark.parametrize(
    "text", ["1 mostly cold", "cold on most of set 2", "most people dance, 1 cold", "at most 5 min cold"]
)
def test_most_beside_a_song_or_without_a_fact_is_not_the_rest(text: str) -> None:
    sure = [one.title for one in read_answers(text, BALL, today=TODAY).found if not one.doubt]
    assert len(sure) <= 1
