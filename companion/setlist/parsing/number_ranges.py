"""Sets that one line names by the numbers of their songs: First set 1-7, second set 8-16."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.parsing.set_headings import read_set
from companion.setlist.parsing.text_lines import TextLine

_RANGE = re.compile(
    r"\s?[,;/|·]?\s?(?:and\s)?([^\d\s,;/|][^\d,;/|]{0,40}?|set\s\d)\s?[:=(]?\s?(\d{1,3})\s?(?:-|–|—|to)\s?(\d{1,3})\)?"
)
FEWEST = 2  # sets in the line


def sets_by_range(lines: Sequence[TextLine]) -> tuple[Sequence[TextLine], int | None]:
    """Return the lines, each song with the set that its number belongs to, and where the line of ranges stands."""
    for at, line in enumerate(lines):
        ranges = _ranges(line.whole)
        numbers = [one.number for one in lines if one is not line and one.number is not None]
        if ranges and numbers == [number for _, numbers_of in ranges for number in numbers_of]:
            names = {number: name for name, numbers_of in ranges for number in numbers_of}
            named = [
                msgspec.structs.replace(one, set_name=names[one.number])
                if one is not line and one.number is not None
                else one
                for one in lines
            ]
            return named, at
    return lines, None


def _ranges(text: str) -> list[tuple[str, range]]:
    """Return the sets that a line names, each with its numbers; empty unless they count on from 1."""
    if len(text) > 200 or _RANGE.sub("", text).strip(" ."):
        return []
    found = [
        (heading.name, range(int(one[2]), int(one[3]) + 1))
        for one in _RANGE.finditer(text)
        if (heading := read_set(one[1]))
    ]
    ends = [0, *(numbers.stop - 1 for _, numbers in found)]
    counts_on = all(numbers.start == end + 1 for (_, numbers), end in zip(found, ends, strict=False))
    return found if len(found) >= FEWEST and counts_on else []
