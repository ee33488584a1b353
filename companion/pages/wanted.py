"""The changes that a page asks for, as they come in JSON.

Each says what its answer is shown with: see ShownWith.
"""

from typing import Literal

import msgspec


class ShownWith(msgspec.Struct, frozen=True, kw_only=True):
    """What a tab shows: the column typed into, the song whose sheet is ``open`` (its id), and which pictures.

    ``shown``: the version of the show that it shows so; "" if it shows something else, and needs all anew.
    """

    column: str = "key"
    open: str = ""
    look: dict[str, str] = {}
    shown: str = ""


class WantedEdit(ShownWith, frozen=True):
    """One field as typed: ``was`` is the text that the page showed before.

    Of a song; of one of its sections; or ``about`` the engagement ("show") or a set (its id). ``heard``: the text was
    heard on the recording, so its letter chords are in the record's key.
    """

    field: str
    value: str
    was: str
    title: str = ""
    occurrence: int = 1
    about: str = ""
    section: int | None = None
    heard: bool = False


class WantedMove(ShownWith, frozen=True):
    """A song to move, by its id on the page: by one up or down, or into a set after a song ("" for its top)."""

    song: str
    by: int = 0
    into: str = ""
    after: str = ""


class WantedSong(ShownWith, frozen=True):
    """A song by its id on the page, or a set by its id and the title of a song to add to it."""

    song: str = ""
    into: str = ""
    title: str = ""


class WantedShow(ShownWith, frozen=True):
    """The title of a show to begin, or the number of one to choose."""

    title: str = ""
    show: str = ""


class WantedReply(ShownWith, frozen=True):
    """A message with the leader's answers, as pasted."""

    text: str


class WantedRow(ShownWith, frozen=True):
    """A section to add after, to move or to take out: the song's id, and the section's number, from 0."""

    song: str
    does: Literal["add-row", "row-up", "row-down", "row-out"]
    at: int


class WantedStage(ShownWith, frozen=True):
    """How to start the stage."""

    how: str


class WantedRefusal(ShownWith, frozen=True):
    """A part of what was heard that is refused, by its field; "" shows all parts of the song again."""

    song: str
    field: str = ""


class WantedDownbeat(ShownWith, frozen=True):
    """A place where a bar begins in a song's recording, such as 1:12.4, to add or to take out."""

    song: str
    does: Literal["add", "out"]
    place: str


class WantedList(ShownWith, frozen=True):
    """A decision about the list's next version.

    ``name``: of a difference, of a group of them, or the question that ``word`` answers; of the old song of two that
    are one (``word`` is the new one). Or an answer about the list that the show was made from (``doubt``), or none to
    the rest of its questions (``doubts-away``). Or the leader's answer in doubt with this number (``name``): to take
    with a value (``word``), or to leave out; or what one left open, as done; with ``-all``, so
    are all that say the same of other songs. Or a lesson of the night to take (its
    words, or "all"), a song that is not known yet after it, or what the night was. Or that the message to the leader
    was copied (``asked``).
    """

    does: Literal[
        "answer",
        "take",
        "leave",
        "another",
        "together",
        "write",
        "put-away",
        "doubt",
        "doubts-away",
        "reply-take",
        "reply-out",
        "reply-done",
        "reply-take-all",
        "reply-out-all",
        "reply-done-all",
        "lesson-take",
        "lesson-not-yet",
        "night-is",
        "asked",
    ]
    name: str = ""
    word: str = ""
