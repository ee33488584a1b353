"""Dates as people write them in a message, most without a year: Sat 5 Dec, 12.12., the 3rd of January."""

import datetime as dt
import re
from typing import Final, NamedTuple

from companion.leader.day_words import DAYS_OF_WEEK, MORE_MONTHS, NAMED_DAYS
from companion.setlist.parsing.cells import MONTHS, date_in
from companion.setlist.tidy import lowered
from companion.show.date_words import date_words
from companion.show.titles import folded

_MONTHS: Final = MONTHS | MORE_MONTHS
MONTH_NAMES: Final = "|".join(sorted(_MONTHS, key=len, reverse=True))
_WEEKDAYS: Final = {folded(name): at for at, names in enumerate(DAYS_OF_WEEK) for name in names.split()}
_DAY_NAMES: Final = "|".join(dict.fromkeys([*" ".join(DAYS_OF_WEEK).split(), *_WEEKDAYS]))
_WEEKDAY: Final = rf"(?:\b(?P<weekday>{_DAY_NAMES})\b\.?,?\s?(?:the\s|den\s|el\s|le\s|de\s|dia\s|la\s)?)?"
_NO_YEAR: Final = re.compile(
    rf"{_WEEKDAY}(?:\bthe\s)?"
    rf"(?:\b(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s?(?:of\s|de\s|d['’])?(?P<month>{MONTH_NAMES})\b\.?"
    r"(?:,?\s(?:del?\s)?(?P<year4>20\d\d)\b)?|"
    rf"\b(?P<month2>{MONTH_NAMES})\.?\s(?P<day2>\d{{1,2}})(?:st|nd|rd|th)?\b|"
    r"\b(?P<day3>\d{1,2})\.(?P<month3>\d{1,2})\.(?P<year3>\d\d\b)?(?!\d)|"
    r"(?<![\d/])\b(?P<a>\d{1,2})/(?P<b>\d{1,2})\b(?:/(?P<year>\d\d)\b)?(?!/))",
    re.IGNORECASE,
)
ALSO_WORDS: Final = ("may", "mar", "march")  # "3 may start" is about a song
BEATS: Final = ("2", "4", "8", "16")  # 6/8 is a meter
_NAMES: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


ANY_DAY: Final = dt.date(2000, 1, 1)  # to find a date whose year does not matter


class DayReading(NamedTuple):
    """A date found in a line, its place there, and why it is uncertain. ``day`` is None if it has two readings."""

    day: dt.date | None
    start: int
    end: int
    doubt: str = ""


_NAMED_DAY: Final = re.compile(rf"\b(?:{'|'.join(NAMED_DAYS)})\b", re.IGNORECASE)


def _named_day(line: str, today: dt.date) -> DayReading | None:
    """Find a day that has a name: New Year's Eve."""
    found = _NAMED_DAY.search(line.replace("’", "'"))
    if found is None:
        return None
    month, day = NAMED_DAYS[lowered(found[0])]
    this_year = dt.date(today.year, month, day)
    return DayReading(this_year if this_year >= today else this_year.replace(year=today.year + 1), *found.span())


_COUNTED: Final = re.compile(
    rf"\b(?:the\s)?(?P<which>first|second|third|fourth|last)\s(?P<named>{_DAY_NAMES})\s(?:in|of)\s(?P<month>{MONTH_NAMES})\b"
    r"(?:,?\s(?P<year>20\d\d)\b)?(?:,?\s\(?the\s(?P<day>\d{1,2})(?:st|nd|rd|th)\)?)?",
    re.IGNORECASE,
)
_WHICH: Final = {"first": 0, "second": 1, "third": 2, "fourth": 3, "last": -1}


def _counted_day(line: str, today: dt.date) -> DayReading | None:
    """Find a day that is counted in its month: the first Thursday in February (the 4th)."""
    found = _COUNTED.search(line)
    if found is None:
        return None
    weekday, month = _WEEKDAYS[folded(lowered(found["named"]))], _MONTHS[lowered(found["month"])]
    years = [int(found["year"])] if found["year"] else [today.year, today.year + 1]
    for year in years:
        first = dt.date(year, month, 1)
        days = [first + dt.timedelta(one) for one in range((weekday - first.weekday()) % 7, 31, 7)]
        day = [one for one in days if one.month == month][_WHICH[lowered(found["which"])]]
        if found["year"] or day >= today:
            is_said = not found["day"] or int(found["day"]) == day.day
            return DayReading(day, *found.span(), "" if is_said else f"{date_words(day)}: {found[0]}")
    return None


