"""The changes that a page asks for, as they come in JSON. ``column`` is the one that the answer is shown with."""

import msgspec


class WantedEdit(msgspec.Struct, frozen=True):
    """One field of a song as typed: ``was`` is the text that the page showed before."""

    title: str
    occurrence: int
    field: str
    value: str
    was: str
    column: str = "key"


class WantedMove(msgspec.Struct, frozen=True):
    """A song to move, by its id on the page: by one up or down, or into a set after a song ("" for its top)."""

    song: str
    by: int = 0
    into: str = ""
    after: str = ""
    column: str = "key"


class WantedSong(msgspec.Struct, frozen=True):
    """A song by its id on the page, or a set by its id and the title of a song to add to it."""

    song: str = ""
    into: str = ""
    title: str = ""
    column: str = "key"


class WantedShow(msgspec.Struct, frozen=True):
    """The title of a show to begin, or the number of one to choose."""

    title: str = ""
    show: str = ""
    column: str = "key"
