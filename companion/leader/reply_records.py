"""What the leader was asked and what stays open, one line each, append-only, beside the show file.

The file (``pier-street.replies.jsonl``) moves with the show. It holds what the show file has no key for: the numbers
of each message sent, lines that were not understood, answers in doubt, and questions that somebody else answers.
"""

import datetime as dt
import enum
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.files.appending import append_lines
from companion.files.file_writing import mode_like
from companion.files.record_lines import read_record_lines
from companion.leader.answer_words import FIELD_NAMES, YES_OR_NO, value_words
from companion.leader.show_says import show_says
from companion.show import Show, Song
from companion.show.set_words import set_words

MAX_BYTES: Final = 8 * 2**20  # a fortnight has some hundred lines of 200 bytes each


class Replied(enum.Enum):
    """The kind of a record."""

    ASKED = "asked"
    LEFT = "not understood"
    DOUBT = "in doubt"
    CONTRADICTS = "contradicts the show"
    PASSED = "somebody else knows"
    DONE = "done"
    READ = "reply read"


LATER: Final = "the leader, later"  # whom to ask where the leader will say it later
NOT_YOU: Final = "not you"  # a song that the keys do not start
NEVER_OPEN: Final = (Replied.ASKED, Replied.DONE, Replied.READ)


class ReplyRecord(msgspec.Struct, frozen=True, omit_defaults=True):
    """One record. ``title`` and ``field``: the song and the key of the show file that it is about, where known.

    ``of_set``: the set's name, for its start and its minutes.
    ``words`` are the leader's. ``now``: what the show said when the record was made; once it says something else, the
    question is settled. ``value``: what the leader said instead. ``titles``: the songs of a message, in the order of
    its numbers; ``once``: its questions that have no key in the show file; ``named``: the numbers that
    the leader has seen with their titles; ``at_once``: the fields that it asked about many songs in one question.
    ``number``: the open question that is done,
    counted from 1 in the order of the file.
    """

    at: dt.datetime
    replied: Replied
    title: str = ""
    field: str = ""
    words: str = ""
    now: str = ""
    value: str = ""
    to: str = ""
    titles: tuple[str, ...] = ()
    once: tuple[str, ...] = ()
    named: tuple[int, ...] = ()
    at_once: tuple[str, ...] = ()
    number: int = 0
    of_set: str = ""
    line: str = ""  # of the reply, or the sentences of it that are meant


class OpenQuestion(msgspec.Struct, frozen=True):
    """A question that is not settled: its number for ``--done``, and its record."""

    number: int
    record: ReplyRecord

    def __str__(self) -> str:
        one = self.record
        field = "" if one.field in YES_OR_NO and one.value else FIELD_NAMES.get(one.field, one.field)
        about = ", ".join(filter(None, (one.title, set_words(one.of_set) if one.of_set else "", field)))
        now, value = (value_words(one.field, said) for said in (one.now, one.value))
        said = {
            Replied.LEFT: f"not understood: {one.words}",
            Replied.DOUBT: f"{value}, not sure: {one.words}",
            Replied.CONTRADICTS: f"the show says {now}, the leader {value}: {one.words}",
            Replied.PASSED: f"{_where(one.to)} ({one.words})",
        }[one.replied]
        return f"{self.number}. {about + ': ' if about else ''}{said}"


def _where(to: str) -> str:
    if to in ("the record", "last time"):
        return f"as on {to}" if to == "the record" else "as last time"
    return {NOT_YOU: "the keys do not start", "you": "you decide", LATER: "the leader will say"}.get(to, f"ask {to}")


class ReplyRecords(msgspec.Struct, frozen=True):
    """The records of a show in file order, and the number of unreadable lines."""

    kept: tuple[ReplyRecord, ...] = ()
    unreadable: int = 0

    def open_questions(self, show: Show) -> tuple[OpenQuestion, ...]:
        """Return the questions that neither the player nor the show has settled, oldest first."""
        done = {one.number for one in self.kept if one.replied is Replied.DONE}
        openable = [one for one in self.kept if one.replied not in NEVER_OPEN]
        return tuple(
            OpenQuestion(number, one)
            for number, one in enumerate(openable, start=1)
            if number not in done and _is_open(one, show)
        )

    @property
    def at_once(self) -> frozenset[str]:
        """The fields that the last message asked about many songs in one question."""
        asked = next((one for one in reversed(self.kept) if one.replied is Replied.ASKED), None)
        return frozenset(asked.at_once) if asked else frozenset()

    def numbers(self, show: Show) -> list[int | None] | None:
        """Return the song (its place in the show, from 0) of each number of the last message; None before the first."""
        asked = next((one for one in reversed(self.kept) if one.replied is Replied.ASKED), None)
        if asked is None:
            return None
        free = list(enumerate(song.title for one in show.sets for song in one.songs))
        found: list[int | None] = []
        for title in asked.titles:
            place = next((one for one in free if one[1] == title), None)
            if place:
                free.remove(place)
            found.append(place[0] if place else None)
        return found


def _is_open(record: ReplyRecord, show: Show) -> bool:
    if not record.field:
        return True
    if record.title and song_titled(show, record.title) is None:
        return record.replied is Replied.LEFT
    return now_said(show, record.title, record.field, record.of_set) == record.now


def song_titled(show: Show, title: str) -> Song | None:
    """Return the first song with this title."""
    return next((song for one in show.sets for song in one.songs if song.title == title), None)


def _said(value: object) -> str:
    return "" if value is None else str(value)


def now_said(show: Show, title: str, field: str, of_set: str = "") -> str:
    """Return what the show says about a song, a set, or itself, as a record keeps it."""
    set_at = next((at for at, one in enumerate(show.sets) if one.name == of_set), None) if of_set else None
    return _said(show_says(show, set_at, song_titled(show, title) if title else None, field))


def replies_path(show_path: str | os.PathLike[str]) -> Path:
    """Return the file of a show's records of replies."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.replies.jsonl")


def read_replies(show_path: str | os.PathLike[str]) -> ReplyRecords:
    """Read a show's records; none if there is no file yet. Raises CompanionError if it cannot be read."""
    kept, unreadable = read_record_lines(replies_path(show_path), ReplyRecord, MAX_BYTES)
    return ReplyRecords(tuple(kept), unreadable)


def append_replies(show_path: str | os.PathLike[str], records: Sequence[ReplyRecord]) -> None:
    """Add records to a show's. Raises CompanionError."""
    path = replies_path(show_path)
    try:
        append_lines(path, reply_lines(records).encode(), mode_like(show_path))
    except OSError as error:
        raise CompanionError(f"{path} cannot be written: {error.strerror or error}") from error


def reply_lines(records: Sequence[ReplyRecord]) -> str:
    """Return the lines of these records."""
    return b"".join(msgspec.json.encode(record) + b"\n" for record in records).decode()