def day_in(line: str, today: dt.date, *, asked: bool = False) -> DayReading | None:
    """Find the date in a line. Without a year it is the next such day from ``today`` on.

    ``asked``: the line is about the date, so that 5/6 is one; elsewhere it is a meter. Of two dates, the one that the
    words between make the right one; elsewhere the first, with a doubt.
    """
    first = _first_day(line, today, asked=asked) or _named_day(line, today) or _counted_day(line, today)
    first = first or _this_day(line, today)
    if first is not None and not asked and _DEADLINE.search(line[: first.start]):
        later = day_in(line[first.end :], today)
        return later and later._replace(start=first.end + later.start, end=first.end + later.end)
    if first is None or first.day is None:
        return first
    second = _first_day(line[first.end :], today, asked=asked)
    is_deadline = second is not None and _DEADLINE.search(line[first.end : first.end + second.start]) is not None
    if second is None or second.day is None or second.day == first.day or is_deadline:
        return _after_another(line, first)
    ends = first.end + second.end
    before, between = line[: first.start], line[first.end : first.end + second.start]
    if _NOT_SECOND.fullmatch(between):
        return first._replace(end=ends)
    moved, denied = _FROM.search(before), _NOT.search(before)
    if _NOW.fullmatch(between):
        return second._replace(start=first.start, end=ends)
    if moved and _UP_TO.fullmatch(between):
        return second._replace(start=moved.start(), end=ends)
    if denied and _BUT.fullmatch(between):
        return second._replace(start=denied.start(), end=ends)
    if _OF_SHOW.search(between) and not _OF_SHOW.search(before):
        return second._replace(start=first.end + second.start, end=ends, doubt=second.doubt or SEVERAL)
    return first._replace(doubt=first.doubt or SEVERAL)


# By when something is to be done, no day of a show: invoice by 15 January.
_DEADLINE: Final = re.compile(
    r"\b(?:by|no later than|bis(?: zum)?|spätestens(?: am)?|avant(?: le)?|antes del?|entro(?: il)?|senast(?: den)?|"
    r"inden(?: den)?|innen(?: den)?)\s(?:the\s)?$",
    re.IGNORECASE,
)
_THIS_DAY: Final = re.compile(
    r"\b(?:gig|show|party|concert|wedding|dance|konzert|auftritt|fest|bal|concierto|baile|concerto|optreden|feest|"
    r"spelning|koncert|konsert)(?:['’]?s|\s(?:is|it's|ist|est|es|è|é|är|er))?(?:\s(?:on|am|le|el|op|på))?\s"
    r"(?:this(?: coming)?|diesen|kommenden|ce|este|questo|deze|komende|nu på|på)\s"
    rf"(?P<weekday>{_DAY_NAMES})\b",
    re.IGNORECASE,
)


def _this_day(line: str, today: dt.date) -> DayReading | None:
    """Find the next weekday that a show is said to be on: the gig is this Saturday; in doubt, as it may be another."""
    found = _THIS_DAY.search(line)
    if found is None:
        return None
    ahead = (_WEEKDAYS[folded(found["weekday"])] - today.weekday()) % 7
    return DayReading(today + dt.timedelta(ahead), *found.span(), found[0])


SEVERAL: Final = "it names several days"
_NOT_SECOND: Final = re.compile(r",?\s?(?:and )?(?:not|instead of|rather than)(?: on)?\s?", re.IGNORECASE)
_NOW: Final = re.compile(r"\s?(?:->|=>|→|,? ?(?:is |it'?s |but )?now(?: on)?)\s?", re.IGNORECASE)
_UP_TO: Final = re.compile(r"\s?(?:to|->|=>|→|till|until)\s?", re.IGNORECASE)
_BUT: Final = re.compile(r",?\s?(?:but|it'?s)?(?: on)?\s?", re.IGNORECASE)
_FROM: Final = re.compile(r"\bfrom\s?$", re.IGNORECASE)
_NOT: Final = re.compile(r"\bnot(?: on)?\s?$", re.IGNORECASE)
_OF_SHOW: Final = re.compile(r"\b(?:gig|show|party|wedding|concert)\b", re.IGNORECASE)
# The 5th not the 6th of Dec; 5 or 6 December.
_ANOTHER: Final = re.compile(
    r"(?:\bthe )?(?<![\d.:/])\b(?P<day>\d{1,2})(?:st|nd|rd|th)?,? ?(?P<how>not|or|and|/|-|–|to)\s?$", re.IGNORECASE
)


def _after_another(line: str, day: DayReading) -> DayReading:
    """Return a date with the day before it that has the same month, which may be the right one."""
    other = _ANOTHER.search(line[: day.start])
    if other is None or day.day is None:
        return day
    if other["how"].casefold() == "not":
        try:
            right = day.day.replace(day=int(other["day"]))
        except ValueError:
            return day._replace(doubt=day.doubt or SEVERAL)
        return day._replace(day=right, start=other.start(), doubt=other[0].strip())
    return day._replace(start=other.start(), doubt=day.doubt or SEVERAL)


