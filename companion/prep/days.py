"""The days that are left, and how many minutes each has at the keyboard and for listening beside other things."""

import datetime as dt
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.errors import CompanionError

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MOST_DAYS: Final = 120  # beyond that a plan is a wish
MOST_MINUTES: Final = 16 * 60


class Hours(msgspec.Struct, frozen=True):
    """Minutes a day at the keyboard by weekday (Monday first), days off, minutes of listening beside other things."""

    minutes: tuple[int, ...] = (60,) * 7
    off: tuple[dt.date, ...] = ()
    listening: int = 45

    def on(self, day: dt.date) -> int:
        """Minutes at the keyboard on a day."""
        return 0 if day in self.off else self.minutes[day.weekday()]

    def listening_on(self, day: dt.date) -> int:
        """Minutes of listening on a day: in the car, at the sink; none on a day off."""
        return 0 if day in self.off else self.listening

    def more(self, by: int) -> "Hours":
        """Return these hours with more minutes on every day that has some; on all where none has."""
        any_day = any(self.minutes)
        return msgspec.structs.replace(
            self, minutes=tuple(one + by if one or not any_day else 0 for one in self.minutes)
        )


def read_hours(minutes: str = "60", off: Sequence[str] = (), listening: int = 45, *, today: dt.date) -> Hours:
    """Read what is typed: "60", "45,sat=120,sun=0"; days off as "2027-06-12" or "sun". Raises CompanionError."""
    by_day = [60] * 7
    for piece in filter(None, re.split(r"[,\s]+", minutes)):
        found = re.fullmatch(r"(?:([a-z]{2,9})=)?(\d{1,4})", piece.lower())
        days = _days(found[1]) if found and found[1] else range(7)
        if not found or days is None or int(found[2]) > MOST_MINUTES:
            raise CompanionError(f"{piece!r} is no minutes a day. Write: 60, or 45,sat=120,sun=0")
        for weekday in days:
            by_day[weekday] = int(found[2])
    dates: list[dt.date] = []
    for word in off:
        weekdays = _days(word.lower())
        if weekdays is not None:
            dates += [day for at in range(MOST_DAYS) if (day := today + dt.timedelta(days=at)).weekday() in weekdays]
            continue
        try:
            dates.append(dt.date.fromisoformat(word))
        except ValueError:
            raise CompanionError(f"{word!r} is no day off. Write: 2027-06-12, or sun") from None
    if not 0 <= listening <= MOST_MINUTES:
        raise CompanionError(f"{listening} minutes of listening are not in a day. Write: 45")
    return Hours(tuple(by_day), tuple(dates), listening)


def _days(word: str) -> Sequence[int] | None:
    """Return weekdays by their names; weekdays and weekend too."""
    if word in ("weekdays", "weekday"):
        return range(5)
    if word in ("weekend", "weekends"):
        return (5, 6)
    return (WEEKDAYS.index(word[:3]),) if word[:3] in WEEKDAYS else None


def days_until(date: dt.date | None, today: dt.date) -> tuple[dt.date, ...]:
    """Return the days from today to the one before the show. Raises CompanionError where there is none to plan."""
    if date is None:
        raise CompanionError(
            "the show has no date, so its days cannot be counted. "
            "Write: date: 2027-06-19 in the show file, or --date 2027-06-19"
        )
    left = (date - today).days
    if left < 0:
        raise CompanionError(f"the show was on {date}, {-left} days ago: there is nothing left to plan")
    if left == 0:
        raise CompanionError("the show is today: no day is left to plan. companion plan --ready says where you stand")
    return tuple(today + dt.timedelta(days=at) for at in range(min(left, MOST_DAYS)))
