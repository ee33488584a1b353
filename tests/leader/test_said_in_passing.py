"""What leaders say in passing beside a plain answer: yeah, so four is in D; no charts, only for 4."""

import pytest
from leader.reply_shape import PIER, TODAY

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    "line",
    ["yeah, so 2 is in G", "Yes, so two is in G", "Hey, yeah, so 2 is in G", "yep, right 2 is in G", "yes, well 2 G"],
)
def test_a_yes_that_opens_a_message_answers_nothing(line: str) -> None:
    read = read_answers(line, PIER, today=TODAY)
    assert [(one.field, one.song_at, one.value, one.doubt) for one in read.found] == [("key", 1, "G", "")]
    assert not read.left


@pytest.mark.parametrize(
    "line",
    [
        "No charts, sorry, only for Moth",
        "no charts, just for 4",
        "no charts - only Moth",
        "no charts, only on 4",
    ],
)
def test_only_for_behind_a_no_names_what_it_leaves_out(line: str) -> None:
    read = read_answers(line, PIER, today=TODAY)
    assert {(one.field, one.value, one.doubt) for one in read.found} == {("chart", False, "")}
    assert len(read.found) == 7
    assert (0, 3) not in {(one.set_at, one.song_at) for one in read.found}
    assert not read.left


def test_only_for_without_a_no_leaves_nothing_out() -> None:
    read = read_answers("charts, only for Moth", PIER, today=TODAY)
    assert {(one.set_at, one.song_at) for one in read.found} <= {(0, 3)}
