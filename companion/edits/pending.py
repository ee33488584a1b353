"""Write several files as one step: the plan is stored first, so the next run can finish after a crash."""

import codecs
import hashlib
import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion.edits.file_text import FileText
from companion.errors import CompanionError
from companion.files.appending import append_lines, locked
from companion.files.file_writing import mode_like, write_whole
from companion.files.text_file import open_source

FOLDER: Final = "edits/half-done"
LOCK: Final = "edits/writing.lock"
PRIVATE: Final = 0o600


class Appended(msgspec.Struct, frozen=True):
    """Whole lines to add to the end of a file in the same step."""

    path: str
    lines: str


class _Wanted(msgspec.Struct, frozen=True):
    """One file: its path, the fingerprint of its old text (empty: no file), and its new text."""

    path: str
    before: str
    after: str
    mark: bool = False


class _HalfDone(msgspec.Struct, frozen=True):
    """The plan of one step: all its files and appended lines, stored while they are written."""

    files: tuple[_Wanted, ...]
    appends: tuple[Appended, ...] = ()


def keep_pending(folder: Path, files: Sequence[tuple[FileText, str]], appends: Sequence[Appended]) -> Path | None:
    """Store the plan; return None if that fails: a crash may then leave half of it written."""
    wanted = tuple(
        _Wanted(os.path.abspath(file.path), _print_of(file.text), after, file.mark)  # noqa: PTH100  a link stays one
        for file, after in files
    )
    kept = folder / FOLDER / f"{os.getpid()}-{os.urandom(4).hex()}.json"
    try:
        kept.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_whole(kept, msgspec.json.encode(_HalfDone(wanted, tuple(appends))), mode=PRIVATE)
    except (OSError, CompanionError):
        return None
    return kept


def recover(folder: Path, path: Path) -> None:
    """Finish the step that a killed process left half done on this file. Files changed since then stay unchanged."""
    here = folder / FOLDER
    if not here.is_dir() or not any(here.glob("*.json")):
        return
    with locked(folder / LOCK):  # a process that is still writing holds it
        _recover(here, os.path.abspath(path))  # noqa: PTH100  same


def _recover(here: Path, path: str) -> None:
    for kept in sorted(here.glob("*.json")):
        try:
            half = msgspec.json.decode(kept.read_bytes(), type=_HalfDone)
        except (OSError, ValueError, msgspec.MsgspecError):
            continue
        named = {*(one.path for one in half.files), *(one.path for one in half.appends)}
        if path not in named:
            continue
        _finish(half)
        with suppress(OSError):
            kept.unlink()


def _finish(half: _HalfDone) -> None:
    if all(_print_of(_text(one.path)) == one.before for one in half.files) and half.files:
        return  # killed before the first file: nothing was written
    for one in half.files:
        if _print_of(_text(one.path)) == one.before:
            with suppress(CompanionError):
                target = os.path.realpath(one.path) if one.before else one.path
                write_whole(target, codecs.BOM_UTF8 * one.mark + one.after.encode(), mode=PRIVATE)
    for added in half.appends:
        file = Path(added.path)
        with suppress(OSError):
            if not file.exists() or added.lines.encode() not in file.read_bytes():
                append_lines(file, added.lines.encode(), mode_like(half.files[0].path) if half.files else PRIVATE)


def _text(path: str) -> str | None:
    if not Path(path).exists():
        return None
    try:
        return open_source(path).text
    except CompanionError:
        return ""


def _print_of(text: str | None) -> str:
    return "" if text is None else hashlib.sha256(text.encode(errors="surrogatepass")).hexdigest()
