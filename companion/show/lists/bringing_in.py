"""Bring a set list into a show file: a new one, or one that has had work done, which is kept."""

import os
from collections.abc import Callable
from pathlib import Path

import msgspec

from companion.errors import CompanionError
from companion.files.opening import open_source
from companion.files.writing import write_whole
from companion.show.apart import read_apart
from companion.show.lists.account import SetList
from companion.show.lists.opening import bytes_of, rows_in
from companion.show.lists.rearranging import CannotKeep, Rearranged, rearranged, written
from companion.show.lists.revising import Difference, Revision, revise
from companion.show.lists.shelf import on_the_shelf, shelf_path, slug_of, with_songs
from companion.show.lists.taking_in import take_in
from companion.show.model import Show
from companion.show.reading import show_in
from companion.show.writing import write_show


class Imported(msgspec.Struct, frozen=True):
    """What came of a list: the account of it, the show, what differs from before, and where it stands.

    ``kept_beside`` is a copy of the old file, made only where its comments could not be kept.
    """

    listed: SetList
    show: Show
    show_path: str
    differences: tuple[Difference, ...] = ()
    is_new: bool = True
    is_written: bool = False
    dropped_to: str | None = None
    kept_beside: str | None = None


def read_list(path: str | os.PathLike[str], *, german: bool = False) -> SetList:
    """Read a set list in a process of its own. ``german``: H is B and B is Bb. Raises FaultyFile where it is none."""
    kind = "german list" if german else "list"
    return read_apart(kind, bytes_of(path), path, SetList)


def list_in(raw: bytes, name: str, *, german: bool = False) -> SetList:
    """Read a set list of this name in this very process. Raises FaultyFile where it is none."""
    title = Path(name).stem.replace("-", " ").replace("_", " ").strip()
    return take_in(rows_in(raw, name), title or "New show", german=german, path=name)


def import_list(
    list_path: str | os.PathLike[str],
    show_path: str | os.PathLike[str] | None = None,
    *,
    german: bool = False,
    agree: Callable[[Imported], bool] = lambda imported: True,  # noqa: ARG005  the answer is yes to anything
) -> Imported:
    """Bring a list into a show file. ``agree`` sees what would come of it, and is asked before anything is written.

    Without a show's path it is the list's own name, in the folder where the player is. Raises FaultyFile for a list
    or a show with faults, CompanionError where the file cannot be written.
    """
    listed = read_list(list_path, german=german)
    target = Path(show_path) if show_path else Path(f"{slug_of(Path(list_path).stem)}.yaml")
    if not target.exists():
        imported = Imported(listed, listed.show, str(target))
        if not agree(imported):
            return imported
        write_whole(target, write_show(listed.show))
        return msgspec.structs.replace(imported, is_written=True)
    source = open_source(target)
    old = show_in(source).show
    revision = revise(old, listed, on_the_shelf(target))
    kept, new = _new_text(source.text, old, revision, target)
    imported = Imported(
        listed,
        revision.show,
        str(target),
        revision.differences,
        is_new=False,
        dropped_to=str(shelf_path(target)) if new.dropped else None,
        kept_beside=None if kept else str(_beside(target)),
    )
    if new.text == source.text or not agree(imported):
        return imported
    _write(target, source.text, new, imported)
    return msgspec.structs.replace(imported, is_written=True)


def _new_text(text: str, old: Show, revision: Revision, target: Path) -> tuple[bool, Rearranged]:
    """Give the new text, and whether the old file's comments are in it."""
    try:
        return True, rearranged(text, old, revision, str(target), shelf_path(target).name)
    except CannotKeep:
        return False, written(old, revision)


def _beside(target: Path) -> Path:
    number = 1
    while (beside := target.with_name(f"{target.stem}.before-{number}.yaml")).exists():
        number += 1
    return beside


def _write(target: Path, text: str, new: Rearranged, imported: Imported) -> None:
    """Write what is left out before what it is left out of: a crash in between loses nothing."""
    if imported.kept_beside:
        write_whole(imported.kept_beside, text)
    if new.dropped:
        shelf = shelf_path(target)
        before = open_source(shelf).text if shelf.exists() else ""
        write_whole(shelf, with_songs(before, str(shelf), new.dropped))
        missing = {title for title, _ in new.dropped} - {song.title for _, song in on_the_shelf(target)}
        if missing:
            raise CompanionError(
                f"{shelf} cannot be written so that it keeps {', '.join(sorted(missing))}; nothing was changed"
            )
    write_whole(target, new.text)
