"""Times of a programme in four digits: 1930 Dinner, 2115 Dancing."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow, TextSpan

FEWEST: Final = 2  # lines
MORNING: Final = 500  # an evening may go on until five
_FOUR_DIGITS = re.compile(
    r"^([01]\d|2[0-3])([0-5]\d)(?:\s?(?:h|hrs?|hours|uhr))?(?=\s*[-–—:|]?\s+\S|\s*[-–—:|]?$)", re.IGNORECASE
)


def with_times_of_day(page: ListPage) -> ListPage:
    """Return the page with a colon in the times that lines begin with: 1930 Dinner becomes 19:30 Dinner.

    Four digits are times only where several lines begin with them and they run through the day: a title may begin
    with a year.
    """
    rows = [row for row in page.rows if row.cells and _FOUR_DIGITS.match(row.cells[0])]
    if len(rows) < FEWEST or not _run_through_a_day([int(row.cells[0][:4]) for row in rows]):
        return page
    timed = {id(row) for row in rows}
    return msgspec.structs.replace(page, rows=tuple(_timed(row) if id(row) in timed else row for row in page.rows))


def _run_through_a_day(times: Sequence[int]) -> bool:
    """Return whether each time is later than the one before; midnight may lie between two."""
    earlier = [at for at, (one, other) in enumerate(itertools.pairwise(times), start=1) if other <= one]
    return not earlier or (len(earlier) == 1 and times[-1] < MORNING)


def _timed(row: ListRow) -> ListRow:
    spans = row.spans
    if spans and _FOUR_DIGITS.match(spans[0].text.strip()):
        first = spans[0]
        spans = (TextSpan(first.begin, first.end, _with_colon(first.text.strip()), first.is_typed), *spans[1:])
    return msgspec.structs.replace(row, cells=(_with_colon(row.cells[0]), *row.cells[1:]), spans=spans)


def _with_colon(text: str) -> str:
    return _FOUR_DIGITS.sub(r"\1:\2", text)
