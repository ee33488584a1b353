"""The names of sets that a list leaves without one."""

import re
from collections.abc import Sequence
from typing import Final

from companion.show import Set

NAMES: Final = ("First", "Second", "Third", "Fourth", "Fifth")
_COUNTED: Final = re.compile(r"(.*\D)(\d{1,2})")


def name_at(index: int) -> str:
    """Return the name of a set by its place, from 0."""
    return NAMES[index] if index < len(NAMES) else f"Set {index + 1}"


def name_after(sets: Sequence[Set]) -> str:
    """Return the name of one more set: Set 2 after Set 1, otherwise by its place."""
    counted = _COUNTED.fullmatch(sets[-1].name) if sets else None
    return f"{counted[1]}{int(counted[2]) + 1}" if counted else name_at(len(sets))
