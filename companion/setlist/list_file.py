"""A set list's file, opened once and read in a separate process, as often as answers ask for another reading."""

import os
import re
from pathlib import Path

import msgspec

from companion.setlist.model import SaidLine, SetList
from companion.setlist.notation import Notation
from companion.setlist.readers.apart import ReadRequest, read_apart
from companion.setlist.readers.list_bytes import list_bytes
from companion.setlist.readers.refusal import OnlyPictures

LONGEST_MESSAGE = 20_000  # bytes; a longer file holds a list of its own
LONGEST_CHANGES = 4_000  # bytes of a message that refers to no earlier list
REFERS = re.compile(  # words without which no message refers to an earlier list; the parser looks closer
    rb"same|usual|last|before|letztes|immer|derni|normal|standard", re.IGNORECASE
)
CHANGES = re.compile(  # the same for one that says what to do with its songs
    rb"\b(?:drop|lose|cut|skip|scrap|omit|remove|ditch|leave|take|without|minus|out|add|plus|swap|replace|change|move|"
    rb"instead|now|tonight|new|start|rest|otherwise|updated?|not)|\b(?:in|to)\s+(?-i:[A-G])(?:b|#|m)?(?!\w)",
    re.IGNORECASE,
)


class ListFile(msgspec.Struct, frozen=True):
    """A list's bytes, read once, whatever is read out of them how often. ``path`` may be only a name."""

    path: str | os.PathLike[str]
    raw: bytes

    def set_list(self, *, notation: Notation | None = None, chosen: str | None = None) -> SetList:
        """Read the list in a separate process. Raises FaultyFile if it is not one.

        ``chosen``: which of the file's lists, by its name in ``SetList.choices``; None for the default.
        """
        asked = ReadRequest("list", Path(self.path).name, notation, chosen)
        try:
            return read_apart(asked, self.raw, self.path, SetList)
        except OnlyPictures:
            from companion.setlist.readers.recognition import recognized_list  # noqa: PLC0415  few lists are pictures

            return recognized_list(asked, self.raw, self.path)

    def changes(self, *, is_short: bool = False) -> tuple[SaidLine, ...]:
        """Read a message that may say what changes in the last list, in a separate process; empty for any other.

        Whether it does depends on the songs of that list: ``kind_of``. ``is_short``: it holds few songs, so it may be a
        part of that list whatever its words are.
        """
        refers = len(self.raw) <= LONGEST_MESSAGE and REFERS.search(self.raw)
        if not refers and (len(self.raw) > LONGEST_CHANGES or not (is_short or CHANGES.search(self.raw))):
            return ()
        try:
            return read_apart(ReadRequest("changes", Path(self.path).name), self.raw, self.path, tuple[SaidLine, ...])
        except OnlyPictures:  # such words may be in a picture's bytes
            return ()


def read_list(
    path: str | os.PathLike[str],
    *,
    raw: bytes | None = None,
    notation: Notation | None = None,
    chosen: str | None = None,
) -> SetList:
    """Open a list and read it in a separate process. Raises FaultyFile if it is not one."""
    return ListFile(path, list_bytes(path, raw)).set_list(notation=notation, chosen=chosen)
