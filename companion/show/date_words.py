"""How every sheet, page and message spells a date and a time of day."""

import datetime as dt


def date_words(date: dt.date) -> str:
    """Return "19 June 2027": no digits that another country reads the other way round."""
    return f"{date.day} {date:%B %Y}"


def day_words(date: dt.date) -> str:
    """Return "Saturday 19 June 2027"."""
    return f"{date:%A} {date_words(date)}"


def time_of_day(minutes: int) -> str:
    """Return minutes since midnight as a clock time; 24:00 and later are times of the next day.

    >>> time_of_day(20 * 60), time_of_day(24 * 60 + 30)
    ('20:00', '0:30')
    """
    return f"{minutes // 60 % 24}:{minutes % 60:02}"
