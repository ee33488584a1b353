"""A cache of parsed files: the same text in all files, read by the same version, is the same show.

A restart on stage then skips the YAML reader, a third of the work of a start. File dates are not trusted: each file is
compared byte by byte with the text that was read. The cache is used only if it is complete and nothing differs;
otherwise everything is read.
"""

import os
import sys
import zlib
from importlib.machinery import PathFinder
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion.errors import UNREADABLE, Fault, FaultyFile
from companion.files.text_file import open_source
from companion.regular import read_regular
from companion.rig import Rig
from companion.show import Show

if TYPE_CHECKING:
    from companion.rig import ReadRig
    from companion.show import ReadShow

FILE: Final = "read-before"
LIMIT_BYTES: Final = 64 * 1024 * 1024  # of the cache file; twenty songbooks of 1 MiB with their contents
_CHECK_BYTES: Final = 4
_PACKAGE: Final = Path(__file__).resolve().parents[1]
_READERS: Final = ("", "files", "music", "rig", "show")  # the rooms whose code decides what a file means


class ReadBefore(msgspec.Struct, frozen=True):
    """A show and a rig without faults, and the paths and texts that they were read from: show, songbooks, rig."""

    program: str
    files: tuple[tuple[str, str], ...]
    show: Show
    rig: Rig
    songbooks: tuple[str, ...] = ()
    warnings: tuple[Fault, ...] = ()


def as_read(show: "ReadShow", rig: "ReadRig") -> ReadBefore:
    """Combine what was read just now."""
    sources = (*show.sources, rig.source)
    return ReadBefore(
        program_mark(),
        tuple((source.path, source.text) for source in sources),
        show.show,
        rig.rig,
        tuple(map(str, show.songbooks)),
        (*show.warnings, *rig.warnings),
    )


def read_before(shelf: Path, show: Path, rig: Path) -> ReadBefore | None:
    """Return the cached contents of these two files; None if they must be read. Never raises."""
    try:
        whole = read_regular(shelf / FILE, _CHECK_BYTES + LIMIT_BYTES)
        check, kept = whole[:_CHECK_BYTES], whole[_CHECK_BYTES:]
        if int.from_bytes(check, "big") != zlib.crc32(kept):
            return None
        before = msgspec.msgpack.decode(kept, type=ReadBefore)
    except (OSError, *UNREADABLE):
        return None
    paths = tuple(path for path, _ in before.files)
    if (paths[:1], paths[-1:]) != ((str(show),), (str(rig),)) or before.program != program_mark():
        return None
    return before if all(_is_unchanged(path, text) for path, text in before.files) else None


def keep_reading(shelf: Path, read: ReadBefore) -> None:
    """Save what was read, for the next start. Raises NotWritten if the disk cannot be written."""
    from companion.files.file_writing import write_whole

    try:
        kept = msgspec.msgpack.encode(read)
    except (UnicodeError, OverflowError):  # a path that is not valid text
        return
    if len(kept) <= LIMIT_BYTES:
        write_whole(shelf / FILE, zlib.crc32(kept).to_bytes(_CHECK_BYTES, "big") + kept)


def program_mark() -> str:
    """Return a mark of everything that affects reading: the Python version, this program's code, its YAML library.

    The code itself is checked, not its date. If the code cannot be read, the mark never repeats.
    """
    check = zlib.crc32(sys.version.encode())
    try:
        for room in _READERS:
            folder = _PACKAGE / room
            code = sorted(name for name in os.listdir(folder) if name.endswith(".py"))  # noqa: PTH208 - a quarter of the time
            for name in code:
                check = zlib.crc32(_content(f"{folder}{os.sep}{name}"), check)
            if not code:
                return _mark_of_its_own()
        yaml = PathFinder.find_spec("yaml")
        if yaml is None or yaml.origin is None:
            return _mark_of_its_own()
        return f"{zlib.crc32(Path(yaml.origin).read_bytes(), check):08x}"  # contains its version
    except OSError:
        return _mark_of_its_own()


def _content(path: str) -> bytes:
    with open(path, "rb", buffering=0) as file:  # noqa: PTH123 - a start reads forty of these
        return file.read()


def _mark_of_its_own() -> str:
    return f"none {os.urandom(8).hex()}"


def _is_unchanged(path: str, text: str) -> bool:
    try:
        return open_source(path).text == text
    except FaultyFile:
        return False
