"""Read a list and settle its doubts: by answers kept from an earlier version of it, then by asking the player."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import open_text
from companion.errors import FaultyFile
from companion.files import SourceFile
from companion.setlist.correcting import corrected
from companion.setlist.kept_answers import SettledDoubt, answers_of
from companion.setlist.known_songs import songs_by_title
from companion.setlist.list_file import ListFile
from companion.setlist.list_questions import Ask, DoubtQuestion, ListAnswers, questions_of
from companion.setlist.model import Doubt, SaidLine, SetList
from companion.setlist.near_songs import with_near_songs
from companion.setlist.notation import Notation
from companion.setlist.readers.list_bytes import list_bytes
from companion.setlist.songs_of_show import settled_by_show
from companion.show import Show
from companion.show.show_file import show_in

MAX_READINGS: Final = 8  # of one file, where answers ask for another of its lists or another notation


class SettledList(msgspec.Struct, frozen=True):
    """The list with all answers applied, the questions answered now, and those answered from an earlier version."""

    listed: SetList
    answered: tuple[SettledDoubt, ...] = ()
    kept: tuple[SettledDoubt, ...] = ()


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
    file = ListFile(list_path, list_bytes(list_path, raw))
    show = _show_at(Path(show_path))
    is_asked = False
    if show is not None and (said := file.changes()):
        from companion.setlist.revising.changes_or_list import MessageKind, kind_of  # noqa: PLC0415  the parser takes 0.2 s

        kind = kind_of(said, show)
        if kind is not MessageKind.LIST:
            is_asked = kind is MessageKind.UNSURE
            changed = _changes(said, show, ask, is_sure=not is_asked)
            if changed is not None:
                return changed
    there = [song.title for one in show.sets for song in one.songs] if show else []
    answers = ListAnswers(answers_of(show_path), ask)
    for _ in range(MAX_READINGS):
        try:
            listed = file.set_list(notation=notation, chosen=chosen)
        except FaultyFile:
            if show is not None and (changed := _changes_alone(file, show, ask)) is not None:
                return changed
            raise
        if show is not None and not is_asked:
            is_asked = True
            if (part := _part_of(listed, file, show, ask)) is not None:
                return part
        listed = with_near_songs(listed, songs_by_title(show_path, listed.show.band), there)
        answers.assume(settled_by_show(listed, there))
        pairs, again = answers.settle(listed, is_chosen=chosen is not None)
        if again is None:
            break
        notation, chosen = again.notation or notation, again.chosen or chosen
    kept = answers.kept_for(listed)
    return SettledList(corrected(listed, pairs), answers.given, kept)


def _part_of(listed: SetList, file: ListFile, show: Show, ask: Ask | None) -> SettledList | None:
    """Return a list so short that it may be a part of the show as changes; None if it is the whole list."""
    from companion.setlist.parsing.list_talk import LOOKS_LIKE_CHANGES  # noqa: PLC0415  the parser takes 0.2 s
    from companion.setlist.revising.changes_or_list import is_counted, may_be_part  # noqa: PLC0415  same

    is_talk = any(doubt.says == LOOKS_LIKE_CHANGES for doubt in listed.doubts)
    if not is_talk and not may_be_part(len(listed.titles), show):
        return None
    said = file.changes(is_short=True)
    return _changes(said, show, ask, is_sure=False) if said and (is_talk or not is_counted(said)) else None


def _changes_alone(file: ListFile, show: Show, ask: Ask | None) -> SettledList | None:
    """Return what a message that holds no list changes; None if it changes nothing."""
    from companion.setlist.revising.same_as_last import changed_list  # noqa: PLC0415  the parser takes 0.2 s

    said = file.changes(is_short=True)
    is_change = bool(said) and changed_list(said, show).show.sets != show.sets
    return _changes(said, show, ask, is_sure=True) if is_change else None


def _changes(said: Sequence[SaidLine], show: Show, ask: Ask | None, *, is_sure: bool) -> SettledList | None:
    """Return the show's songs with what a message changes; None if the player says that it is the whole list."""
    from companion.setlist.revising.changes_or_list import WHOLE, changes_or_list  # noqa: PLC0415  the parser takes 0.2 s
    from companion.setlist.revising.same_as_last import changed_list  # noqa: PLC0415  same

    changed = changed_list(said, show)
    first: tuple[Doubt, ...] = ()
    if not is_sure:
        doubt = changes_or_list()
        left = len(questions_of(changed)) + 1
        answer = ask(DoubtQuestion(doubt, left=left)) if ask else None
        if answer is not None and answer.word == WHOLE:
            return None
        first = () if answer is not None and answer.word else (doubt,)
        ask = None if answer is None else ask  # the player has had enough
    pairs, _ = ListAnswers((), ask).settle(changed)
    settled = corrected(changed, pairs)  # the answers are about this message alone: not kept
    return SettledList(msgspec.structs.replace(settled, doubts=(*first, *settled.doubts)))


def _show_at(path: Path) -> Show | None:
    """Return the show of a file; None if there is no file yet. Raises FaultyFile."""
    return show_in(SourceFile(str(path), open_text(path).text or "")).show if path.exists() else None
