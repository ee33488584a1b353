"""The next version of a show as data: where each song comes from, and what the player decides about it."""

import msgspec

from companion.setlist.revising.differences import Difference
from companion.show import Show, Song


class KnownSong(msgspec.Struct, frozen=True):
    """A song of a songbook, and the text after ``use:`` by which a show takes it."""

    use: str
    song: Song


class Origin(msgspec.Struct, frozen=True):
    """The origin of a song: its place in the old show, or the text after ``use:`` that takes it from a songbook."""

    set_at: int = -1
    song_at: int = -1
    use: str = ""


class RevisionChoice(msgspec.Struct, frozen=True):
    """What the player decided: the names of differences left as they are, and titles that are two songs, not one."""

    left: frozenset[str] = frozenset()
    apart: frozenset[tuple[str, str]] = frozenset()  # old title, new title


class Revision(msgspec.Struct, frozen=True):
    """The revised show. ``origins`` follow its order, None for a new song; ``dropped`` are places in the old show."""

    show: Show
    differences: tuple[Difference, ...]
    origins: tuple[tuple[Origin | None, ...], ...]
    sets_from: tuple[int | None, ...]  # the old set that each set continues, by index
    dropped: tuple[tuple[int, int], ...]
