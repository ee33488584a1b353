"""Save edits to files: compare the disk with what was read, and write several files as one step.

Changes that another program made meanwhile stay: the edits are applied again to the new text. If both changed the same
value, the player decides; without a player at the terminal, nothing is written.
"""

import codecs
import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any, Final

import msgspec

from companion.edits.addresses import EditPlace, SongNamed, found_song, value_at, way_of
from companion.edits.applying import applied
from companion.edits.edit import Edit, Remove, SetValue
from companion.edits.file_text import FileText
from companion.edits.meant import value_in_song
from companion.edits.pending import LOCK, Appended, keep_pending, recover
from companion.edits.rendering import as_typed
from companion.edits.spans import Plain, plainly_of, spans_of
from companion.edits.undo_list import PRIVATE, UndoList, add_step, read_undo_list, text_before
from companion.errors import CompanionError, NotWritten
from companion.files.appending import append_lines, locked
from companion.files.file_writing import mode_like, write_whole
from companion.files.folders import data_path
from companion.files.text_file import open_source

MAX_TRIES: Final = 20  # attempts on a file that another program keeps changing
NOTHING: Final = "nothing"
UNDO: Final = "undo: "


class NewText(msgspec.Struct, frozen=True):
    """A file's new text, and the text that it was made from. ``like``: the file whose permissions a new one gets."""

    file: FileText
    after: str
    like: Path | None = None


class EditClash(msgspec.Struct, frozen=True):
    """A value that the edit and another program both changed: as read, as in the file now, as the edit wants it."""

    place: str
    before: str
    now: str
    wanted: str

    def __str__(self) -> str:
        return f"{self.place} was {self.before}, is now {self.now} in the file, and would become {self.wanted}"


class Saved(msgspec.Struct, frozen=True):
    """The texts before and after, and whether another program's change was kept too."""

    before: str
    after: str
    kept_other_changes: bool


class ChangedOnDisk(CompanionError):  # noqa: N818  reads better than an Error
    """A file has changed since it was read."""


class Clashes(CompanionError):  # noqa: N818  same
    """Another program changed the same value, and no player could decide; nothing was written."""


def open_text(path: str | os.PathLike[str], folder: Path | None = None) -> FileText:
    """Read a file to edit, after finishing what a killed run left half done. Raises FaultyFile."""
    recover(folder or data_path(), Path(path))
    source = open_source(path)
    with Path(path).open("rb") as file:
        mark = file.read(len(codecs.BOM_UTF8)) == codecs.BOM_UTF8
    return FileText(Path(path), source.text, mark)


def no_file(path: str | os.PathLike[str]) -> FileText:
    """Return a file that does not exist yet."""
    return FileText(Path(path), None)


def save(
    file: FileText,
    edits: Sequence[Edit],
    says: str,
    *,
    check: Callable[[str], object] = lambda _: None,
    ask: Callable[[EditClash], bool] | None = None,
    appends: Sequence[Appended] = (),
    folder: Path | None = None,
) -> Saved:
    """Write edits to a file. ``check`` gets the new text, and raises if it must not be written.

    ``appends``: lines to add to other files in the same step.

    ``ask`` is called for each value that another program changed too; True takes the edit's. ``says`` is the step's
    name in the undo list. Raises Clashes, CompanionError or FaultyFile; the file is then unchanged.
    """
    read = file
    for _ in range(MAX_TRIES):
        text = file.text or ""
        after = applied(text, edits, str(file.path))
        check(after)
        try:
            commit([NewText(file, after)], says, appends=appends, folder=folder)
        except ChangedOnDisk:
            file = open_text(read.path, folder)
            edits = _agreed(read, file, edits, ask)
            continue
        return Saved(text, after, kept_other_changes=file is not read)
    raise ChangedOnDisk(f"another program keeps changing {read.path}; nothing was written")


def _agreed(
    read: FileText, now: FileText, edits: Sequence[Edit], ask: Callable[[EditClash], bool] | None
) -> tuple[Edit, ...]:
    """Return the edits except where the player keeps the file's value. Raises Clashes if no player can decide."""
    edits = [one for one in edits if not (isinstance(one, Remove) and _value_at(now.text or "", one) is None)]
    found = [(edit, clash_of(read.text or "", now.text or "", edit)) for edit in edits]
    clashes = [clash for _, clash in found if clash is not None]
    if clashes and ask is None:
        listed = "; ".join(map(str, clashes))
        raise Clashes(f"{now.path} was changed meanwhile: {listed}. Nothing was written")
    refused: set[EditPlace | None] = set()
    for edit, clash in found:
        if clash is not None and isinstance(edit, SetValue | Remove) and not (ask and ask(clash)):
            refused.add(edit.where)
    return tuple(edit for edit in edits if not refused & {getattr(edit, "where", None), getattr(edit, "beside", None)})


def clash_of(read: str, now: str, edit: Edit) -> EditClash | None:
    """Return the conflict; None if the value is still as read, or already as the edit wants it."""
    if not isinstance(edit, SetValue | Remove):
        return None
    before, there = _value_at(read, edit), _value_at(now, edit)
    wanted: Plain | None = as_typed(edit.value) if isinstance(edit, SetValue) else None
    if there in (before, wanted):
        return None
    place = ", ".join(str(step) for step in edit.where)
    return EditClash(place, _value_text(before), _value_text(there), _value_text(wanted))


