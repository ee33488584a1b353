"""The message for a show file: what is asked now, what was asked before, and what stays open for the player."""

import datetime as dt
import os
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.files.text_file import open_source
from companion.how_many import how_many
from companion.leader.alike import open_lines
from companion.leader.answer_words import FIELD_NAMES, answer_words, starter
from companion.leader.questions import AT_ONCE, FEW, FIELDS, Message, QuestionGroup, ask
from companion.leader.reply_records import (
    LATER,
    OpenQuestion,
    Replied,
    ReplyRecord,
    ReplyRecords,
    append_replies,
    read_replies,
)
from companion.show import Show
from companion.show.set_words import set_words
from companion.show.show_file import show_in

ONCE: Final = (QuestionGroup.CUT, QuestionGroup.DISAGREES)  # the show has no key for their answers


class MessageToLeader(msgspec.Struct, frozen=True):
    """The message, and the open questions that it does not ask. ``unkept``: why its numbers could not be kept."""

    message: Message
    open: tuple[OpenQuestion, ...]
    unkept: str = ""

    def beside(self) -> Iterator[str]:
        """Yield the lines that are for the player alone."""
        if self.message.later:
            yield less_urgent(self.message)
        if self.open:
            yield "Still open from replies (close one with --done and its number):"
            yield from open_lines(self.open)
        if self.unkept:
            yield f"The message's numbers are not kept: {self.unkept}"

    def plain(self) -> dict[str, object]:
        """Return all of it as plain data."""
        opened = [{**msgspec.to_builtins(one.record), "says": str(one), "number": one.number} for one in self.open]
        return {**msgspec.structs.asdict(self.message), "text": str(self.message), "open": opened}


def less_urgent(message: Message) -> str:
    """Return the line about the questions that a message leaves out."""
    return f"Less urgent: {len(message.later)} more, for later messages"


def message_for(show_path: str | os.PathLike[str], at: dt.datetime, *, is_sent: bool = True) -> MessageToLeader:
    """Make the message for a show; if ``is_sent``, keep its numbers, so that the reply is read by them.

    Raises FaultyFile, CompanionError.
    """
    show = show_in(open_source(show_path)).show
    records = read_replies(show_path)
    questions = records.open_questions(show)
    message = ask(
        show,
        file_stem=Path(show_path).stem,
        doubts=[doubt for one in questions if (doubt := _to_ask_again(one.record)) is not None],
        settled=_settled(records, questions),
        named=_named(records, show),
    )
    unkept = _keep(show_path, show, message, records, at) if message.now and is_sent else ""
    return MessageToLeader(message, questions, unkept)


def _named(records: ReplyRecords, show: Show) -> tuple[int, ...]:
    """Return the numbers that the leader knows: those that a message named before the last reply.

    A message printed since counts as not sent yet: printed again, it is the same.
    """
    kept = records.kept
    reply = next((at for at in range(len(kept) - 1, -1, -1) if kept[at].replied is Replied.READ), 0)
    asked = next((one for one in reversed(kept[:reply]) if one.replied is Replied.ASKED), None)
    return asked.named if asked is not None and asked.titles == _titles(show) else ()


def _titles(show: Show) -> tuple[str, ...]:
    return tuple(song.title for one in show.sets for song in one.songs)


def _to_ask_again(record: ReplyRecord) -> tuple[str, str] | None:
    """Return the song or set, "" for the show, and the words of a doubt that the message asks."""
    if record.field == "notes" or not record.field:
        return None
    about = record.title or (set_words(record.of_set) if record.of_set else "")
    if record.replied is Replied.DOUBT:
        return about, "not played" if record.field == "dropped" else asked_as(record.field, record.value)
    if record.replied is Replied.CONTRADICTS:
        return about, asked_as(record.field, f"{record.now} or {record.value}")
    return None


