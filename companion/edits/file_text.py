"""A player's file at the time of reading, to compare with the disk before writing."""

import os
from pathlib import Path

import msgspec


class FileText(msgspec.Struct, frozen=True):
    """A file as read: its path as the player gave it, its text, and whether it began with a byte order mark.

    ``text`` is None if the file does not exist yet.
    """

    path: Path
    text: str | None
    mark: bool = False

    @property
    def real(self) -> Path:
        """The file that the path leads to, with links resolved."""
        return Path(os.path.realpath(self.path))