def _first_day(line: str, today: dt.date, *, asked: bool) -> DayReading | None:
    """Find the first date in a line."""
    if dated := date_in(line):
        day, (start, end) = dated
        named = _NO_YEAR.search(line)
        weekday = named["weekday"] if named else None
        if named and weekday and named.start() < start <= named.end():
            start = named.start()
        return DayReading(day, start, end, _wrong_weekday(day, weekday))
    for match in _NO_YEAR.finditer(line):
        weekday = _weekday(match)
        year = match["year"] or match["year3"] or (match["year4"] or "")[2:]
        if not (asked or weekday is not None or year) and (match["b"] in BEATS or match["month"] in ALSO_WORDS):
            continue
        days = [
            found
            for one, month in _readings(match)
            if (found := _next(one, month, dt.date(2000 + int(year), 1, 1) if year else today))
        ]
        right = [day for day in days if day.weekday() == weekday] or days
        if len(right) > 1:
            return DayReading(
                None, match.start(), match.end(), f"{match[0]} may be {' or '.join(map(date_words, right))}"
            )
        if right:
            return DayReading(right[0], match.start(), match.end(), _wrong_weekday(right[0], match["weekday"]))
    return _day_of_month(line, today, asked=asked)


_DAY_ALONE: Final = re.compile(
    rf"{_WEEKDAY.replace('?P<weekday>', '?P<named>')}(?:\b(?:on\s)?the\s)?\b(?P<day>\d{{1,2}})(?:st|nd|rd|th)\b",
    re.IGNORECASE,
)


def _day_of_month(line: str, today: dt.date, *, asked: bool) -> DayReading | None:
    """Read a day without its month, beside its weekday or where the date is asked for: Saturday 28th, the 12th.

    It is the next such day; with a weekday, the next within half a year that falls on it.
    """
    named = list(_DAY_ALONE.finditer(line))
    if asked and len({match["day"] for match in named}) > 1:
        return DayReading(None, named[0].start(), named[-1].end(), "it names several days")
    for match in named:
        weekday = _WEEKDAYS[folded(match["named"])] if match["named"] else None
        if weekday is None and not (asked or _IS_ON.match(line[: match.end()])):
            continue
        days = [day for day in (today + dt.timedelta(one) for one in range(DAYS_AHEAD)) if day.day == int(match["day"])]
        right = [day for day in days if day.weekday() == weekday]
        if weekday is None and days:
            return DayReading(days[0], match.start(), match.end(), f"{match[0].strip()} has no month")
        if right:
            doubt = "" if right[0] == days[0] else f"{date_words(days[0])} is a {_NAMES[days[0].weekday()]}"
            return DayReading(right[0], match.start(), match.end(), doubt)
        if days:
            return DayReading(days[0], match.start(), match.end(), _wrong_weekday(days[0], match["named"]))
    return None


_IS_ON: Final = re.compile(
    r"^(?:it'?s|it is|it'?s on|the (?:gig|show) is|gig'?s|show'?s|we play)(?: on)? the \d{1,2}(?:st|nd|rd|th)$",
    re.IGNORECASE,
)
DAYS_AHEAD: Final = 183  # a show is rarely named by its weekday further ahead


def _readings(match: re.Match[str]) -> tuple[tuple[int, int], ...]:
    """Return the days and months that a date may mean: two if it is 5/6."""
    if match["a"]:
        first, second = int(match["a"]), int(match["b"])
        return tuple({(first, second), (second, first)})
    month = match["month"] or match["month2"]
    number = _MONTHS[lowered(month)] if month else int(match["month3"])
    return ((int(match["day"] or match["day2"] or match["day3"]), number),)


def _weekday(match: re.Match[str]) -> int | None:
    return _WEEKDAYS[folded(match["weekday"])] if match["weekday"] else None


def _wrong_weekday(day: dt.date, named: str | None) -> str:
    """Return the doubt where the weekday that is named is not that of the date."""
    if named and _WEEKDAYS[folded(named)] != day.weekday():
        return f"{date_words(day)} is a {_NAMES[day.weekday()]}"
    return ""


def _next(day: int, month: int, today: dt.date) -> dt.date | None:
    """Return the next such day from today on, or None if the month has no such day."""
    for year in (today.year, today.year + 1):
        try:
            found = dt.date(year, month, day)
        except ValueError:
            continue
        if found >= today:
            return found
    return None
