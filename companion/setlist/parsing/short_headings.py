"""Find the headings that are hardly more than a number, by the other headings of the list: 2nd, S2, II."""

import itertools
from collections.abc import Sequence

from companion.setlist.parsing.set_headings import SetHeading, named_by_number, short_heading

FEWEST_LINES = 3  # of a set below a number that stands alone


def short_headings(texts: Sequence[str | None], numbers_of_sets: int) -> dict[int, tuple[SetHeading, bool]]:
    """Return the headings by line, each with whether it is sure.

    ``texts`` holds None for a line that can be no heading. A heading is sure where others of its form count up with
    it from 1, or where the list has ``numbers_of_sets`` plain headings, one fewer than its number.
    """
    found: dict[int, tuple[SetHeading, bool]] = {}
    read = [(at, form) for at, text in enumerate(texts) if text and (form := short_heading(text))]
    for kind in {one for _, (one, _) in read}:
        numbers = [number for _, (one, number) in read if one == kind]
        counts_up = numbers == list(range(numbers[0], numbers[0] + len(numbers))) and numbers[0] <= 2
        sure = counts_up and (len(numbers) > 1 or numbers[0] == numbers_of_sets + 1 > 1)
        places = [at for at, (one, _) in read if one == kind]
        if kind == "number" and not (sure and _have_room(places, len(texts))):
            continue  # numbers on lines of their own count songs
        for at, (one, number) in read:
            if one == kind and at + 1 < len(texts) and texts[at + 1]:
                found[at] = named_by_number(number), sure
    return found


def _have_room(places: Sequence[int], lines: int) -> bool:
    """Return whether enough lines for a set stand below each heading."""
    return len(places) > 1 and all(below - at > FEWEST_LINES for at, below in itertools.pairwise([*places, lines]))
