"""Read a set list file of any form into a set list, with an account of every line."""

import os
from pathlib import Path

from companion.setlist.model import SetList
from companion.setlist.notation import Notation
from companion.setlist.readers.any_file import bytes_of, rows_in
from companion.setlist.readers.apart import ReadRequest, read_apart


def read_list(
    path: str | os.PathLike[str], *, notation: Notation = Notation.LETTERS, chosen: str | None = None
) -> SetList:
    """Read a set list in a separate process. Raises FaultyFile where it is not one.

    ``chosen``: which of the file's lists, by its name in ``SetList.choices``; None for the default.
    """
    return read_apart(ReadRequest("list", Path(path).name, notation, chosen), bytes_of(path), path, SetList)


def list_in(raw: bytes, name: str, *, notation: Notation = Notation.LETTERS, chosen: str | None = None) -> SetList:
    """Read a set list of this name in the current process. Raises FaultyFile where it is not one."""
    from companion.setlist.parsing.understand import take_in  # noqa: PLC0415  its patterns take 0.2 s; only the child process needs them

    title = Path(name).stem.replace("-", " ").replace("_", " ").strip()
    return take_in(rows_in(raw, name), title or "New show", notation=notation, chosen=chosen, path=name)
