"""Titles in aligned text that are as long as their column, so that only one space parts them from their key."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import TextSpan
from companion.setlist.parsing.key_cells import plain_key

FEWEST: Final = 3  # keys below each other
MOST: Final = 0.6  # share of the keys behind a gap


def keys_apart(lines: Sequence[tuple[TextSpan, ...]]) -> list[tuple[TextSpan, ...]]:
    """Return the pieces of each line; a key that a long title reaches is a piece of its own.

    It stands where the others begin, or further to the right.
    """
    begins = Counter(line[1].begin for line in lines if len(line) > 1 and plain_key(line[1].text))
    if not begins:
        return list(lines)
    column, count = begins.most_common(1)[0]
    if count < max(FEWEST, MOST * begins.total()):
        return list(lines)
    return [_apart(line, column) if line else line for line in lines]


def _apart(line: tuple[TextSpan, ...], column: float) -> tuple[TextSpan, ...]:
    first, *others = line
    title, _, key = first.text.rpartition(" ")
    begin = first.begin + len(title) + 1
    is_text = first.end - first.begin == len(first.text)  # letters of one width
    if not is_text or begin < column or not title or not key[:1].isupper() or plain_key(key) is None:
        return line
    if any(plain_key(one.text) for one in others[:1]):
        return line
    return (TextSpan(first.begin, begin - 1, title), TextSpan(begin, first.end, key), *others)
