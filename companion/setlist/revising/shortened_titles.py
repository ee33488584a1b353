"""Titles with shortened words: Harlequin St for Harlequin Street."""

from typing import Final

SHORTEST: Final = 2  # letters of a shortened word
LONG_WORD: Final = 4  # letters of a word that both titles share


def is_shortened(one: str, other: str) -> bool:
    """Return whether two folded titles are the same words, some of them shortened in one of the titles.

    >>> is_shortened("harlequin st", "harlequin street"), is_shortened("quarry rd", "quarry road")
    (True, True)
    >>> is_shortened("harlequin sea", "harlequin street"), is_shortened("moth st", "moth")
    (False, False)
    """
    pairs = list(zip(first := one.split(), second := other.split(), strict=False))
    if len(first) != len(second) or one == other:
        return False
    has_long = any(here == there and len(here) >= LONG_WORD for here, there in pairs)
    return has_long and all(here == there or _is_short_for(*sorted((here, there), key=len)) for here, there in pairs)


def _is_short_for(short: str, word: str) -> bool:
    """Return whether one word is the other's beginning, or its first and last letters with some between."""
    if not SHORTEST <= len(short) < len(word) or not short.isalpha():
        return False
    if word.startswith(short):
        return True
    letters = iter(word)
    return short[0] == word[0] and short[-1] == word[-1] and all(letter in letters for letter in short)
