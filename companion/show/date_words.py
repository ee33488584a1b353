"""How every sheet, page and message spells a date."""

import datetime as dt


def date_words(date: dt.date) -> str:
    """Return "19 June 2027": no digits that another country reads the other way round."""
    return f"{date.day} {date:%B %Y}"


def day_words(date: dt.date) -> str:
    """Return "Saturday 19 June 2027"."""
    return f"{date:%A} {date_words(date)}"
