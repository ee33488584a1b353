"""A message with the leader's answers, pasted on the page: what is sure lands at once, the rest is left open."""

import datetime as dt
import tempfile
from pathlib import Path

from companion.leader.landing_answers import answer_questions
from companion.leader.reply_report import reply_report
from companion.pages.desk import ShowDesk
from companion.pages.markup import Html, tag
from companion.pages.reply_apart import read_reply_apart
from companion.pages.visitor import closed_folder

MAX_LINES = 100


def take_reply(desk: ShowDesk, folder: Path, text: str) -> tuple[str, Html]:
    """Write the answers that nobody doubts and that do not contradict the show; return what to say, and the report.

    ``folder`` is the program's own. Raises FaultyFile, CompanionError or OSError.
    """
    closed_folder(folder)
    with tempfile.TemporaryDirectory(dir=folder / "pages") as kept:
        message = Path(kept) / "message.txt"
        message.write_text(text, encoding="utf-8", errors="surrogateescape")
        now = dt.datetime.now().astimezone()
        landed = answer_questions(desk.path, message, now, settle=lambda _answer: False, read=read_reply_apart)
    answers = landed.answers
    count = len(answers.found) if landed.is_written else 0
    notice = (
        f"{count} answer{'' if count == 1 else 's'} taken; Undo takes all of it back" if count else "Nothing is taken"
    )
    return notice, _report(list(reply_report(answers)), count)


def _report(lines: list[str], count: int) -> Html:
    left = len(lines) - count
    rest = "What is not sure was left open: type it at its song." if left else None
    return tag(
        "section",
        tag("h2", "The leader's answers", id="reply-title", tabindex="-1"),
        tag("ul", *(tag("li", line) for line in lines[:MAX_LINES])) if lines else tag("p", "Nothing was understood."),
        tag("p", rest) if rest else None,
        class_="offer",
        id="reply",
        aria_labelledby="reply-title",
    )
