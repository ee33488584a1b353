"""Read a set list file of any form into a set list, with an account of every line."""

import os
import re
from pathlib import Path

from companion.setlist.model import SaidLine, SetList
from companion.setlist.notation import Notation
from companion.setlist.readers.any_file import bytes_of, checked_bytes, rows_in
from companion.setlist.readers.apart import ReadRequest, read_apart
from companion.setlist.readers.refusal import OnlyPictures

LONGEST_MESSAGE = 20_000  # bytes; a longer file holds a list of its own
REFERS = re.compile(  # words without which no message refers to an earlier list; the parser looks closer
    rb"same|usual|last|before|letztes|immer|derni|normal|standard", re.IGNORECASE
)


def read_list(
    path: str | os.PathLike[str],
    *,
    raw: bytes | None = None,
    notation: Notation | None = None,
    chosen: str | None = None,
) -> SetList:
    """Read a set list in a separate process. Raises FaultyFile if it is not one.

    ``raw``: the list's bytes if they are in no file; ``path`` is then only its name. ``chosen``: which of the file's
    lists, by its name in ``SetList.choices``; None for the default.
    """
    asked = ReadRequest("list", Path(path).name, notation, chosen)
    raw = bytes_of(path) if raw is None else checked_bytes(raw, os.fspath(path))
    try:
        return read_apart(asked, raw, path, SetList)
    except OnlyPictures:
        from companion.setlist.readers.recognition import recognized_list  # noqa: PLC0415  few lists are pictures

        return recognized_list(asked, raw, path)


def read_changes(path: str | os.PathLike[str], *, raw: bytes | None = None) -> tuple[SaidLine, ...]:
    """Read a message that only says what changes in the last list, in a separate process; empty for any other file."""
    raw = bytes_of(path) if raw is None else checked_bytes(raw, os.fspath(path))
    if len(raw) > LONGEST_MESSAGE or not REFERS.search(raw):
        return ()
    return read_apart(ReadRequest("changes", Path(path).name), raw, path, tuple[SaidLine, ...])


def changes_in(raw: bytes, name: str) -> tuple[SaidLine, ...]:
    """Read such a message in the current process."""
    from companion.setlist.parsing.list_talk import lines_of_changes  # noqa: PLC0415  as below
    from companion.setlist.parsing.text_lines import lines_of  # noqa: PLC0415  as below

    return lines_of_changes([line for page in rows_in(raw, name) for line in lines_of(page.rows)])


def list_in(raw: bytes, name: str, *, notation: Notation | None = None, chosen: str | None = None) -> SetList:
    """Read a set list of this name in the current process. Raises FaultyFile if it is not one."""
    from companion.setlist.parsing.understand import take_in  # noqa: PLC0415  its patterns take 0.2 s; only the child process needs them

    return take_in(rows_in(raw, name), title_of(name), notation=notation, chosen=chosen, path=name)


def list_of_words(raw: bytes, name: str, *, notation: Notation | None = None) -> SetList:
    """Read a set list from the words that a program read in a picture. Raises FaultyFile if they are none."""
    from companion.setlist.parsing.understand import take_in  # noqa: PLC0415  same
    from companion.setlist.readers.recognized_words import in_doubt, pages_of_words  # noqa: PLC0415  same

    return in_doubt(take_in(pages_of_words(raw, name), title_of(name), notation=notation, path=name))


def title_of(name: str) -> str:
    """Return a show's title from its list's file name."""
    return Path(name).stem.replace("-", " ").replace("_", " ").strip() or "New show"
