"""A set's name as players say it."""

from typing import Final

_NAMED: Final = frozenset(("set", "sets", "encore", "encores"))


def set_words(name: str) -> str:
    """Return the set's name with the word "set", unless that or a number is in it.

    >>> set_words("First"), set_words("Set 1"), set_words("Encore"), set_words("Late set")
    ('First set', 'Set 1', 'Encore', 'Late set')
    """
    return name if _NAMED & set(name.casefold().split()) or any(map(str.isdigit, name)) else f"{name} set"
