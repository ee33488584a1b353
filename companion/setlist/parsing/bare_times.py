"""Times of a programme in four digits, 1930 Dinner, or with a point: 2.06 Quickstep."""

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
FEWEST_WITH_POINT: Final = 4  # lines
LEAST_STEP: Final = 2  # minutes from one to the next
_WITH_POINT = re.compile(r"^(\d|1\d|2[0-3])\.([0-5]\d)(?=\s*[-–—:|]?\s+\S|$)")


def with_times_of_day(page: ListPage) -> ListPage:
    """Return the page with a colon in the times that lines begin with: 1930 Dinner becomes 19:30 Dinner.

    Four digits are times only where several lines begin with them and they run through the day: a title may begin
    with a year. Digits with a point between are times where many do, and minutes lie between: 1.01, 1.02 counts.
    """
    for form, fewest, step in ((_FOUR_DIGITS, FEWEST, 0), (_WITH_POINT, FEWEST_WITH_POINT, LEAST_STEP)):
        found = {id(row): one for row in page.rows if row.cells and (one := form.match(row.cells[0]))}
        times = [int(one[1]) * 100 + int(one[2]) for one in found.values()]
        steps = [other - one for one, other in itertools.pairwise(times)]
        if len(found) < fewest or not _run_through_a_day(times) or any(0 < one < step for one in steps):
            continue
        rows = tuple(_timed(row, form) if id(row) in found else row for row in page.rows)
        return msgspec.structs.replace(page, rows=rows)
    return page


def _run_through_a_day(times: Sequence[int]) -> bool:
    """Return whether each time is later than the one before; midnight may lie between two."""
    earlier = [at for at, (one, other) in enumerate(itertools.pairwise(times), start=1) if other <= one]
    return not earlier or (len(earlier) == 1 and times[-1] < MORNING)


def _timed(row: ListRow, form: re.Pattern[str]) -> ListRow:
    spans = row.spans
    if spans and form.match(spans[0].text.strip()):
        first = spans[0]
        said = form.sub(r"\1:\2", first.text.strip())
        spans = (TextSpan(first.begin, first.end, said, first.is_typed), *spans[1:])
    return msgspec.structs.replace(row, cells=(form.sub(r"\1:\2", row.cells[0]), *row.cells[1:]), spans=spans)
