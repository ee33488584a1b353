"""A message with the leader's answers, pasted on the page: what is sure lands at once, the rest waits."""

import datetime as dt
import tempfile
from pathlib import Path

import msgspec

from companion.errors import CompanionError, FaultyFile
from companion.files.text_file import open_source
from companion.how_many import how_many
from companion.leader.alike import alike, in_one_line, open_alike, open_lines, songs_named
from companion.leader.answer_words import answer_words
from companion.leader.asking import close_questions
from companion.leader.doubted_answers import decide
from companion.leader.landing_answers import answer_questions
from companion.leader.reply_records import read_replies
from companion.leader.reply_report import reply_report
from companion.music import NotMusic
from companion.pages.desk import ShowDesk
from companion.pages.markup import Html, tag
from companion.pages.reply_apart import read_reply_apart
from companion.pages.visitor import closed_folder
from companion.pages.wanted import WantedList
from companion.setlist.tidy import cut
from companion.show.show_file import show_in

MAX_LINES = 100
MAX_DIGITS = 7


def take_reply(desk: ShowDesk, folder: Path, text: str) -> tuple[str, Html]:
    """Write the answers that nobody doubts and that do not contradict the show; return a notice, and the report.

    ``folder`` is the program's own. Raises FaultyFile, CompanionError or OSError.
    """
    closed_folder(folder)
    with tempfile.TemporaryDirectory(dir=folder / "pages") as kept:
        message = Path(kept) / "message.txt"
        message.write_text(text, encoding="utf-8", errors="surrogateescape")
        now = dt.datetime.now().astimezone()
        landed = answer_questions(desk.path, message, now, settle=lambda _: None, read=read_reply_apart)
    answers = landed.answers
    count = len(answers.found) if landed.is_written else 0
    notice = f"{how_many(count, 'answer')} taken; Undo takes all of it back" if count else "Nothing is taken"
    waiting = len(landed.held) + len(answers.contradicts)
    if waiting:
        notice += f"; {waiting} in doubt {'waits' if waiting == 1 else 'wait'} for you"
    shown = msgspec.structs.replace(answers, contradicts=(), left=(), passed=())  # those wait below
    return notice, _report(list(reply_report(shown)))


def decide_answer(desk: ShowDesk, wanted: WantedList) -> tuple[str, str]:
    """Take an answer in doubt, or leave it out; return a notice, and the id of the one whose value is refused.

    Raises CompanionError if it has been decided already.
    """
    if not (wanted.name.isascii() and wanted.name.isdecimal() and len(wanted.name) < MAX_DIGITS):
        raise CompanionError("this answer has been decided already")
    value = wanted.word.strip() if wanted.does in ("reply-take", "reply-take-all") else None
    of_all, now = wanted.does.endswith("-all"), dt.datetime.now().astimezone()
    try:
        decided = decide(desk.path, int(wanted.name), value, now, desk.folder, of_all=of_all)
    except FaultyFile as faulty:
        fault = faulty.faults[0]
        slip = f"{fault.problem}. Write: {fault.write}" if fault.write else fault.problem
    except NotMusic as fault:
        slip = str(fault)
    except ValueError:
        slip = f"{cut(value, 40)} cannot be read" if value else "Type the answer first"
    else:
        records = [each.record for each in decided]
        one = records[0]
        if value is not None and len({open_alike(each) for each in decided}) > 1:
            return in_one_line(
                [(each.title or each.of_set, answer_words(each.field, each.value)) for each in records]
            ), ""
        about = songs_named(list(dict.fromkeys(each.title for each in records))) or one.of_set
        words = answer_words(one.field, value) if value is not None else "unchanged"
        return f"{about}: {words}" if about else words, ""
    return slip, f"reply-{wanted.name} {slip}"


def close_question(path: Path, number: str, *, of_all: bool = False) -> str:
    """Close what a reply left to the player, ``of_all`` with all that are like it; return a notice.

    Raises CompanionError if it is closed already.
    """
    numbers = [number if number.isdecimal() else "?"]
    if of_all:
        show = show_in(open_source(path)).show
        groups = alike(read_replies(path).open_questions(show), open_alike)
        named = next((group for group in groups if any(str(one.number) == number for one in group)), ())
        numbers = [str(one.number) for one in named] or ["?"]
    closed = close_questions(path, numbers, dt.datetime.now().astimezone())
    return f"Done with: {'; '.join(open_lines(closed)).partition('. ')[2]}"


def _report(lines: list[str]) -> Html:
    return tag(
        "section",
        tag("h2", "The leader's answers", id="reply-title", tabindex="-1"),
        tag("ul", *(tag("li", line) for line in lines[:MAX_LINES]))
        if lines
        else tag("p", "No answer here is certain."),
        class_="offer",
        id="reply",
        aria_labelledby="reply-title",
    )
