"""Which of several days is the next gig's: the first that is not past, or the last where all are."""

import datetime as dt
import re
from calendar import isleap
from collections.abc import Sequence
from typing import Final

LEAP: Final = (2, 29)
# Each weekday in English, German, French, Spanish, Italian, Dutch and Swedish, for a pattern.
WEEKDAYS_SAID: Final = (
    "mon(?:day)?|montag|lundi|lunes|lunedì|maandag|måndag",
    "tue(?:s|sday)?|dienstag|mardi|martes|martedì|dinsdag|tisdag",
    "wed(?:s|nesday)?|mittwoch|mercredi|miércoles|mercoledì|woensdag|onsdag",
    "thu(?:r|rs|rsday)?|donnerstag|jeudi|jueves|giovedì|donderdag|torsdag",
    "fri(?:day)?|freitag|vendredi|viernes|venerdì|vrijdag|fredag",
    "sat(?:urday)?|samstag|samedi|sábado|sabato|zaterdag|lördag",
    "sun(?:day)?|sonntag|dimanche|domingo|domenica|zondag|söndag",
)
_WEEKDAYS: Final = tuple(re.compile(rf"\b(?:{words})\b", re.IGNORECASE) for words in WEEKDAYS_SAID)


def next_gig(lists: Sequence[tuple[str, dt.date | None]]) -> int | None:
    """Return which list (from 0) is the next gig's, by the words that name it and its day; None without any day.

    A day without a year is of year 1, as ``any_date_in`` reads it.
    """
    days = {at: _with_year(day, words) for at, (words, day) in enumerate(lists) if day is not None}
    today = dt.date.today()  # noqa: DTZ011  a day, no time
    if ahead := [at for at, day in days.items() if day >= today]:
        return min(ahead, key=lambda at: (days[at], at))
    return max(days, key=lambda at: (days[at], -at)) if days else None


def _with_year(day: dt.date, words: str) -> dt.date:
    """Return the day, one without a year in the year in which it falls on its weekday, or else is nearest to today."""
    if day.year > dt.MINYEAR:
        return day
    today = dt.date.today()  # noqa: DTZ011  a day, no time
    years = (year for year in range(today.year - 1, today.year + 2) if (day.month, day.day) != LEAP or isleap(year))
    days = [day.replace(year=year) for year in years]
    named = next((weekday for weekday, pattern in enumerate(_WEEKDAYS) if pattern.search(words)), None)
    days = [one for one in days if named == one.weekday()] or days
    return min(days, key=lambda one: abs(one - today), default=day)
