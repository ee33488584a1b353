"""Answers in doubt that wait for the player: each is taken, taken with another value, or left out."""

import datetime as dt
import os
from pathlib import Path

from companion.edits import open_text
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.leader.alike import asked_together, open_alike, songs_named, why_open
from companion.leader.answers import LeaderAnswer
from companion.leader.landing_answers import land
from companion.leader.reply_records import OpenQuestion, Replied, ReplyRecord, append_replies, read_replies
from companion.show import Show
from companion.show.show_file import show_in


def undecided(show_path: str | os.PathLike[str], show: Show) -> tuple[OpenQuestion, ...]:
    """Return the answers of replies that are in doubt or contradict the show. Raises CompanionError."""
    found = read_replies(show_path).open_questions(show)
    return tuple(
        one for one in found if one.record.field and one.record.replied in (Replied.DOUBT, Replied.CONTRADICTS)
    )


def not_clear(show_path: str | os.PathLike[str], show: Show) -> tuple[OpenQuestion, ...]:
    """Return what replies leave to the player: not understood, or for somebody else. Raises CompanionError."""
    found = read_replies(show_path).open_questions(show)
    return tuple(one for one in found if one.record.replied in (Replied.LEFT, Replied.PASSED))


def decide(
    show_path: Path,
    number: int,
    value: str | None,
    at: dt.datetime,
    folder: Path | None = None,
    *,
    of_all: bool = False,
) -> tuple[OpenQuestion, ...]:
    """Write the value of an answer as the player decides, and close it; None leaves it out. Return what was decided.

    ``of_all``: with all answers of the same question, each with its own value unless another one is typed. Undo of what
    was written opens them again. ``folder`` holds the undo
    lists. Raises CompanionError if it is not open, FaultyFile or ValueError for a bad value.
    """
    file = open_text(show_path)
    show = show_in(SourceFile(str(show_path), file.text or "")).show
    waiting = undecided(show_path, show)
    groups = asked_together(waiting, open_alike, why_open) if of_all else ((one,) for one in waiting)
    decided = next((group for group in groups if any(one.number == number for one in group)), ())
    if not decided:
        raise CompanionError("this answer has been decided already")
    if value is not None:
        named = next(one.record for one in decided if one.number == number)
        own = value == named.value
        answers = [_answer(show, one.record, one.record.value if own else value) for one in decided]
        titles = songs_named(list(dict.fromkeys(one.title for one in answers)))
        land(file, answers, f"answer: {titles}" if titles else "answer", folder=folder)
        show = show_in(SourceFile(str(show_path), open_text(show_path).text or "")).show
    still = {one.number for one in undecided(show_path, show)}  # the show says nothing else now
    if closed := [one.number for one in decided if one.number in still]:
        append_replies(show_path, [ReplyRecord(at, Replied.DONE, number=one) for one in closed])
    return decided


def _answer(show: Show, record: ReplyRecord, value: str) -> LeaderAnswer:
    """Return an answer from its record, at the place of its song or set today."""
    typed: str | bool = {"True": True, "False": False}.get(value, value)
    places = [
        (set_at, song_at)
        for set_at, one in enumerate(show.sets)
        for song_at, song in enumerate(one.songs)
        if song.title == record.title
    ]
    if record.title:
        return LeaderAnswer(record.field, typed, *places[0], record.title)
    if record.of_set:
        names = [one.name for one in show.sets]
        if record.of_set not in names:
            raise CompanionError(f"{record.of_set} is no longer in this show")
        return LeaderAnswer(record.field, typed, names.index(record.of_set), None, record.of_set)
    return LeaderAnswer(record.field, typed, title=show.title)
