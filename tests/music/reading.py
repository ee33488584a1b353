"""Reading that ends in music or in its fault, whichever it is."""

from collections.abc import Callable
from typing import TypeVar

from companion.music import NotMusic

Music = TypeVar("Music")


def music_or_fault(read: Callable[[str], Music], text: str) -> Music | NotMusic:
    """Read the text; return its fault if it has one."""
    try:
        return read(text)
    except NotMusic as fault:
        return fault
