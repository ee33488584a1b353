"""How the player's time until the show is written: minutes at the keyboard, days off, listening, rehearsals."""

import datetime as dt
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from companion.files import Form, InvalidValue, Scalar, plain, shown, whole
from companion.show.model import PracticeTime

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY_NAMES: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MAX_MINUTES: Final = 16 * 60
MAX_TEXT: Final = 400  # characters: forty dates
NONE: Final = "none"
WRITE_MINUTES: Final = "60, or 45, sat=120, sun=0"
WRITE_DAYS: Final = "sun, 2027-06-12"
WRITE_DATES: Final = "2027-06-16, 2027-06-18"


def read_minutes(text: str) -> tuple[int, ...]:
    """Read the minutes of each weekday. Raises InvalidValue.

    >>> read_minutes("45, sat=120, sun=0")
    (45, 45, 45, 45, 45, 120, 0)
    """
    by_day = [60] * 7
    for found in re.finditer(r"[^,\s]+", _short(text)):
        piece = re.fullmatch(r"(?:([a-z]{2,9})=)?([0-9]{1,4})", found[0].lower())
        days = _weekdays(piece[1]) if piece and piece[1] else range(7)
        if not piece or days is None or int(piece[2]) > MAX_MINUTES:
            raise InvalidValue(f"{shown(found[0])} is not a number of minutes a day", WRITE_MINUTES, found.start())
        for weekday in days:
            by_day[weekday] = int(piece[2])
    return tuple(by_day)


def read_days_off(text: str) -> tuple[int | dt.date, ...]:
    """Read weekdays (Monday is 0) and dates; "none" is no day. Raises InvalidValue.

    >>> read_days_off("sun, 2027-06-12")
    (6, datetime.date(2027, 6, 12))
    """
    days: list[int | dt.date] = []
    for found in re.finditer(r"[^,\s]+", _short(text)):
        weekdays = _weekdays(found[0].lower())
        if weekdays is not None:
            days += weekdays
        elif found[0].lower() != NONE:
            try:
                days.append(dt.date.fromisoformat(found[0]))
            except ValueError:
                raise InvalidValue(f"{shown(found[0])} is not a date or a weekday", WRITE_DAYS, found.start()) from None
    return tuple(dict.fromkeys(days))


def read_rehearsals(text: str) -> tuple[dt.date, ...]:
    """Read dates; "none" is no day. The days come back in their order, each once. Raises InvalidValue.

    >>> read_rehearsals("2027-06-18, 2027-06-16")
    (datetime.date(2027, 6, 16), datetime.date(2027, 6, 18))
    """
    days: set[dt.date] = set()
    for found in re.finditer(r"[^,\s]+", _short(text, WRITE_DATES)):
        if found[0].lower() != NONE:
            try:
                days.add(dt.date.fromisoformat(found[0]))
            except ValueError:
                raise InvalidValue(f"{shown(found[0])} is not a date", WRITE_DATES, found.start()) from None
    return tuple(sorted(days))


def _short(text: str, write: str = WRITE_DAYS) -> str:
    if len(text) > MAX_TEXT:
        raise InvalidValue(f"{len(text)} characters, at most {MAX_TEXT} fit here", write, MAX_TEXT)
    return text


def _weekdays(word: str) -> Sequence[int] | None:
    """Return the weekdays (Monday 0) of a name, "weekdays" or "weekend"; None for anything else."""
    if word in ("weekdays", "weekday"):
        return range(5)
    if word in ("weekend", "weekends"):
        return (5, 6)
    long = next((at for at, name in enumerate(WEEKDAY_NAMES) if len(word) >= 3 and name.lower().startswith(word)), None)
    return None if long is None else (long,)


def minutes_text(minutes: Sequence[int]) -> str:
    """Return the minutes of each weekday as they are written.

    >>> minutes_text((45, 45, 45, 45, 45, 120, 0))
    '45, sat=120, sun=0'
    """
    usual = Counter(minutes).most_common(1)[0][0]
    others = [f"{WEEKDAYS[at]}={one}" for at, one in enumerate(minutes) if one != usual]
    return ", ".join((str(usual), *others))


def days_off_text(days: Sequence[int | dt.date]) -> str:
    """Return days off as they are written: "sun, 2027-06-12"; "none" if there are none."""
    return ", ".join(WEEKDAYS[day] if isinstance(day, int) else day.isoformat() for day in days) or NONE


def written(time: PracticeTime) -> Mapping[str, str | int]:
    """Return the keys of ``practice`` in a show file and what is written after each."""
    minutes = minutes_text(time.minutes)
    typed: dict[str, str | int] = {"minutes": int(minutes) if minutes.isdecimal() else minutes}
    if time.days_off:
        typed["days_off"] = days_off_text(time.days_off)
    rehearsals = {"rehearsals": ", ".join(map(str, time.rehearsals))} if time.rehearsals else {}
    return {**typed, "listening": time.listening, **rehearsals}


PRACTICE: Final = Form(
    PracticeTime,
    "practice",
    {
        "minutes": Scalar(read_minutes, plain(["integer", "string"]), "minutes a day: 60, or 45, sat=120"),
        "days_off": Scalar(read_days_off, plain(), "days off: sun, 2027-06-12"),
        "listening": whole(0, MAX_MINUTES, "minutes of listening a day"),
        "rehearsals": Scalar(read_rehearsals, plain(), "days on which the band rehearses: 2027-06-16, 2027-06-18"),
    },
)
