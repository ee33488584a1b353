"""The times of sets that one sentence names for all of them, given to the sets of a list."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import SaidTimes
from companion.show import Set


def times_of(said: SaidTimes, at: int) -> tuple[int | None, int]:
    """Return when a set begins, and its minutes; without a break between them, only the first one's start is known.

    >>> times_of(SaidTimes(2, 45, 1230, 20), 1), times_of(SaidTimes(2, 45, 1230), 1)
    ((1295, 45), (None, 45))
    """
    if said.starts_min is None or (at and said.pause_min is None):
        return None, said.minutes
    return said.starts_min + at * (said.minutes + (said.pause_min or 0)), said.minutes


def with_said_times(sets: Sequence[Set], said: SaidTimes | None) -> tuple[Set, ...]:
    """Return the sets with the times that a sentence names for as many; as they are where they have times."""
    timed = [at for at, one in enumerate(sets) if one.songs and not one.name.startswith("Encore")]
    has_times = any(one.starts_min is not None or one.minutes is not None for one in sets)
    if said is None or has_times or len(timed) != said.sets:
        return tuple(sets)
    found = list(sets)
    for number, at in enumerate(timed):
        starts_min, minutes = times_of(said, number)
        found[at] = msgspec.structs.replace(found[at], starts_min=starts_min, minutes=minutes)
    return tuple(found)
