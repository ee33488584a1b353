"""Read one cell as people write it: a length, tempo, meter, time or date; None if it is none of these."""

import datetime as dt
import re

from companion.music import Meter, NotMusic, read_meter, read_tempo

NOTHING = re.compile(r"(?:[-–—?.…/]+|n/?a|tbc|tbd|tba|unknown|none|nil|offen|unbekannt|key\s*\?*|\?+)$", re.IGNORECASE)
LONGEST_S = 2 * 60 * 60


def is_nothing(text: str) -> bool:
    """Return whether the cell stands for an unknown value: -, ?, TBC, n/a."""
    return not text.strip() or bool(NOTHING.match(text.strip()))


# ------------------------------------------------------------------ lengths, tempos, meters

_CLOCKED = re.compile(
    r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)(?:\.0+)?(?:\s*(?:min(?:utes)?|mins?|m|h|[ap]m))?\.?$", re.IGNORECASE
)
_SPOKEN = re.compile(
    r"(\d{1,2})\s*(?:m|min|mins|minutes?|minuten|['´’′])\.?\s*(?:([0-5]?\d)\s*(?:s|sec|secs|seconds?|"
    r"sek|''|\"|″|”)?)?\.?$",
    re.IGNORECASE,
)
_SECONDS = re.compile(r"(\d{2,4})\s*(?:s|sec|secs|seconds|sek|″)\.?$", re.IGNORECASE)
_POINTED = re.compile(r"(\d{1,2})[.,]([0-5]\d)$")
_BARE = re.compile(r"\d{2,4}$")


LONGEST_MIN = 15  # a larger number alone is of seconds


def length_cell(text: str, *, named: bool = False) -> int | None:
    """Read seconds from 3:40, 0:03:40, 3m40, 3'40", 3 min, 220 s; in a column named so, also from 3.40, 220 and 4.

    No song lasts four seconds: up to LONGEST_MIN, a number alone is of minutes.
    """
    text = text.strip().strip("()[]~ ")
    if found := _CLOCKED.match(text):
        seconds = int(found[1] or 0) * 3600 + int(found[2]) * 60 + int(found[3])
        if found[1] and int(found[1]) and found[3] == "00":
            seconds //= 60  # a spreadsheet shows 3:40 minutes as the clock time 3:40:00
    elif found := _SPOKEN.match(text):
        seconds = int(found[1]) * 60 + int(found[2] or 0)
    elif found := _SECONDS.match(text):
        seconds = int(found[1])
    elif named and (found := _POINTED.match(text)):
        seconds = int(found[1]) * 60 + int(found[2])
    elif named and text.isdecimal() and int(text) <= LONGEST_MIN:
        seconds = int(text) * 60
    elif named and _BARE.match(text):
        seconds = int(text)
    else:
        return None
    return seconds if 0 < seconds <= LONGEST_S else None


_TEMPO_SAID = re.compile(
    r"(?:(?:tempo|bpm|♩|𝅘𝅥|q|quarter)\.?\s*[:=]?\s*|[@≈~]\s*)(?:ca?\.?\s*|~\s*)?(\d{2,3}(?:[.,]\d{1,2})?)(?:\s*bpm)?$|"
    r"(?:ca?\.?\s*|~\s*)?(\d{2,3}(?:[.,]\d{1,2})?)\s*bpm$",
    re.IGNORECASE,
)


def tempo_cell(text: str, *, named: bool = False) -> float | None:
    """Read beats a minute from 112 bpm, ♩=112, @112; in a column named so, also from 112 and ca. 112."""
    text = text.strip().strip("()[] ")
    found = _TEMPO_SAID.match(text)
    said = (found[1] or found[2]) if found else text if named else None
    if said is None:
        return None
    try:
        return read_tempo(said)
    except NotMusic:
        return None


def meter_cell(text: str) -> Meter | None:
    """Read 4/4, 6/8 or 3/4 time; not C, which is a key here."""
    text = re.sub(r"\s*(?:time|takt|feel)$", "", text.strip().strip("()[] "), flags=re.IGNORECASE)
    if not re.match(r"\d{1,2}\s*/\s*\d{1,2}$", text):
        return None
    try:
        return read_meter(text)
    except NotMusic:
        return None


# ------------------------------------------------------------------ times and dates

_TIME = re.compile(
    r"\b(\d{1,2})(?:[:.]([0-5]\d)|\s?h\s?([0-5]\d)?)?\s*(am|pm|a\.m\.|p\.m\.|uhr|h|p|(?<=\d\d)a)?(?!\w)",
    re.IGNORECASE,
)


def clock_cell(text: str) -> int | None:
    """Read minutes since midnight from 20:00, 8pm, 8.30 pm, 6:45p, 20 Uhr, 20h30; not from a bare 20."""
    found = _TIME.fullmatch(text.strip())
    if not found or not (found[2] or found[3] or found[4] or "h" in text.lower()):
        return None
    hours, minutes, half = int(found[1]), int(found[2] or found[3] or 0), (found[4] or "").lower().replace(".", "")
    half = f"{half}m" if half == "p" or (half == "a" and found[2]) else half
    if half == "a":
        return None  # 12a is a number
    if half in ("am", "pm"):
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * 60 + minutes if hours < 30 else None


