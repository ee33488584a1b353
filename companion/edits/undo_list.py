"""The undo list of a file, kept beside the journals: the oldest text and the changes since."""

import datetime as dt
import hashlib
import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion.edits.merging import Hunk, hunks, merged, patched
from companion.errors import CompanionError
from companion.files.appending import append_lines
from companion.files.file_writing import write_whole

PRIVATE: Final = 0o600  # it holds the player's own text
MAX_STEPS: Final = 200
MAX_BYTES: Final = 4 * 2**20


class UndoStep(msgspec.Struct, frozen=True, omit_defaults=True):
    """One change of the file. ``by_hand``: another program made it.

    ``undoes`` is the number, from 0, of the step that it undoes.
    """

    at: str
    says: str
    changes: tuple[Hunk, ...]
    by_hand: bool = False
    undoes: int | None = None


class _Head(msgspec.Struct, frozen=True):
    """The first line: the file's path and its oldest text."""

    path: str
    text: str


class UndoList(msgspec.Struct, frozen=True):
    """The history of a file: its texts, oldest first, and the steps between them.

    ``is_cut``: the list ends in a half-written line.
    """

    texts: tuple[str, ...] = ()
    steps: tuple[UndoStep, ...] = ()
    is_cut: bool = False

    @property
    def last(self) -> int | None:
        """The number of the newest step that is ours and not undone."""
        undone = self._undone
        ours = (
            at for at, step in enumerate(self.steps) if not step.by_hand and step.undoes is None and at not in undone
        )
        return max(ours, default=None)

    @property
    def last_undo(self) -> int | None:
        """The number of the newest undo that can be undone itself; None if a change of ours came after it."""
        undone = self._undone
        for at in reversed(range(len(self.steps))):
            step = self.steps[at]
            if step.by_hand or at in undone:
                continue
            if step.undoes is None:
                return None
            if self.steps[step.undoes].undoes is None:
                return at
        return None

    def is_undone(self, says: str) -> bool:
        """Whether the newest step of this name is undone now; False if there is none."""
        named = (at for at, step in enumerate(self.steps) if step.says == says and step.undoes is None)
        return max(named, default=None) in self._undone

    @property
    def _undone(self) -> set[int]:
        """The numbers of the steps that are undone now: an undo that was undone itself does not count."""
        undone: set[int] = set()
        for at in reversed(range(len(self.steps))):
            undoes = self.steps[at].undoes
            if undoes is not None and at not in undone:
                undone.add(undoes)
        return undone


def list_path(path: Path, folder: Path) -> Path:
    """Return the path of a file's undo list."""
    name = hashlib.sha256(os.path.realpath(path).encode(errors="surrogateescape")).hexdigest()[:16]
    return folder / "edits" / f"{name}.jsonl"


def read_undo_list(path: Path, folder: Path) -> UndoList:
    """Read the undo list of a file. A missing or damaged one is empty; a line cut short ends it."""
    kept = list_path(path, folder)
    try:
        head, *rest = kept.read_bytes().split(b"\n")
        texts = [msgspec.json.decode(head, type=_Head).text]
    except (OSError, ValueError, msgspec.MsgspecError):
        return UndoList()
    steps: list[UndoStep] = []
    is_cut = False
    for line in filter(bytes.strip, rest):
        try:
            step = msgspec.json.decode(line, type=UndoStep)
        except (ValueError, msgspec.MsgspecError):
            is_cut = True
            break
        steps.append(step)
        texts.append(patched(texts[-1], step.changes))
    return UndoList(tuple(texts), tuple(steps), is_cut)


def add_step(path: Path, folder: Path, change: tuple[str, str], says: str, undoes: int | None = None) -> bool:
    """Add the change from one text to another; return whether it was stored."""
    before, after = change
    kept = list_path(path, folder)
    now = dt.datetime.now(dt.UTC).isoformat(timespec="seconds")
    known = read_undo_list(path, folder)
    steps: list[UndoStep] = []
    if known.texts and known.texts[-1] != before:
        steps.append(UndoStep(now, "by hand", tuple(hunks(known.texts[-1], before)), by_hand=True))
    steps.append(UndoStep(now, says, tuple(hunks(before, after)), undoes=undoes))
    try:
        kept.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not known.texts:
            write_whole(kept, _lines(os.path.realpath(path), before, steps), mode=PRIVATE)
        elif known.is_cut:
            write_whole(kept, _lines(os.path.realpath(path), known.texts[0], [*known.steps, *steps]), mode=PRIVATE)
        elif len(known.steps) >= MAX_STEPS or kept.stat().st_size > MAX_BYTES:
            write_whole(kept, _shortened(os.path.realpath(path), known, steps), mode=PRIVATE)
        else:
            append_lines(kept, b"".join(msgspec.json.encode(step) + b"\n" for step in steps), PRIVATE)
    except (OSError, CompanionError):
        with suppress(OSError):  # a list stored in part would undo in part
            kept.unlink(missing_ok=True)
        return False
    return True


def text_before(known: UndoList, number: int, now: str) -> str | None:
    """Return the text without one step, keeping later changes; None if they touched the same lines."""
    return merged(known.texts[number + 1], known.texts[number], now)


def _lines(path: str, text: str, steps: Sequence[UndoStep]) -> bytes:
    return b"".join(msgspec.json.encode(one) + b"\n" for one in (_Head(path, text), *steps))


def _shortened(path: str, known: UndoList, new: Sequence[UndoStep]) -> bytes:
    """Drop the older half."""
    begin = len(known.steps) // 2
    kept = [_counted_from(begin, step) for step in (*known.steps[begin:], *new)]
    return _lines(path, known.texts[begin], kept)


def _counted_from(begin: int, step: UndoStep) -> UndoStep:
    """Return a step renumbered from a later start; it forgets an undone step from before that."""
    if step.undoes is None:
        return step
    if step.undoes < begin:
        return msgspec.structs.replace(step, undoes=None, by_hand=True)
    return msgspec.structs.replace(step, undoes=step.undoes - begin)
