"""The place of the show, as a reply names it."""

import re
from typing import Final

_SMALL: Final = "the|a|of|in|on|at|and|by|under|near|le|la|les|du|de|der|die|das|zum|zur|am|im|st|no"
_WORD: Final = re.compile(rf"(?:[A-ZÀ-Þ][\w'’.&-]*|\d{{1,5}}[a-z]?|{_SMALL}|&|-)")
_CAPITAL: Final = re.compile(r"[A-ZÀ-Þ]")


def is_place(words: str) -> bool:
    """Return whether words are a name and no more: capitals, house numbers, and small words between.

    >>> [is_place(one) for one in ("the Corn Hall, Market Street", "not Corn Hall", "Corn Hall if they let us")]
    [True, False, False]
    """
    named = [word for word in re.split(r"[ ,;()]+", words.rstrip(".!")) if word]
    return _CAPITAL.search(words) is not None and all(_WORD.fullmatch(word) for word in named)
