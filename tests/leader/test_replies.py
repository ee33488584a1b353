"""A reply too long to have been typed is refused before any pattern sees it."""

import datetime as dt
from pathlib import Path

import pytest

from companion.errors import FaultyFile
from companion.leader.landing_answers import answer_questions

NOW = dt.datetime(2027, 6, 5, 10, tzinfo=dt.UTC)
SHOW = "show: Pier\nsongs:\n  - Moth\n  - Owl\n"


def reply(folder: Path, text: str) -> str:
    (folder / "show.yaml").write_text(SHOW)
    (folder / "reply.txt").write_text(text)
    with pytest.raises(FaultyFile) as refused:
        answer_questions(folder / "show.yaml", folder / "reply.txt", NOW)
    assert (folder / "show.yaml").read_text() == SHOW
    return str(refused.value)


def test_a_reply_of_one_endless_line_is_refused(tmp_path: Path) -> None:
    assert "reply.txt:2:1001: 20,000 characters in one line" in reply(tmp_path, "1 Bb\n" + "1 a " * 5_000)


def test_a_reply_as_long_as_a_book_is_refused(tmp_path: Path) -> None:
    assert "900,000 characters; a reply has a thousand" in reply(tmp_path, "1 is Bb, \n" * 90_000)


def test_an_ordinary_reply_is_read(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text(SHOW)
    (tmp_path / "reply.txt").write_text("1 Bb, 2 in C\n" + "and thanks for asking! " * 40)
    assert len(answer_questions(tmp_path / "show.yaml", tmp_path / "reply.txt", NOW).answers.found) == 2
