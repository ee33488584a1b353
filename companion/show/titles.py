"""How the titles of songs, sets and lists are compared."""

import functools
import re
import unicodedata
from typing import Final

MAX_FOLDED: Final = 4096  # titles and words whose folding is kept
_FOLD_AWAY: Final = re.compile(r"[\W_]+")


@functools.lru_cache(MAX_FOLDED)
def folded(title: str) -> str:
    """Return a title for comparison: no case, accents, signs or leading article; unchanged if nothing would be left.

    >>> folded("The Café – on  Pier St.") == folded("cafe on pier st")
    True
    """
    plain = unicodedata.normalize("NFKD", title.casefold())
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    words = [word for word in _FOLD_AWAY.split(plain.replace("&", " and ").replace("'", "").replace("’", "")) if word]
    if len(words) > 1 and words[0] in ("the", "a", "an", "der", "die", "das"):
        words = words[1:]
    return " ".join(words) or title.strip()
