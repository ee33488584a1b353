"""A place in the show: set, song, section, pass."""

import enum

import msgspec


class PositionKind(enum.Enum):
    """The four kinds of place."""

    UP_NEXT = "up next"  # the song is announced, its first sound is on, it has not begun
    PLAYING = "playing"
    BETWEEN_SETS = "between sets"  # ``set`` is the set that has ended
    END = "end"  # no set


class ShowPosition(msgspec.Struct, frozen=True, gc=False):
    """A place in the running order.

    ``set``, ``at`` (the song's place in the set's running order) and ``section`` count from 0; ``passed`` counts passes
    from 1, up to the written xN; ``rounds`` counts the added repeats of this pass.
    """

    where: PositionKind
    set: int = 0
    at: int = 0
    section: int = 0
    passed: int = 1
    rounds: int = 0


class Landmark(msgspec.Struct, frozen=True):
    """A place by names, so that it can be found again after the show is edited. Occurrences count from 1."""

    where: PositionKind
    set: str
    song: str = ""
    song_occurrence: int = 1
    section: str = ""
    section_occurrence: int = 1
    passed: int = 1
    rounds: int = 0
    shift: int = 0
