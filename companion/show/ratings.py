"""What a song's ratings mean: the words that the sheet, the command and the guide share."""

from typing import Final

RATED: Final = {
    "known": ("never heard", "could play it tonight"),
    "hard": ("plays itself", "as hard as it gets"),
}
"""The lowest rating of each key, and the highest."""


def rated(key: str) -> str:
    """Return what a rating means.

    >>> rated("known")
    '0 never heard ... 5 could play it tonight'
    """
    lowest, highest = RATED[key]
    return f"0 {lowest} ... 5 {highest}"
