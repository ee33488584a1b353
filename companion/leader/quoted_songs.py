"""Answers in turn: several quoted songs, and as many answers below them without numbers."""

import re
from collections.abc import Callable, Sequence
from typing import Final

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
        kept += lines[at : at + max(1, len(songs))]
        at += max(1, len(songs))
    return kept


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
