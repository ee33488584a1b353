"""What differs between a show and the next version of its list, as data: by weight, to be taken or left one by one."""

import enum
from collections.abc import Iterable
from typing import Final

import msgspec


class Differs(enum.Enum):
    """The kind of a difference."""

    KEY = "key"
    KEY_OPEN = "key open"
    DROPPED = "dropped"
    NEW = "new"
    BACK = "back again"
    MOVED = "moved"
    RENAMED = "renamed"
    SET_NEW = "new set"
    SET_GONE = "set gone"
    SET_RENAMED = "set renamed"
    SET_STARTS = "set starts"
    SET_MINUTES = "set length"
    SHOW = "show"
    NOTE = "note"
    SEGUE = "segue broken"
    SPELLING = "spelling"
    CHANGED = "changed"


GROUPS: Final[dict[str, tuple[Differs, ...]]] = {  # the heaviest first
    "keys": (Differs.KEY, Differs.KEY_OPEN),
    "dropped": (Differs.DROPPED,),
    "new": (Differs.NEW, Differs.BACK),
    "moved": (Differs.MOVED,),
    "renamed": (Differs.RENAMED,),
    "sets": (
        Differs.SET_NEW,
        Differs.SET_GONE,
        Differs.SET_RENAMED,
        Differs.SET_STARTS,
        Differs.SET_MINUTES,
        Differs.SHOW,
    ),
    "notes": (Differs.NOTE, Differs.SEGUE),
    "details": (Differs.SPELLING, Differs.CHANGED),
}
DETAILS: Final = "details"
ONLY_TOLD: Final = frozenset((Differs.KEY_OPEN, Differs.SET_NEW, Differs.SET_GONE, Differs.SEGUE))
GROUP_OF: Final = {kind: name for name, kinds in GROUPS.items() for kind in kinds}


class Difference(msgspec.Struct, frozen=True):
    """One difference, as shown to the player. ``name`` is its own among all differences of these two versions."""

    differs: Differs
    title: str  # of the song, the set or the show
    says: str
    old_title: str = ""  # the old title of a renamed song
    before: str | None = None
    after: str | None = None
    name: str = ""
    is_said: bool = False  # in a message of changes: its words are about this and nothing else

    @property
    def group(self) -> str:
        """Return the group of its weight: keys, dropped, new ..."""
        return GROUP_OF[self.differs]

    @property
    def is_choice(self) -> bool:
        """Return whether it can be left; the others are only reported."""
        return self.differs not in ONLY_TOLD

    @property
    def is_left_at_first(self) -> bool:
        """Return whether the show's own value stays unless the player takes the list's: the times of its sets.

        A list repeats times that nobody looked at; a message that moves them means it.
        """
        is_time = self.differs in (Differs.SET_STARTS, Differs.SET_MINUTES)
        return is_time and self.before is not None and not self.is_said

    def __str__(self) -> str:
        return f"{self.differs.value}: {self.title}{f' ({self.says})' if self.says else ''}"


def by_weight(differences: Iterable[Difference]) -> tuple[Difference, ...]:
    """Return the differences, the heaviest first; those of one kind stay in the list's order."""
    order = {kind: at for at, kind in enumerate(kind for kinds in GROUPS.values() for kind in kinds)}
    return tuple(sorted(differences, key=lambda one: order[one.differs]))


def difference_text(one: Difference) -> str:
    """Return one difference as it reads under its group's heading."""
    if one.differs in (Differs.SET_STARTS, Differs.SET_MINUTES):
        starts = "starts " if one.differs is Differs.SET_STARTS else ""
        return f"{one.title}: {starts}{one.after}{f' (was {one.before})' if one.before else ''}"
    plain = (Differs.KEY, Differs.DROPPED, Differs.NEW, Differs.MOVED, Differs.RENAMED, Differs.NOTE)
    says = f"{one.title} ({one.says})" if one.says else one.title
    return says if one.differs in plain else str(one)
