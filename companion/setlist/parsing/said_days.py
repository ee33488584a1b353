"""Days as people say them, without a year: Sat 12 December; samedi 12 décembre."""

import datetime as dt
import re
from typing import Final

from companion.setlist.parsing.cells import MONTHS, NAMES_OF_MONTHS
from companion.setlist.parsing.gig_days import WEEKDAYS_SAID
from companion.setlist.tidy import lowered

YEARS: Final = 12  # within which each day falls on each weekday
PAST_DAYS: Final = 31  # a list may come after its gig
DAY_SAID: Final = re.compile(
    rf"(?<![\w/])(?:(?P<weekday>{'|'.join(WEEKDAYS_SAID)})\.?,?\s+)?(?:(?:the|den|dem|le|el|il|de|am)\s+)?"
    rf"(?:(?P<day>\d{{1,2}})(?:st|nd|rd|th|er|\.)?\s+(?:of\s+|de\s+)?(?P<month>{NAMES_OF_MONTHS})\b\.?"
    rf"|(?P<month2>{NAMES_OF_MONTHS})\s+(?P<day2>\d{{1,2}})(?:st|nd|rd|th)?)(?:,?\s+(?:de\s+)?(?P<year>\d{{4}}))?"
    r"(?![\w/:])",
    re.IGNORECASE,
)
_WEEKDAYS: Final = tuple(re.compile(f"(?:{words})$", re.IGNORECASE) for words in WEEKDAYS_SAID)


def day_meant(said: re.Match[str], sent: dt.date | None) -> dt.date | None:
    """Return the day that a match of ``DAY_SAID`` means; None where its year stays open."""
    month, day = MONTHS[lowered(said["month"] or said["month2"])], int(said["day"] or said["day2"])
    named = said["weekday"]
    weekday = next((at for at, words in enumerate(_WEEKDAYS) if named and words.match(named)), None)
    if said["year"]:
        try:
            return dt.date(int(said["year"]), month, day)
        except ValueError:
            return None
    return next_day(month, day, weekday, sent)


def next_day(month: int, day: int, weekday: int | None, sent: dt.date | None) -> dt.date | None:
    """Return the next such day, from when a message was sent or else from today, that falls on its weekday (from 0).

    None where neither is known, or no such day is near.
    """
    if sent is None and weekday is None:
        return None
    first = (sent or dt.date.today()) - dt.timedelta(days=0 if sent else PAST_DAYS)  # noqa: DTZ011  a day, no time
    for year in range(first.year, first.year + YEARS):
        try:
            found = dt.date(year, month, day)
        except ValueError:
            continue
        if found >= first and weekday in (None, found.weekday()):
            return found if year <= first.year + 1 else None
    return None
