"""The changes that a page asks for, as they come in JSON.

``column`` and ``open`` (a song's id, where its sheet is shown) say what the answer is shown with.
"""

from typing import Literal

import msgspec


class WantedEdit(msgspec.Struct, frozen=True):
    """One field as typed: ``was`` is the text that the page showed before.

    Of a song; of one of its sections; or ``about`` the engagement ("show") or a set (its id).
    """

    field: str
    value: str
    was: str
    title: str = ""
    occurrence: int = 1
    about: str = ""
    section: int | None = None
    look: dict[str, str] = {}  # what the pictures beside the sheet show
    column: str = "key"
    open: str = ""


class WantedMove(msgspec.Struct, frozen=True):
    """A song to move, by its id on the page: by one up or down, or into a set after a song ("" for its top)."""

    song: str
    by: int = 0
    into: str = ""
    after: str = ""
    column: str = "key"
    open: str = ""


class WantedSong(msgspec.Struct, frozen=True):
    """A song by its id on the page, or a set by its id and the title of a song to add to it."""

    song: str = ""
    into: str = ""
    title: str = ""
    column: str = "key"
    open: str = ""


class WantedShow(msgspec.Struct, frozen=True):
    """The title of a show to begin, or the number of one to choose."""

    title: str = ""
    show: str = ""
    column: str = "key"
    open: str = ""
    look: dict[str, str] = {}


class WantedRow(msgspec.Struct, frozen=True):
    """A section to add after, to move or to take out: the song's id, and the section's number, from 0."""

    song: str
    does: Literal["add-row", "row-up", "row-down", "row-out"]
    at: int
    column: str = "key"
    open: str = ""
    look: dict[str, str] = {}


class WantedStage(msgspec.Struct, frozen=True):
    """How to start the stage."""

    how: str
    column: str = "key"
    open: str = ""


class WantedList(msgspec.Struct, frozen=True):
    """A decision about the list's next version.

    ``name``: of a difference, of a group of them, or the question that ``word`` answers; of the old song of two that
    are one (``word`` is the new one).
    """

    does: Literal["answer", "take", "leave", "another", "together", "write", "put-away"]
    name: str = ""
    word: str = ""
    column: str = "key"
    open: str = ""


ShownWith = WantedList | WantedEdit | WantedMove | WantedSong | WantedShow | WantedRow | WantedStage
"""Any change: each says what its answer is shown with."""
