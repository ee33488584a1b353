"""The days left until the show."""

import datetime as dt
from typing import Final

from companion.errors import CompanionError
from companion.how_many import how_many

MAX_DAYS: Final = 120  # no plan is realistic further ahead


def days_until(date: dt.date | None, today: dt.date) -> tuple[dt.date, ...]:
    """Return the days from today to the day before the show. Raises CompanionError if no day is left."""
    if date is None:
        raise CompanionError(
            "the show has no date, so there are no days to plan. "
            "Write: date: 2027-06-19 in the show file, or --date 2027-06-19"
        )
    left = (date - today).days
    if left < 0:
        raise CompanionError(
            f"the show was on {date}, {how_many(-left, 'day')} ago: no day is left to plan. "
            "Write: date: and its new day in the show file, or --date and that day"
        )
    if left == 0:
        raise CompanionError("the show is today: no day is left to plan. companion plan --ready shows where you stand")
    return tuple(today + dt.timedelta(days=at) for at in range(min(left, MAX_DAYS)))
