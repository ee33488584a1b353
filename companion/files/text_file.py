"""From a path to text: a regular UTF-8 file of at most 1 MiB, or a fault that says what it is instead."""

import codecs
import os
import re
import stat
from pathlib import Path

from companion.errors import Fault, FaultyFile
from companion.files.nearest import nearest
from companion.files.nodes import BREAKS, SourceFile

LIMIT_BYTES = 1024 * 1024  # about 700 songs with every section written out
OTHER_MARKS = (  # Unicode Standard, 23.8, byte order marks; the longer ones first
    (codecs.BOM_UTF32_LE, "UTF-32"),
    (codecs.BOM_UTF32_BE, "UTF-32"),
    (codecs.BOM_UTF16_LE, "UTF-16"),
    (codecs.BOM_UTF16_BE, "UTF-16"),
)
SAVE_AS = "the same text, saved by the editor as UTF-8"


def open_source(path: str | os.PathLike[str]) -> SourceFile:
    """Read a file as text. Raises FaultyFile."""
    shown = os.fspath(path)
    return SourceFile(shown, text_of(_bytes_of(Path(path), shown), shown))


def text_of(raw: bytes, shown: str) -> str:
    """Decode a file's bytes; faults name the file as ``shown``. Raises FaultyFile if they are not UTF-8."""
    for mark, name in OTHER_MARKS:
        if raw.startswith(mark):
            raise _whole(shown, f"the file is written in {name}", SAVE_AS)
    raw = raw.removeprefix(codecs.BOM_UTF8)
    if 0 in raw:
        kind = "UTF-16" if raw[:1] and 0 in raw[:2] and raw.count(0) * 3 > len(raw) else None
        line = raw.count(b"\n", 0, raw.index(0)) + 1
        problem = f"the file is written in {kind}" if kind else f"not a text file: byte 00 on line {line}"
        raise _whole(shown, problem, SAVE_AS)
    try:
        return raw.decode()
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode()
        line, column = len(re.findall(BREAKS, before)) + 1, len(re.split(BREAKS, before)[-1]) + 1
        problem = f"byte {raw[error.start]:02X} is not UTF-8; the file may be in Latin-1 or Windows-1252"
        raise FaultyFile((Fault(shown, line, column, problem, SAVE_AS),)) from None


def _bytes_of(path: Path, shown: str) -> bytes:
    try:
        kind = path.stat().st_mode
        if stat.S_ISDIR(kind):
            inside = sorted(str(found) for found in path.glob("*.yaml"))
            raise _whole(shown, "a folder, not a file", inside[0] if inside else "the path of a .yaml file")
        if not stat.S_ISREG(kind):
            raise _whole(shown, "not a regular file", "the path of a .yaml file")
        with path.open("rb") as file:
            raw = file.read(LIMIT_BYTES + 1)
    except FileNotFoundError:
        raise _whole(shown, "there is no such file", _nearest_file(path)) from None
    except PermissionError:
        raise _whole(shown, "you have no permission to read this file", "") from None
    except (OSError, ValueError) as error:
        raise _whole(shown, f"the file cannot be read ({error})", "") from None
    if len(raw) > LIMIT_BYTES:
        raise _whole(shown, "the file is larger than 1 MiB", "a smaller file; songs can move to a songbook")
    return raw


def _nearest_file(path: Path) -> str:
    try:
        beside = {found.stem: found for found in path.parent.iterdir() if found.suffix in (".yaml", ".yml")}
    except OSError:
        return ""
    near = nearest(path.stem, beside)
    return str(beside[near]) if near else ""


def _whole(shown: str, problem: str, write: str) -> FaultyFile:
    return FaultyFile((Fault(shown, 0, 0, problem, write),))