_OF_DAY = re.compile(r"(?<![\d:.])(\d{1,2})(?:[:.]\d\d)?\s?(am|pm)?(?![\d:.])", re.IGNORECASE)
LATEST_DOORS = 8  # o'clock; doors at 9 or later without "pm" may be a morning's


def says_evening(text: str) -> bool:
    """Return whether a line of a day's course can only mean an evening: doors 7, load in 16:00, curfew 11pm."""
    found = [(int(hour), (half or "").lower()) for hour, half in _OF_DAY.findall(text)]
    return any(half == "pm" or 13 <= hour <= 23 or (not half and 1 <= hour <= LATEST_DOORS) for hour, half in found)


MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "january jan januar jänner janvier enero gennaio januari janeiro stycznia ledna",
            "february feb februar février fevrier febrero febbraio februari fevereiro lutego února",
            "march mar märz mrz mars marzo maart março marts marca března",
            "april apr avril abril aprile kwietnia dubna",
            "may mai mayo maggio maio mei maj maja května",
            "june jun juni juin junio giugno junho czerwca června",
            "july jul juli juillet julio luglio julho lipca července",
            "august aug août aout agosto augustus sierpnia srpna",
            "september sep sept septembre septiembre settembre setembro września září",
            "october oct oktober okt octobre octubre ottobre outubro października října",
            "november nov novembre noviembre novembro listopada listopadu",
            "december dec dezember dez décembre decembre diciembre dicembre dezembro grudnia prosince",
        ),
        start=1,
    )
    for name in names.split()
}
NAMES_OF_MONTHS = "|".join(sorted(MONTHS, key=len, reverse=True))  # in a pattern: the longest is tried first
_ISO = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_POINTS = re.compile(r"\b(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})\b(?![.:]\d)")
_SLASHES = re.compile(r"\b(\d{1,2})/(\d{1,2})/(\d{4}|\d{2})\b(?![/\d])")
_DAY_MONTH = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th|\.)?\s+(?:of\s+|de\s+)?([^\W\d_]{3,10})\.?,?\s+(?:de\s+)?(\d{4})\b")
_MONTH_DAY = re.compile(r"\b([^\W\d_]{3,10})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})\b")


_MOVED = re.compile(  # Gig moved from 28 Nov to 5 Dec; a day that no longer holds comes first
    r"\b(?:moved|changed|postponed|rescheduled|shifted|brought forward|verlegt|verschoben|reporté)\b"
    r"(?=.{0,60}?\d).{0,60}?\b(?:to|until|on to|auf|au)\b\s",
    re.IGNORECASE,
)


def date_in(text: str) -> tuple[dt.date, tuple[int, int]] | None:
    """Find a date with its year in a line, and its span there. 5/6/2027 is ambiguous and is not read."""
    if (moved := _MOVED.search(text)) and (found_later := date_in(text[moved.end() :])):
        (begin, end), start = found_later[1], moved.end()
        return found_later[0], (begin + start, end + start)
    for pattern, order in ((_ISO, "ymd"), (_POINTS, "dmy"), (_SLASHES, "?"), (_DAY_MONTH, "dmy"), (_MONTH_DAY, "mdy")):
        for found in pattern.finditer(text):
            day = _day(found.groups(), order)
            if day:
                return day, found.span()
    return None


def _day(parts: tuple[str, ...], order: str) -> dt.date | None:
    numbers = [MONTHS.get(part.lower()) if not part.isdecimal() else int(part) for part in parts]
    first, second, third = numbers
    if first is None or second is None or third is None:
        return None
    if order != "ymd" and third < 100:
        third += 2000  # 5.12.26
    if order == "?":
        if first <= 12 and second <= 12 and first != second:
            return None
        order = "mdy" if second > 12 else "dmy"
    year, month, day = {"ymd": (first, second, third), "dmy": (third, second, first), "mdy": (third, first, second)}[
        order
    ]
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


_DAY_ALONE = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?([A-Za-zäûé]{3,9})\b\.?(?!\s+\d{4})")
_MONTH_ALONE = re.compile(r"\b([A-Za-zäûé]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?\b(?!\s*[:.]\d)")
_SHORT = re.compile(r"\b(\d{1,2})([./-])(\d{1,2})(?:\2(\d{4}|\d{2}))?(?:\b|(?<=\.))")
_YEAR = re.compile(r"\b(20\d\d)\b")
NO_YEAR = 1  # stands for the year of a day that names none; such days can be compared with each other


def any_date_in(text: str) -> dt.date | None:
    """Find a day to sort lists by, also without a year (year 1) or a year alone (its first day). Day before month."""
    if found := date_in(text):
        return found[0]
    for pattern, first in ((_DAY_ALONE, 1), (_MONTH_ALONE, 2)):
        for match in pattern.finditer(text):
            day, month = match[first], MONTHS.get(match[3 - first].lower())
            if month and (made := _valid(NO_YEAR, month, int(day))):
                return made
    for match in _SHORT.finditer(text):
        year = int(match[4]) if match[4] else NO_YEAR
        year += 2000 if NO_YEAR < year < 100 else 0
        day, month = int(match[1]), int(match[3])
        if made := _valid(year, month, day) or _valid(year, day, month):
            return made
    year_alone = _YEAR.search(text)
    return dt.date(int(year_alone[1]), 1, 1) if year_alone else None


def _valid(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None
