"""Settle the doubts about a list: by answers kept from an earlier version of it, then by asking the player."""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import open_text
from companion.files import SourceFile
from companion.setlist.correcting import answer_to, corrected
from companion.setlist.kept_answers import SettledDoubt, answers_of
from companion.setlist.list_file import opened
from companion.setlist.model import Doubt, DoubtAnswer, ReadAgain, SaidLine, SetList
from companion.setlist.near_songs import with_near_songs
from companion.setlist.notation import Notation
from companion.show.show_file import show_in

MAX_READINGS: Final = 8  # of one file, where answers ask for another of its lists or another notation


class DoubtQuestion(msgspec.Struct, frozen=True):
    """One question to the player: what the list says there, what is in doubt, and how many questions are left."""

    doubt: Doubt
    where: str = ""  # the line's place; empty if the doubt is about the whole list
    text: str = ""
    left: int = 1  # this one included


class SettledList(msgspec.Struct, frozen=True):
    """The list with all answers applied, the questions answered now, and those answered from an earlier version."""

    listed: SetList
    answered: tuple[SettledDoubt, ...] = ()
    kept: tuple[SettledDoubt, ...] = ()


Ask = Callable[[DoubtQuestion], DoubtAnswer | None]
"""Asks the player. None: ask nothing more, the rest stays as read."""


def questions_of(listed: SetList) -> tuple[DoubtQuestion, ...]:
    """Return what is to be asked about a list, in its order: first what is about the whole of it."""
    about_all = [DoubtQuestion(doubt) for doubt in listed.doubts if doubt.question]
    about_lines = [
        DoubtQuestion(doubt, str(line.place), line.text)
        for line in listed.lines
        for doubt in line.doubts
        if doubt.question
    ]
    found = [*about_all, *about_lines]
    return tuple(msgspec.structs.replace(one, left=len(found) - at) for at, one in enumerate(found))


def settled_list(
    list_path: str | os.PathLike[str],
    show_path: str | os.PathLike[str],
    *,
    raw: bytes | None = None,
    notation: Notation | None = None,
    chosen: str | None = None,
    ask: Ask | None = None,
) -> SettledList:
    """Read a list and settle its doubts. An answer may ask to read the file again, in another way.

    ``raw``: the list's bytes if they are in no file; ``list_path`` is then only its name. Without ``ask``, only
    answers of an earlier version are used. Raises FaultyFile, CompanionError.
    """
    file = opened(list_path, raw)
    if said := file.changes() if Path(show_path).exists() else ():
        return SettledList(_with_changes(said, show_path, ask))
    known = {one.question: one.word for one in answers_of(show_path)}
    answered: dict[str, str] = {}
    there = _titles(show_path)
    listed = with_near_songs(file.listed(notation=notation, chosen=chosen), show_path, there)
    for _ in range(MAX_READINGS):
        pairs, again = _answers(listed, known, answered, ask, is_chosen=chosen is not None)
        if again is None:
            break
        notation, chosen = again.notation or notation, again.chosen or chosen
        listed = with_near_songs(file.listed(notation=notation, chosen=chosen), show_path, there)
        known = {**known, **answered}
    else:
        pairs = []
    asked = {question.doubt.question for question in questions_of(listed)}
    kept = tuple(SettledDoubt(*one) for one in known.items() if one[0] in asked and one[0] not in answered)
    return SettledList(
        _told(corrected(listed, pairs), listed, pairs), tuple(SettledDoubt(*one) for one in answered.items()), kept
    )


def _titles(show_path: str | os.PathLike[str]) -> list[str]:
    """Return the titles of a show; none if there is no file yet."""
    if not Path(show_path).exists():
        return []
    show = show_in(SourceFile(str(show_path), open_text(show_path).text or "")).show
    return [song.title for one in show.sets for song in one.songs]


def _with_changes(said: tuple[SaidLine, ...], show_path: str | os.PathLike[str], ask: Ask | None) -> SetList:
    """Return the show's own songs with the changes that a message says. Its questions are of this message alone."""
    from companion.setlist.revising.same_as_last import changed_list  # noqa: PLC0415  the parser takes 0.2 s

    file = open_text(show_path)
    listed = changed_list(said, show_in(SourceFile(str(show_path), file.text or "")).show)
    pairs, _ = _answers(listed, {}, {}, ask, is_chosen=False)
    return _told(corrected(listed, pairs), listed, pairs)


def _answers(
    listed: SetList, known: Mapping[str, str], answered: dict[str, str], ask: Ask | None, *, is_chosen: bool
) -> tuple[list[tuple[Doubt, DoubtAnswer]], ReadAgain | None]:
    """Return the doubts with their answers; or how to read the file again, if an answer wants that."""
    pairs: list[tuple[Doubt, DoubtAnswer]] = []
    for question in questions_of(listed):
        doubt = question.doubt
        if is_chosen and _asks_which_list(doubt):
            pairs.append((doubt, doubt.answers[0]))
            continue
        word = known.get(doubt.question)
        answer = None if word is None else answer_to(doubt, word, listed.notation)
        if answer is None and ask is not None:
            answer = ask(question)
            if answer is None:
                ask = None  # the player has had enough
            elif answer.word:
                answered[doubt.question] = answer.word
        if answer is not None:
            again = next((one for one in answer.corrections if isinstance(one, ReadAgain)), None)
            if again is not None and _differs(again, listed):
                return [], again
            pairs.append((doubt, answer))
    return pairs, None


def _told(settled: SetList, read: SetList, pairs: list[tuple[Doubt, DoubtAnswer]]) -> SetList:
    """Return the list with what the player said beside each line that it changed."""
    words = {doubt: answer.word for doubt, answer in pairs if answer.corrections}
    lines = [
        msgspec.structs.replace(now, says=" · ".join(filter(None, (now.says, *(f"you said {word}" for word in said)))))
        if (said := [words[doubt] for doubt in before.doubts if doubt in words])
        else now
        for now, before in zip(settled.lines, read.lines, strict=True)
    ]
    return msgspec.structs.replace(settled, lines=tuple(lines))


def _asks_which_list(doubt: Doubt) -> bool:
    """Return whether a doubt is about which of the file's lists to read."""
    return any(isinstance(one, ReadAgain) and one.chosen for answer in doubt.answers for one in answer.corrections)


def _differs(again: ReadAgain, listed: SetList) -> bool:
    """Return whether a list would be read otherwise than it was."""
    return (again.notation or listed.notation, again.chosen or listed.chosen) != (listed.notation, listed.chosen)
