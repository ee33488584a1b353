"""Import a set list into a show file, new or existing; work in an existing one is kept."""

import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import Appended, CannotArrange, ChangedOnDisk, FileText, NewText, commit, no_file, open_text
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.setlist.kept_answers import keep_answers, kept_lines
from companion.setlist.known_songs import known_songs
from companion.setlist.model import SetList
from companion.setlist.notation import Notation
from companion.setlist.revising.diff import Revision, RevisionChoice, TakenSong, revise, with_known_songs
from companion.setlist.revising.differences import Difference
from companion.setlist.revising.dropped_songs import on_the_shelf, shelf_path, slug_of, songs_on, with_songs
from companion.setlist.revising.reordering import Rearranged, rearranged, written
from companion.setlist.settling import Ask, SettledList, settled_list
from companion.show import Show
from companion.show.show_file import show_in
from companion.show.show_text import write_show

Choose = Callable[["Imported", RevisionChoice], RevisionChoice]
"""Decides which differences to leave, given those that are there under the choice so far; called until it is done."""

MAX_TRIES: Final = 20  # while another program keeps changing the show


class Imported(msgspec.Struct, frozen=True):
    """The result of an import: the list's account, the show, the differences, and the files.

    ``kept_beside``: a copy of the old file, made only where its comments could not be kept.
    """

    listed: SetList
    show: Show
    show_path: str
    differences: tuple[Difference, ...] = ()
    is_new: bool = True
    is_written: bool = False
    dropped_to: str | None = None
    kept_beside: str | None = None
    answered_before: int = 0  # questions that an answer to an earlier version of the list settled
    known: tuple[str, ...] = ()  # titles that a new show takes from the songbooks beside it


def import_list(  # noqa: PLR0913  by name, each with a default
    list_path: str | os.PathLike[str],
    show_path: str | os.PathLike[str] | None = None,
    *,
    raw: bytes | None = None,
    notation: Notation | None = None,
    chosen: str | None = None,
    folder: Path | None = None,
    ask: Ask | None = None,
    choose: Choose = lambda _imported, choice: choice,
    agree: Callable[[Imported], bool] = lambda imported: True,  # noqa: ARG005  always yes
    also: Callable[[Imported], Sequence[Appended]] = lambda imported: (),  # noqa: ARG005  nothing more
) -> Imported:
    """Import a list into a show file. ``agree`` is called with the result before anything is written.

    It is called again if the show was changed meanwhile and the result differs. ``also``: lines to append to other
    files in the same step. ``ask`` answers doubts about the list; the answers are kept beside the show for the list's
    next version. ``chosen``: which of the file's lists. ``raw``: the list's bytes if they are in no file;
    ``list_path`` is then only its name. ``folder`` holds the undo lists; default: the user's data folder. Without a
    path, the show takes the list's name, in the current folder. Raises FaultyFile for a list or a show with faults,
    CompanionError if the file cannot be written.
    """
    target = Path(show_path) if show_path else Path(f"{slug_of(Path(list_path).stem)}.yaml")
    settled = settled_list(list_path, target, raw=raw, notation=notation, chosen=chosen, ask=ask)
    says = f"import {Path(list_path).name}"
    return import_settled(settled, target, says, folder=folder, choose=choose, agree=agree, also=also)


def import_settled(
    settled: SettledList,
    target: Path,
    says: str,
    *,
    folder: Path | None = None,
    choose: Choose = lambda _imported, choice: choice,
    agree: Callable[[Imported], bool] = lambda imported: True,  # noqa: ARG005  always yes
    also: Callable[[Imported], Sequence[Appended]] = lambda imported: (),  # noqa: ARG005  nothing more
) -> Imported:
    """Import a list that is read and settled already, as ``import_list`` does. ``says`` names the step for undo."""
    answers = kept_lines(target, settled.answered)
    agreed: Imported | None = None
    choice = RevisionChoice()
    for _ in range(MAX_TRIES):
        imported, changes = _worked_out(settled, target, choice, folder)
        while not _is_agreed(imported, agreed) and (chosen_now := choose(imported, choice)) != choice:
            choice = chosen_now
            imported, changes = _worked_out(settled, target, choice, folder)
        if not changes or (not _is_agreed(imported, agreed) and not agree(imported)):
            if not changes:
                keep_answers(answers)
            return imported
        agreed = imported
        try:
            commit(changes, says, appends=(*also(imported), *answers), folder=folder)
        except ChangedOnDisk:
            continue
        return msgspec.structs.replace(imported, is_written=True)
    raise ChangedOnDisk(f"another program keeps changing {target}; nothing was written")


