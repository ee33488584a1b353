"""Read a list and settle its doubts: by answers kept from an earlier version of it, then by asking the player."""

import os
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import open_text
from companion.files import SourceFile
from companion.setlist.correcting import corrected
from companion.setlist.kept_answers import SettledDoubt, answers_of
from companion.setlist.known_songs import songs_by_title
from companion.setlist.list_file import ListFile
from companion.setlist.list_questions import Ask, ListAnswers
from companion.setlist.model import SetList
from companion.setlist.near_songs import with_near_songs
from companion.setlist.notation import Notation
from companion.setlist.readers.list_bytes import list_bytes
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
    if show is not None and (said := file.changes()):
        from companion.setlist.revising.same_as_last import changed_list, says_only_changes  # noqa: PLC0415  the parser takes 0.2 s

        if says_only_changes(said, show):
            changed = changed_list(said, show)
            pairs, _ = ListAnswers((), ask).settle(changed)
            return SettledList(corrected(changed, pairs))  # the answers are about this message alone: not kept
    there = [song.title for one in show.sets for song in one.songs] if show else []
    answers = ListAnswers(answers_of(show_path), ask)
    for _ in range(MAX_READINGS):
        listed = file.set_list(notation=notation, chosen=chosen)
        listed = with_near_songs(listed, songs_by_title(show_path, listed.show.band), there)
        pairs, again = answers.settle(listed, is_chosen=chosen is not None)
        if again is None:
            break
        notation, chosen = again.notation or notation, again.chosen or chosen
    kept = answers.kept_for(listed)
    return SettledList(corrected(listed, pairs), answers.given, kept)


def _show_at(path: Path) -> Show | None:
    """Return the show of a file; None if there is no file yet. Raises FaultyFile."""
    return show_in(SourceFile(str(path), open_text(path).text or "")).show if path.exists() else None