def _value_at(text: str, edit: SetValue | Remove) -> Plain | None:
    """Return the value at an edit's place, or None."""
    root = spans_of(text)
    try:
        first = edit.where[0]
        if isinstance(first, SongNamed):
            return value_in_song(plainly_of(found_song(root, first)[1]), edit.where[1:])
        return plainly_of(value_at(root, way_of(root, edit.where)))
    except (CompanionError, IndexError, KeyError):
        return None


def _value_text(value: Any) -> str:  # noqa: ANN401  lists and tables of texts, in each other
    if value is None:
        return NOTHING
    text = value if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def commit(
    changes: Sequence[NewText], says: str, *, appends: Sequence[Appended] = (), folder: Path | None = None
) -> None:
    """Write several files as one step; if the process is killed, the next read of any of them finishes it.

    Raises ChangedOnDisk if a file has changed since it was read (nothing is written then), and NotWritten.
    """
    kept_in = folder or data_path()
    changes = [one for one in changes if one.file.text != one.after]
    if not changes and not appends:
        return
    with locked(kept_in / LOCK):
        for one in changes:
            _require_unchanged(one.file)
        many = len(changes) + len(appends) > 1
        pending = keep_pending(kept_in, [(one.file, one.after) for one in changes], appends) if many else None
        try:
            _write_all(changes, appends)
        except CompanionError:
            if pending is not None:
                pending.unlink(missing_ok=True)
            raise
        for one in changes:
            if one.file.text is not None:
                add_step(one.file.path, kept_in, (one.file.text, one.after), says)
        if pending is not None:
            pending.unlink(missing_ok=True)


def withdraw(file: FileText, folder: Path | None = None) -> None:
    """Remove a file that is still as it was read: one that was just made. Raises ChangedOnDisk, NotWritten."""
    with locked((folder or data_path()) / LOCK):
        _require_unchanged(file)
        try:
            file.real.unlink()
        except OSError as error:
            raise NotWritten(f"{file.path} cannot be removed: {error.strerror or error}") from error


def _write_all(changes: Sequence[NewText], appends: Sequence[Appended]) -> None:
    """Write one file after the other; if one fails, restore those before it. Raises CompanionError."""
    done: list[NewText] = []
    try:
        for one in changes:
            _write(one, one.after, partial(_require_unchanged, one.file))
            done.append(one)
        for added in appends:
            mode = mode_like(changes[0].file.path) if changes else PRIVATE
            try:
                append_lines(Path(added.path), added.lines.encode(), mode)
            except OSError as error:
                raise NotWritten(f"{added.path} cannot be written: {error.strerror or error}") from error
    except CompanionError:
        for one in reversed(done):
            with suppress(CompanionError, OSError):
                if one.file.text is None:
                    one.file.path.unlink()
                else:
                    _write(one, one.file.text)
        raise


def _write(one: NewText, text: str, at_last: Callable[[], object] = lambda: None) -> None:
    target = one.file.path if one.file.text is None else one.file.real
    write_whole(target, codecs.BOM_UTF8 * one.file.mark + text.encode(), mode=_mode(one), at_last=at_last)


def _mode(one: NewText) -> int | None:
    return mode_like(one.like) if one.like is not None else None


def _require_unchanged(file: FileText) -> None:
    """Raise ChangedOnDisk if a file has changed since it was read; called again right before it is replaced."""
    if _on_disk(file) != file.text:
        raise ChangedOnDisk(f"{file.path} was changed by another program meanwhile; nothing was written")


def _on_disk(file: FileText) -> str | None:
    if not os.path.lexists(file.path):
        return None
    return open_source(file.path).text


# ------------------------------------------------------------------ undo


class Undo(msgspec.Struct, frozen=True):
    """The newest change that can be undone: its number, time and name, and the text without it."""

    file: FileText
    number: int
    at: str
    says: str
    after: str


def undo_of(path: Path, folder: Path | None = None) -> Undo | None:
    """Return the newest change of a file by this program that can be undone, or None.

    Raises CompanionError if another program changed the same lines since then.
    """
    return _undo(path, folder, lambda known: known.last)


def redo_of(path: Path, folder: Path | None = None) -> Undo | None:
    """Return the newest undo that can be taken back itself, or None if a change came after it.

    Raises CompanionError if another program changed the same lines since then.
    """
    return _undo(path, folder, lambda known: known.last_undo)


def _undo(path: Path, folder: Path | None, step: Callable[[UndoList], int | None]) -> Undo | None:
    kept_in = folder or data_path()
    file = open_text(path, kept_in)
    known = read_undo_list(path, kept_in)
    return _without(file, known, step(known))


def _without(file: FileText, known: UndoList, number: int | None) -> Undo | None:
    if number is None or file.text is None:
        return None
    step = known.steps[number]
    after = text_before(known, number, file.text)
    if after is None:
        raise CompanionError(
            f"{file.path}: this change ({step.says}) cannot be undone: its lines were edited since. Edit them by hand"
        )
    return Undo(file, number, step.at, step.says, after)


def take_back(undo: Undo, folder: Path | None = None) -> None:
    """Undo a change. Raises ChangedOnDisk if the file has changed since ``undo_of``."""
    kept_in = folder or data_path()
    file = undo.file
    with locked(kept_in / LOCK):
        _require_unchanged(file)
        whole = codecs.BOM_UTF8 * file.mark + undo.after.encode()
        write_whole(file.real, whole, at_last=partial(_require_unchanged, file))
        add_step(file.path, kept_in, (file.text or "", undo.after), _says_undone(undo.says), undo.number)


def _says_undone(says: str) -> str:
    return f"redo: {says.removeprefix(UNDO)}" if says.startswith(UNDO) else f"{UNDO}{says}"