def looked_at(settled: SettledList, target: Path, choice: RevisionChoice, folder: Path | None = None) -> Imported:
    """Return what importing a list would come to; nothing is written. Raises FaultyFile or CompanionError."""
    return _worked_out(settled, target, choice, folder)[0]


def _worked_out(
    settled: SettledList, target: Path, choice: RevisionChoice, folder: Path | None
) -> tuple[Imported, list[NewText]]:
    """Return the result of importing a list, and the texts to write; none if nothing differs."""
    listed = settled.listed
    if not target.exists():
        imported, text = new_show(listed, target)
        imported = msgspec.structs.replace(imported, answered_before=len(settled.kept))
        return imported, [NewText(no_file(target), text)]
    file = open_text(target, folder)
    text = file.text or ""
    old = show_in(SourceFile(str(target), text)).show
    revision = revise(old, listed, _dropped_before(target), _known(target, listed, old.band), choice)
    kept, new = _new_text(text, old, revision, target)
    imported = Imported(
        listed,
        revision.show,
        str(target),
        revision.differences,
        is_new=False,
        dropped_to=str(shelf_path(target)) if new.dropped else None,
        kept_beside=None if kept else str(_beside(target)),
        answered_before=len(settled.kept),
    )
    if new.text == text:
        return imported, []
    changes = [NewText(no_file(imported.kept_beside), text, target)] if imported.kept_beside else []
    if new.dropped:
        changes.append(_shelved(target, new, folder))
    return imported, [*changes, NewText(file, new.text)]


def new_show(listed: SetList, target: Path) -> tuple[Imported, str]:
    """Return the show that a list begins, with what the songbooks beside it know, and its text. Nothing is written."""
    text, known = write_show(listed.show), _known(target, listed, listed.show.band)
    if known:
        revision = with_known_songs(listed, known)
        with suppress(CannotArrange):
            text = rearranged(text, listed.show, revision, str(target)).text
            return Imported(listed, revision.show, str(target), known=tuple(known)), text
    return Imported(listed, listed.show, str(target)), text


def _dropped_before(target: Path) -> list[TakenSong]:
    """Return the songs that earlier versions of the list dropped."""
    return [(f"{shelf_path(target).name}#{slug}", song) for slug, song in on_the_shelf(target)]


def _known(target: Path, listed: SetList, band: str | None) -> dict[str, TakenSong]:
    """Return the list's songs that the songbooks beside the show know."""
    titles = [song.title for one in listed.show.sets for song in one.songs]
    found = known_songs(target, titles, band or listed.show.band)
    return {title: (known.use, known.song) for title, known in found.items()}


def _is_agreed(imported: Imported, agreed: Imported | None) -> bool:
    """Return whether the player has agreed to exactly this result."""
    return agreed is not None and (imported.differences, imported.kept_beside, imported.is_new) == (
        agreed.differences,
        agreed.kept_beside,
        agreed.is_new,
    )


def _new_text(text: str, old: Show, revision: Revision, target: Path) -> tuple[bool, Rearranged]:
    """Return whether the old file's comments could be kept, and the new show's text."""
    try:
        return True, rearranged(text, old, revision, str(target))
    except CannotArrange:
        return False, written(old, revision)


def _beside(target: Path) -> Path:
    number = 1
    while (beside := target.with_name(f"{target.stem}.before-{number}.yaml")).exists():
        number += 1
    return beside


def _shelved(target: Path, new: Rearranged, folder: Path | None) -> NewText:
    """Return the new text of the songbook of dropped songs. Raises CompanionError if it would lose one."""
    shelf = shelf_path(target)
    if shelf.is_symlink():
        raise CompanionError(f"{shelf} is a link: replace it with a regular file")
    file: FileText = open_text(shelf, folder) if shelf.exists() else no_file(shelf)
    after = with_songs(file.text or "", str(shelf), new.dropped)
    missing = {title for title, _ in new.dropped} - {song.title for song in songs_on(after, target)}
    if missing:
        raise CompanionError(f"{shelf} cannot hold {', '.join(sorted(missing))}; nothing was changed")
    return NewText(file, after, target)
