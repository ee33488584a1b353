"""The files that commands make: one that a command would overwrite is kept beside it, unless a command made it."""

import hashlib
import os
import shutil
from contextlib import suppress
from pathlib import Path
from typing import Final, NamedTuple

import msgspec

from companion.errors import CompanionError, NotWritten
from companion.files.file_writing import write_whole
from companion.files.folders import data_path

KNOWN: Final = "outputs.json"  # in the data folder: for each path, the fingerprint of the last output
MAX_KNOWN: Final = 500
PRIVATE: Final = 0o600
_put_aside: list["KeptAside"] = []


class KeptAside(NamedTuple):
    """An old file's path, and the path of its copy."""

    path: Path
    copy: Path

    def __str__(self) -> str:
        return f"{self.path} held something else, now kept as {self.copy}"


def write_output(path: str | os.PathLike[str], what: str | bytes) -> None:
    """Write a command's output. An existing file that this program did not make is kept beside it.

    Raises NotWritten and leaves the old file untouched.
    """
    target = Path(path)
    whole = what.encode() if isinstance(what, str) else what
    is_file = target.is_file() and not target.is_symlink()
    known = _known() if is_file else {}
    copy = None
    if is_file and _print_of(target) not in (known.get(_name(target)), hashlib.sha256(whole).hexdigest()):
        copy = _keep(target)
    try:
        write_whole(target, whole)
    except CompanionError:
        if copy is not None:
            with suppress(OSError):
                copy.unlink()
        raise
    if copy is not None:
        _put_aside.append(KeptAside(target, copy))
    if target.is_file():
        _remember(target, hashlib.sha256(whole).hexdigest())


def kept_aside() -> tuple[KeptAside, ...]:
    """Return what was kept since the last call, to report to the player."""
    found = tuple(_put_aside)
    _put_aside.clear()
    return found


def _keep(target: Path) -> Path:
    """Keep the old file under the next free name beside it. Raises NotWritten if that fails."""
    number = 1
    while os.path.lexists(copy := target.with_name(f"{target.stem}.before-{number}{target.suffix}")):
        number += 1
    try:
        os.link(target, copy)  # the new file replaces the old name; this name stays
    except OSError:
        try:
            shutil.copy2(target, copy)
        except OSError as error:
            problem = f"{target} holds something else, which cannot be kept as {copy}: {error.strerror or error}"
            raise NotWritten(problem, "another name") from error
    return copy


def _print_of(target: Path) -> str:
    with target.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _name(target: Path) -> str:
    return os.path.abspath(target)  # noqa: PTH100  a link stays a link


def _known() -> dict[str, str]:
    try:
        return msgspec.json.decode((data_path() / KNOWN).read_bytes(), type=dict[str, str])
    except (OSError, ValueError, msgspec.MsgspecError):
        return {}


def _remember(target: Path, fingerprint: str) -> None:
    known = _known()
    if known.get(_name(target)) == fingerprint:
        return
    known.pop(_name(target), None)
    known[_name(target)] = fingerprint
    newest = dict(list(known.items())[-MAX_KNOWN:])
    with suppress(OSError, CompanionError, UnicodeError):  # then the next output keeps a copy
        data_path().mkdir(parents=True, exist_ok=True)
        write_whole(data_path() / KNOWN, msgspec.json.encode(newest), mode=PRIVATE)
