"""Jokes and opinions in messages: what they say of a song is no note on it."""

import re
from typing import Final

_LAUGHS: Final = re.compile(
    "[\U0001f600-\U0001f606\U0001f609\U0001f61c\U0001f61d\U0001f923\U0001f92a]|"
    r"\b(?:(?:ha){2,9}h?|(?:he){2,9}|(?:ja){2,9}|lo+l|lmao|rofl|mdr|hihi)\b|"
    r"\b(?:favou?rite|of the (?:year|century|decade)|best (?:title|song|name|one)|liebling\w{0,12}|"
    r"préférée?|mi favorit[ao]|la mia preferita|mijn favoriet|min favorit)\b",
    re.IGNORECASE,
)


def laughs(text: str) -> bool:
    """Return whether words only laugh about a song, or praise it: 17 is the title of the year."""
    return _LAUGHS.search(text) is not None
