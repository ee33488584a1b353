"""Read a set list file of any form into a set list, with an account of every line."""

import os
from pathlib import Path

from companion.setlist.model import SetList
from companion.setlist.notation import Notation
from companion.setlist.readers.any_file import bytes_of, checked_bytes, rows_in
from companion.setlist.readers.apart import ReadRequest, read_apart
from companion.setlist.readers.refusal import OnlyPictures


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
