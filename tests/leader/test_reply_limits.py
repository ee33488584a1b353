"""A hostile reply is bounded work, and what is beyond the limits is shown."""

import pytest
from leader.reply_shape import BALL, TODAY

from companion.leader.answers import read_answers
from companion.leader.line_scanner import LineScanner
from companion.leader.reply_limits import MAX_LINE_WORDS, MAX_WORDS, read_part

LONG = 32 * 1024
SCANS = 4  # a line is scanned to number its songs, to read it, to split it, and to account for it


@pytest.mark.parametrize(
    "unit", ["1 G, drums start ", "Moth G, ", "a, ", "1 zorp G then ", "set 2 at 9 for 30 min, ", "1 G\n"]
)
def test_a_hostile_reply_is_bounded_work(unit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    steps = 0
    read_item = LineScanner._item  # noqa: SLF001  the unit of work

    def counted(*args: object) -> object:
        nonlocal steps
        steps += 1
        return read_item(*args)  # type: ignore[arg-type]

    monkeypatch.setattr(LineScanner, "_item", counted)
    monkeypatch.setattr("companion.leader.reply_limits.MAX_WORDS", 300)
    monkeypatch.setattr("companion.leader.reply_limits.MAX_LINE_WORDS", 100)
    text = (unit * (LONG // len(unit) + 1))[:LONG]
    answers = read_answers(f"{text}\nquibble", BALL, today=TODAY)
    assert 0 < steps <= SCANS * 300
    assert any("quibble" in one.words for one in answers.left)


def test_a_long_reply_is_read_whole() -> None:
    text = "\n".join(f"{number} Bb, drums start, ends cold with a big hit" for number in range(1, 71))
    assert read_part(text) == (text, [])


def test_words_beyond_the_limit_of_a_line_are_kept() -> None:
    part = read_part("a " * MAX_LINE_WORDS + "zorp quibble\n1 G")
    assert (part.text.splitlines()[1], part.beyond) == ("1 G", ["zorp quibble"])


def test_lines_beyond_the_limit_of_a_reply_are_kept() -> None:
    part = read_part("1 G\n" * (MAX_WORDS // 2) + "zorp\nquibble")
    assert part.beyond == ["zorp", "quibble"]
