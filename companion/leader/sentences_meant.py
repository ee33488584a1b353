"""The sentence of a line that an answer comes from: a reply may be one line of many sentences, or of none."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

_WORD: Final = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_SENTENCE_END: Final = re.compile(r"[.!?]\s+")
_LONGEST: Final = 200  # characters of a sentence; of a longer one, as in dictation, the words around are enough
_AROUND: Final = 80
_MOST_WORDS: Final = 1_000  # of a line that are looked at
_MOST_SAID: Final = 40


def sentence_around(line: str, begin: int, end: int) -> tuple[int, int]:
    """Return where the sentence that holds a stretch of the line begins and ends."""
    ends = [one.end() for one in _SENTENCE_END.finditer(line)]
    first = max((one for one in ends if one <= begin), default=0)
    return first, min((one for one in ends if one > end), default=len(line))


def sentences_meant(line: str, says: Sequence[str]) -> str:
    """Return the sentences of a line in which these words stand, with points where words are left out.

    A line in which none of them stands is returned up to its limit.

    >>> sentences_meant("Moth is in G. Kettle fades. See you Friday.", ["Kettle fades"])
    '… Kettle fades. …'
    """
    words = list(_WORD.finditer(line))[:_MOST_WORDS]
    lows = [one[0].casefold() for one in words]
    found = [_stretch(lows, [one[0].casefold() for one in _WORD.finditer(said)][:_MOST_SAID]) for said in says]
    parts = [_shown(line, words[one[0]].start(), words[one[1]].end()) for one in found if one]
    return "".join(_with_points(line, sorted(parts) or [_shown(line, 0, 0)]))


def _stretch(lows: Sequence[str], said: Sequence[str]) -> tuple[int, int] | None:
    """Return the first and last of the words in a line that are most like these; None if half of them are missing."""
    wanted = frozenset(said)
    if not wanted:
        return None
    length = len(said)
    best = max(range(len(lows)), key=lambda at: len(wanted.intersection(lows[at : at + length])), default=0)
    there = [at for at in range(best, min(best + length, len(lows))) if lows[at] in wanted]
    has_most = 2 * len({lows[at] for at in there}) > len(wanted)
    return (there[0], there[-1]) if has_most else None


def _shown(line: str, begin: int, end: int) -> tuple[int, int]:
    """Return where the sentence begins and ends; of one that is too long, the words around."""
    first, last = sentence_around(line, begin, end)
    if last - first <= _LONGEST:
        return first, last
    if begin - first > _AROUND:
        space = line.find(" ", begin - _AROUND, begin)
        first = space + 1 or begin
    if last - end > _AROUND:
        space = line.rfind(" ", end, end + _AROUND)
        last = space if space > 0 else end
    return first, last


def _with_points(line: str, parts: Sequence[tuple[int, int]]) -> Iterator[str]:
    at = 0
    for first, last in parts:
        if last <= at:
            continue
        if line[at:first].strip():
            yield "… " if not at else " … "
        elif at:
            yield " "
        yield line[max(first, at) : last].strip()
        at = last
    if line[at:].strip():
        yield " …"
