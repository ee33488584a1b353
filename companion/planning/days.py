"""The days left, with each day's minutes at the keyboard and for listening on the side."""

import datetime as dt
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.errors import CompanionError

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY_NAMES: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MAX_DAYS: Final = 120  # no plan is realistic further ahead
MAX_MINUTES: Final = 16 * 60


class Hours(msgspec.Struct, frozen=True):
    """Minutes a day at the keyboard by weekday (Monday first), days off, minutes of listening on the side."""

    minutes: tuple[int, ...] = (60,) * 7
    off: tuple[dt.date, ...] = ()
    listening: int = 45

    def on(self, day: dt.date) -> int:
        """Return the minutes at the keyboard on a day; 0 on a day off."""
        return 0 if day in self.off else self.minutes[day.weekday()]

    def listening_on(self, day: dt.date) -> int:
        """Return the minutes of listening on a day, in the car or at the sink; 0 on a day off."""
        return 0 if day in self.off else self.listening

    def more(self, by: int) -> "Hours":
        """Return these hours with more minutes on every day that has some; on all days where none has."""
        any_day = any(self.minutes)
        return msgspec.structs.replace(
            self, minutes=tuple(one + by if one or not any_day else 0 for one in self.minutes)
        )


def read_hours(minutes: str = "60", off: Sequence[str] = (), listening: int = 45, *, today: dt.date) -> Hours:
    """Read minutes ("60", "45,sat=120,sun=0") and days off ("2027-06-12", "sun") as typed. Raises CompanionError."""
    by_day = [60] * 7
    for piece in filter(None, re.split(r"[,\s]+", minutes)):
        found = re.fullmatch(r"(?:([a-z]{2,9})=)?(\d{1,4})", piece.lower())
        days = _days(found[1]) if found and found[1] else range(7)
        if not found or days is None or int(found[2]) > MAX_MINUTES:
            raise CompanionError(f"{piece!r} is not a number of minutes a day. Write: 60, or 45,sat=120,sun=0")
        for weekday in days:
            by_day[weekday] = int(found[2])
    dates: list[dt.date] = []
    for word in off:
        weekdays = _days(word.lower())
        if weekdays is not None:
            dates += [day for at in range(MAX_DAYS) if (day := today + dt.timedelta(days=at)).weekday() in weekdays]
            continue
        try:
            dates.append(dt.date.fromisoformat(word))
        except ValueError:
            raise CompanionError(f"{word!r} is not a date or a weekday. Write: 2027-06-12, or sun") from None
    if not 0 <= listening <= MAX_MINUTES:
        raise CompanionError(f"{listening} minutes of listening do not fit in a day. Write: 45")
    return Hours(tuple(by_day), tuple(dates), listening)


def _days(word: str) -> Sequence[int] | None:
    """Return the weekdays (Monday 0) of a name, "weekdays" or "weekend"; None for anything else."""
    if word in ("weekdays", "weekday"):
        return range(5)
    if word in ("weekend", "weekends"):
        return (5, 6)
    return (WEEKDAYS.index(word[:3]),) if word[:3] in WEEKDAYS else None


def days_until(date: dt.date | None, today: dt.date) -> tuple[dt.date, ...]:
    """Return the days from today to the day before the show. Raises CompanionError where no day is left."""
    if date is None:
        raise CompanionError(
            "the show has no date, so there are no days to plan. "
            "Write: date: 2027-06-19 in the show file, or --date 2027-06-19"
        )
    left = (date - today).days
    if left < 0:
        raise CompanionError(f"the show was on {date}, {-left} days ago: no day is left to plan")
    if left == 0:
        raise CompanionError("the show is today: no day is left to plan. companion plan --ready shows where you stand")
    return tuple(today + dt.timedelta(days=at) for at in range(min(left, MAX_DAYS)))
