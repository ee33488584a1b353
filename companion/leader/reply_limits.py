"""How much of a reply is read: a message of any length is bounded work, and what is beyond the limit is kept."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

MAX_LINE_WORDS: Final = 400  # a voice message about fifty songs has 300
MAX_WORDS: Final = 4_000  # seventy songs with a sentence each have 1,000
_WORD: Final = re.compile(r"\w+|[^\w\s]")


class ReadPart(NamedTuple):
    """The part of a reply that is read, and the pieces of it beyond the limits, in their order."""

    text: str
    beyond: Sequence[str]


def read_part(text: str) -> ReadPart:
    """Return what is read of a reply: of each line and in all no more words and signs than the limits."""
    kept: list[str] = []
    beyond: list[str] = []
    left = MAX_WORDS
    for line in text.splitlines():
        ends = [found.end() for found in _WORD.finditer(line)]
        many = min(len(ends), MAX_LINE_WORDS, left)
        left -= many
        end = ends[many - 1] if many else 0
        kept.append(line if many == len(ends) else line[:end])
        if many < len(ends):
            beyond.append(line[end:].strip())
    return ReadPart("\n".join(kept), beyond)
