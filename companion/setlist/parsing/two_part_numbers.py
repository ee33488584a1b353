"""Numbers that name the set and the place in it: 1.1 Moth, 2-03 Weeds, B4 Tidal."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.parsing.set_headings import read_set
from companion.setlist.parsing.text_lines import TextLine

_TWO_PARTS = re.compile(
    r"^(?:set\s?)?(?:([1-6])\s?[./:-]\s?|([A-Da-d])\s?[./-]?)(\d{1,2})[.):]?(?:\s*[-–—])?\s+(?=\S)", re.IGNORECASE
)
MAX_ARE = 0.7  # share of the lines
FEWEST = 4


def without_two_part_numbers(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take such numbers off, if most lines have one and they count up; the lines know their set and number then."""
    found = [_TWO_PARTS.match(line.text) for line in lines]
    parts = [((one[1] or one[2]).upper(), int(one[3])) for one in found if one]
    filled = sum(bool(line.text) and not line.message.is_envelope for line in lines)
    if len(parts) < max(FEWEST, MAX_ARE * filled) or not _count_up(parts):
        return lines
    has_headings = any(read_set(line.text) for line in lines)
    made = []
    for line, one in zip(lines, found, strict=True):
        if one:
            name = "" if has_headings else (one[1] or one[2]).upper()
            text = line.text[one.end() :]
            line = msgspec.structs.replace(line, text=text, number=int(one[3]), set_name=name)  # noqa: PLW2901
        made.append(line)
    return made


def _count_up(parts: Sequence[tuple[str, int]]) -> bool:
    """Return whether nearly each number follows the one before, or begins another set at 1."""
    steps = zip([("", 0), *parts], parts, strict=False)
    good = sum(
        (one == before and number == last + 1) or (one != before and number == 1)
        for (before, last), (one, number) in steps
    )
    return good >= 0.8 * len(parts)
