"""Bring a set list in from a file: the way from a path to what was understood."""

import os
from pathlib import Path

from companion.show.lists.account import SetList
from companion.show.lists.opening import open_list
from companion.show.lists.taking_in import take_in


def read_list(path: str | os.PathLike[str], *, german: bool = False) -> SetList:
    """Read a set list. ``german``: H is B and B is Bb. Raises FaultyFile where the file cannot be one."""
    shown = os.fspath(path)
    name = Path(path).stem.replace("-", " ").replace("_", " ").strip()
    return take_in(open_list(path), name or "New show", german=german, path=shown)
