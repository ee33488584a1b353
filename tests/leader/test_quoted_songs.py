"""Quoted songs with answers below them: a long reply is read in a time that grows with its length alone."""

from collections.abc import Callable, Sequence

import pytest

from companion.leader import quoted_songs
from companion.leader.answers import read_answers
from companion.leader.reply_lines import ReplyLine
from companion.show import Set, Show, Song

SHOW = Show("Gig", sets=(Set("First", songs=(Song("Amber Lane"), Song("Blue Door"))),))


@pytest.mark.parametrize(
    "line", ["1 G\n", "> 1. Amber Lane?\n", "> 1. Amber Lane\n", "> 1. Amber Lane\nG\n", "hello\n"]
)
def test_no_line_is_looked_at_again_and_again(monkeypatch: pytest.MonkeyPatch, line: str) -> None:
    looks = 0
    run = quoted_songs._run  # noqa: SLF001  each line that it takes is one look

    def counted(lines: Sequence[ReplyLine], at: int, belongs: Callable[[ReplyLine], bool]) -> list[ReplyLine]:
        nonlocal looks
        found = run(lines, at, belongs)
        looks += len(found) + 1
        return found

    monkeypatch.setattr(quoted_songs, "_run", counted)
    read_answers(line * 100, SHOW)
    assert looks <= 4 * 2 * 100
