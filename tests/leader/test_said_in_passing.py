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
