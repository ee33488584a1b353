"""A place in a recording, as a player says it: 1:12.4."""

from typing import Final

from companion.errors import CompanionError

LONGEST_S: Final = 20 * 60  # of a recording


class NoPlace(CompanionError):  # noqa: N818  reads better than an Error
    """The text is not a place in a recording."""


def seconds_at(text: str) -> float:
    """Return the seconds of 1:12.4, or of 72.4. Raises NoPlace.

    >>> seconds_at("1:12.4")
    72.4
    """
    minutes, _, seconds = text.strip().rpartition(":")
    try:
        found = 60 * int(minutes or 0) + float(seconds)
        is_place = float(seconds) >= 0
    except (ValueError, OverflowError):
        found, is_place = -1.0, False
    if not is_place or not 0 <= found <= LONGEST_S:
        raise NoPlace(f"{text} is not a place in a recording. Write: 1:12.4")
    return found


def place_at(seconds: float) -> str:
    """Return a place to a tenth of a second.

    >>> place_at(72.44)
    '1:12.4'
    """
    tenths = round(seconds * 10)
    return f"{tenths // 600}:{tenths % 600 / 10:04.1f}"