def asked_as(field: str, value: str) -> str:
    """Return a value as the message asks about it, before a question mark: Bb, keys to start, fade-out."""
    if field == "key":
        return value
    if field == "starts_with":
        player, how = starter(value)
        return f"{player} to start{how}"
    if field in ("ending", "starts", "minutes"):
        return answer_words(field, value)
    if field == "chart" and value in ("True", "False"):
        return "a chart" if value == "True" else "no chart"
    return f"{FIELD_NAMES.get(field, field)} {value}"


def _settled(records: ReplyRecords, questions: Sequence[OpenQuestion]) -> frozenset[tuple[str, str]]:
    """Return what is not asked anew: passed on, asked once and followed by a reply, or asked as a doubt."""
    passed = {
        (one.record.title, one.record.field)
        for one in questions
        if one.record.replied is Replied.PASSED and one.record.to != LATER
    }
    doubted = {
        (one.record.title, one.record.field)
        for one in questions
        if one.record.replied is Replied.DOUBT and one.record.title and _to_ask_again(one.record) is not None
    }
    asked: set[tuple[str, str]] = set()
    waiting: set[tuple[str, str]] = set()
    for one in records.kept:
        if one.replied is Replied.ASKED:
            waiting |= {(words, "") for words in one.once}
        elif one.replied is Replied.READ:
            asked |= waiting
    return frozenset(passed | asked | doubted)


def _keep(
    show_path: str | os.PathLike[str], show: Show, message: Message, records: ReplyRecords, at: dt.datetime
) -> str:
    """Keep a message's numbers if they differ from the last ones; return why they could not be kept, or ""."""
    titles = _titles(show)
    named = tuple(sorted({*message.named, *(one.number for one in message.now if one.number)}))
    once = tuple(one.words for one in message.now if one.ask in ONCE)
    last = next((one for one in reversed(records.kept) if one.replied is Replied.ASKED), None)
    counts = Counter(one.ask for one in message.now)
    at_once = tuple(FIELDS[group] for group in AT_ONCE if counts[group] > FEW)
    if last is not None and (last.titles, last.once, last.named, last.at_once) == (titles, once, named, at_once):
        return ""
    asked = ReplyRecord(at, Replied.ASKED, titles=titles, once=once, named=named, at_once=at_once)
    try:
        append_replies(show_path, [asked])
    except CompanionError as error:
        return str(error)
    return ""


def close_questions(
    show_path: str | os.PathLike[str], numbers: Sequence[str], at: dt.datetime
) -> tuple[OpenQuestion, ...]:
    """Close open questions by their numbers, and return those: "3", "1-5", "1,3", or "all" of them.

    A range needs one open question within it. Raises CompanionError for any other number.
    """
    found = open_now(show_path)
    wanted: set[int] = set()
    for said in (part for one in numbers for part in one.split(",") if part.strip()):
        some = [one.number for one in found if _is_named(one.number, said.strip())]
        if not some and not (said.strip() == "all" and not found):
            there = ", ".join(str(one.number) for one in found) or "none"
            raise CompanionError(f"there is no open question {said.strip()}. Open: {there}")
        wanted.update(some)
    closed = tuple(one for one in found if one.number in wanted)
    if closed:
        append_replies(show_path, [ReplyRecord(at, Replied.DONE, number=one.number) for one in closed])
    return closed


def open_now(show_path: str | os.PathLike[str]) -> tuple[OpenQuestion, ...]:
    """Return the questions that replies left open. Raises FaultyFile, CompanionError."""
    return read_replies(show_path).open_questions(show_in(open_source(show_path)).show)


def _is_named(number: int, said: str) -> bool:
    """Return whether a number is meant by "all", by itself or by a range: 1-5."""
    first, dash, last = said.partition("-")
    if dash and first.isdecimal() and last.isdecimal():
        return int(first) <= number <= int(last)
    return said in ("all", str(number))


def open_line(show_path: str | os.PathLike[str]) -> str:
    """Return one line about the questions that replies left open, for other commands; "" if there are none."""
    try:
        questions = open_now(show_path)
    except CompanionError:
        return ""
    if not questions:
        return ""
    many = len(questions)
    return f"{how_many(many, 'question')} open from the leader's replies: companion questions {show_path}"
