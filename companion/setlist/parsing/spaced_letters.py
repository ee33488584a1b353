"""Words with a space between their letters, as headings are typed: S E T   T W O."""

import re
from typing import Final

_SPACED: Final = re.compile(r"^(?:[^\W_] ){2,30}[^\W_](?: {2,8}(?:(?:[^\W_] ){1,30}[^\W_]|[^\W_]{1,5})){0,6}$")
_WORD_GAP: Final = re.compile(r" {2,8}")
_NUMBERED: Final = re.compile(r"^(SET|PART|TEIL|HALF|BLOCK)(\d|[A-D]|ONE|TWO|THREE|I{1,3})$")


def closed_up(text: str) -> str:
    """Return the text with its letters closed up; any other text as it is.

    >>> closed_up("S E T   T W O"), closed_up("S E T 2"), closed_up("A B C D E"), closed_up("U R Mine")
    ('SET TWO', 'SET 2', 'ABCDE', 'U R Mine')
    """
    if not _SPACED.match(text):
        return text
    words = " ".join(word.replace(" ", "") for word in _WORD_GAP.split(text))
    return _NUMBERED.sub(r"\1 \2", words)
