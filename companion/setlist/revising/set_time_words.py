"""When a set starts, and until when, in the words of a message: first set 8.15 till 9, second set now 10pm."""

import re
from typing import Final

import msgspec

HOURS: Final = 24
MINUTES: Final = 60
NOON: Final = 12 * MINUTES
HALF_DAY: Final = 12 * MINUTES
LONGEST_SET: Final = 5 * MINUTES
FIRST_OF_MORNING: Final = 10 * MINUTES  # a first set at 8 or 9.30 is an evening's; at 11 it may be a brunch
SET_NAME: Final = (
    r"(?:set\s+(?:one|two|three|four|[1-6])|(?:first|second|third|last|1st|2nd|3rd)\s+(?:set|half)|encores?)"
)
_TIME: Final = r"\d{1,2}(?:[:.h]\d{2})?(?:\s?(?:am|pm|uhr|h)\b)?"
_SURE: Final = re.compile(r"[:.h]\d{2}|am|pm|uhr|\dh", re.IGNORECASE)
_PARTS: Final = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s?(am|pm)?")
_NAMES_HALF: Final = re.compile(r"am|pm|uhr|^0\d|^1[3-9]|^2\d", re.IGNORECASE)
_STARTS: Final = re.compile(
    rf"^(?:the\s+)?({SET_NAME})\s*(?P<led>(?:(?:is|now|starts?|begins?|at|from|moves|moved|to|goes|on|plays?|[:=–-])\s*)*)"
    rf"({_TIME})(?:\s*(?:-|–|—|to|till?|until|bis)\s*({_TIME}))?(?:\s+(?:now|instead|sharp))?"
    rf"(?:,?\s+(?:not|instead of|was)\s+(?:at\s+)?{_TIME})?$",
    re.IGNORECASE,
)


class NewTimes(msgspec.Struct, frozen=True):
    """The new times of the set that these words name, in minutes from midnight.

    ``is_open``: nothing says which half of the day is meant.
    """

    set_words: str
    starts_min: int
    minutes: int | None = None
    is_open: bool = False

    def near(self, before: int | None, others: tuple[int, ...]) -> int:
        """Return the start in the half of the day that is meant: the one nearest to the set's time until now.

        Without such a time the other sets' decide; without those an early hour is of the evening.
        """
        both = (self.starts_min, self.starts_min + HALF_DAY)
        if not self.is_open or self.starts_min > NOON + MINUTES - 1:
            return self.starts_min
        if before is not None:
            return min(both, key=lambda one: abs(one - before))
        is_evening = any(one >= NOON for one in others) or (not others and self.starts_min < FIRST_OF_MORNING)
        return both[is_evening]


def times_of_set(clause: str) -> NewTimes | None:
    """Read the new times of one set; None for other words.

    >>> times_of_set("second set now 10pm")
    NewTimes(set_words='second set', starts_min=1320, minutes=None, is_open=False)
    >>> times_of_set("set 1 8.15 till 9").minutes, times_of_set("set 2 4 songs")
    (45, None)
    """
    found = _STARTS.match(clause)
    if not found or not (_SURE.search(found[3]) or found["led"].strip(" :=-–") or found[4]):
        return None
    start, end = _minutes(found[3]), _minutes(found[4]) if found[4] else None
    if start is None or (found[4] and end is None):
        return None
    if found[4] and end is not None and _is_afternoon(found[4]) and not _NAMES_HALF.search(found[3]):
        start += HALF_DAY if start < NOON else 0  # 8 to 9pm
        is_open = False
    else:
        is_open = not _NAMES_HALF.search(found[3])
    minutes = (end - start) % HALF_DAY if end is not None else None
    return NewTimes(found[1], start, minutes if minutes and minutes <= LONGEST_SET else None, is_open)


def _is_afternoon(time: str) -> bool:
    return time.lower().rstrip().endswith("pm")


def _minutes(time: str) -> int | None:
    """Return minutes from midnight; an hour without am or pm as it stands."""
    found = _PARTS.match(time.lower())
    if not found:
        return None
    hours, minutes, half = int(found[1]), int(found[2] or 0), found[3]
    if half:
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * MINUTES + minutes if hours < HOURS and minutes < MINUTES else None
