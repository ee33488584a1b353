"""A short encore shares the page of the set before it, where both stay as readable as one alone."""

from typing import Final

from companion.show import Set, Show

MAX_SONGS: Final = 3  # more are a set of their own
HEAD_PT: Final = 30.0  # room for the encore's name between the songs


def is_short_encore(show: Show, number: int) -> bool:
    """Return whether this set is a short encore: called so, or a lone last song."""
    one = show.sets[number]
    if not number or not one.songs:
        return False
    is_last = number == len(show.sets) - 1
    return len(one.songs) <= MAX_SONGS if "encore" in one.name.casefold() else is_last and len(one.songs) == 1


def sets_with_encores(show: Show) -> list[tuple[int, Set | None]]:
    """Return the number of each set that needs a page, with the short encore after it, if there is one."""
    found: list[tuple[int, Set | None]] = []
    for number, one in enumerate(show.sets):
        if found and found[-1] == (number - 1, None) and is_short_encore(show, number) and show.sets[number - 1].songs:
            found[-1] = (number - 1, one)
        else:
            found.append((number, None))
    return found
