"""Lines in front of the songs and separated from them: they name the list."""

import re
from collections.abc import Sequence

from companion.setlist.model import LineKind
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.line_forms import Classified

MAX_OF_HEAD = 3  # lines
FEWEST_BELOW = 4
_TIME = re.compile(  # of day, or the day, or how long the band plays
    r"(?<![\d/])\d{1,2}(?:[:.]\d\d|\s?(?:am|pm|uhr|mins?|minutes|minuten)|/\d{1,2}(?:/\d{2,4})?)(?![\w/])",
    re.IGNORECASE,
)


def stands_alone(found: Sequence[Classified]) -> list[bool]:
    """Return for each line whether it names the list: before the songs and separated from them."""
    rows = [one.line.row for one in found]
    alone = [False] * len(rows)
    kinds = [one.took for one in found]
    parts = sum(row.blank_before for row in rows)
    if parts >= len(rows) * 0.6:  # double spacing throughout: blank lines mean nothing
        return alone
    if len(rows) > 2 and kinds[0] is None:
        below = rows[1].blank_before or kinds[1] in (LineKind.SET, LineKind.ABOUT)
        alone[0] = below or line_kinds.is_title_of_list(found[0].line.text)
    for at in range(1, min(4, len(rows) - 1)):
        if kinds[at] is None and all(alone[before] or kinds[before] is not None for before in range(at)):
            last_of_head = rows[at + 1].blank_before or kinds[at + 1] is LineKind.SET
            under_head = LineKind.SET not in kinds[:at]
            alone[at] = under_head and (
                line_kinds.is_title_of_list(found[at].line.text) or (last_of_head and alone[at - 1])
            )
    for at in _head(found) if not any(alone) else ():
        alone[at] = True
    return alone


def _head(found: Sequence[Classified]) -> range:
    """Return the few lines of a first block above a long one, if one of them is in capitals or names a time or day."""
    begins = [at for at, one in enumerate(found) if at and one.line.row.blank_before]
    first, second = (*begins, len(found), len(found))[:2]
    is_head = 1 < first <= MAX_OF_HEAD and second - first >= FEWEST_BELOW
    head = found[:first]
    if not is_head or any(one.took is not None or one.line.is_marked for one in head):
        return range(0)
    below = [one.line.text for one in found[first:second]]
    is_loud = not any(map(str.isupper, below)) and any(one.line.text.isupper() for one in head)
    return range(first) if is_loud or any(_TIME.search(one.line.text) for one in head) else range(0)
