"""Answers in turn: several quoted songs, and as many answers below them without numbers."""

import re
from collections.abc import Callable, Sequence
from typing import Final

from companion.leader.quoted_questions import asks
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import SIGN, words_of
from companion.leader.songs_meant import SongNames

_ABOUT_ALL: Final = re.compile(
    r"^(?:both|all|beide|alle|les deux|los dos|entrambe)\b(?: of them)?(?P<said> .{1,60})$", re.IGNORECASE
)
_PARTS: Final = re.compile(r"\s*[,;/]\s*|\s+(?:and|und|then)\s+")


def answers_in_turn(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Put each answer after its quoted song where a group of such songs has as many answers below it.

    The answers may be on lines of their own, or in one line: "G and Bb" below two songs.
    """
    lines = [line for line in lines if not (line.ends_block and line.is_quoted)]
    kept: list[ReplyLine] = []
    at = 0
    while at < len(lines):
        songs = _run(lines, at, lambda line: line.is_quoted and _only_names_a_song(line, names))
        end = at + len(songs)
        while len(songs) > 1 and end < len(lines) and lines[end].ends_block:
            end += 1
        below = []
        if len(songs) > 1:
            below = _run(lines, end, lambda line: not line.is_quoted and not line.ends_block and not line.field)
        answers = [line.text for line in below]
        if len(answers) == 1:
            answers = [part for part in _PARTS.split(answers[0]) if part.strip()]
        if len(songs) > 1 and len(below) == 1 and (about_all := _ABOUT_ALL.match(below[0].text)):
            kept += [song._replace(text=f"{song.text}: {about_all['said']}", is_quoted=False) for song in songs]
            at = end + 1
            continue
        if len(songs) > 1 and len(answers) == len(songs) and not any(_names_a_song(one, names) for one in answers):
            kept += [
                song._replace(text=f"{song.text}: {said}", is_quoted=False)
                for song, said in zip(songs, answers, strict=True)
            ]
            at = end + len(below)
            continue
        if not songs and (interleaved := _questions_answered(lines, at, names)):
            kept += interleaved
            at += len(interleaved)
            continue
        kept += lines[at : at + max(1, len(songs))]
        at += max(1, len(songs))
    return kept


def _questions_answered(lines: Sequence[ReplyLine], at: int, names: SongNames) -> list[ReplyLine]:
    """Return several quoted questions about songs, each with its own of as many answers below; [] if there are none."""
    asked = _run(lines, at, lambda line: line.is_quoted and _asks_about_a_song(line, names))
    if len(asked) < 2:
        return asked
    below = _run(lines, at + len(asked), lambda line: not line.is_quoted and not line.ends_block and not line.field)
    if len(below) != len(asked) or any(_names_a_song(one.text, names) and not _AMOUNT.match(one.text) for one in below):
        return asked
    return [line for pair in zip(asked, below, strict=True) for line in pair]


_AMOUNT: Final = re.compile(r"\d{2,3}(?: ?bpm)?$|\d{1,2}[:.]\d\d$")  # 120, 3:15


def _asks_about_a_song(line: ReplyLine, names: SongNames) -> bool:
    return asks(line.text) and _names_a_song(line.text, names) > 0


def answered_within_quotes(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Return lines with each answer that stands within the quoted message, right below its question, as no quote."""
    kept: list[ReplyLine] = []
    asked: ReplyLine | None = None
    for line in lines:
        is_answer = line.is_quoted and bool(line.text) and asked is not None and not _is_of_message(line, names)
        is_answer = is_answer and not (
            line.text[0].isdecimal() and asked is not None and not _OF_SHOW.search(asked.text)
        )
        if is_answer and asked is not None:
            of_set = _OF_SET.match(asked.text)
            kept.append(line._replace(text=f"{of_set['set']}: {line.text}" if of_set else line.text, is_quoted=False))
        else:
            kept.append(line)
        if not line.ends_block:
            asked = line if line.is_quoted and _is_of_message(line, names) else None
    return kept


# Below other questions, a line that begins with a number lists the songs that they are about.
_OF_SHOW: Final = re.compile(r"\b(?:date|When does|Where)\b")
_OF_SET: Final = re.compile(r"(?P<set>[^:?]{1,60}): When does it start\b")


def _is_of_message(line: ReplyLine, names: SongNames) -> bool:
    """Return whether a quoted line is a question of the message, the heading of some, or one of its songs."""
    is_heading = bool(line.field) and not line.text
    is_named = names.own_line(line.text) is not None or names.set_named(line.text) is not None
    return is_heading or is_named or asks(line.text)


def _run(lines: Sequence[ReplyLine], at: int, belongs: Callable[[ReplyLine], bool]) -> list[ReplyLine]:
    found = []
    while at < len(lines) and belongs(lines[at]):
        found.append(lines[at])
        at += 1
    return found


def _names_a_song(text: str, names: SongNames) -> int:
    """Return how many words at the start of a text name a song."""
    words = words_of(text)
    if not words or words[0].kind == SIGN:
        return 0
    number = names.numbered(words, 0, None)
    end = number.end if number else 0
    title = names.titled(words, end, haste=False) if end < len(words) else None
    return title.end if title else end


def _only_names_a_song(line: ReplyLine, names: SongNames) -> bool:
    end = _names_a_song(line.text, names) if line.text else 0
    return end > 0 and all(word.kind == SIGN for word in words_of(line.text)[end:])
