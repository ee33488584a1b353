"""Headings of any word that returns with the next number: 1. kolo and 2. kolo, Sæt 1: A, B, C."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.parsing.set_headings import number_said
from companion.setlist.parsing.text_lines import TextLine

FEWEST_BETWEEN: Final = 2  # lines below each heading but the last
FEWEST_SONGS: Final = 3  # songs after a heading, on its line
MAX_SETS: Final = 8
LONGEST: Final = 600  # characters of a line with its songs
# Words that count songs, pages and parts of a song, not sets (common practice, no source).
_NOT_SETS: Final = (
    "song songs track tune lied titel title nr no number num pad card page seite pagina página strana side sida blad "
    "oldal verse vers strophe couplet chorus refrain takt bar line part solo voice cd disc hymn carol psalm chant "
    "canto chanson canción canzone reading lesson bpm x take version v draft week day"
)
NOT_SETS: Final = frozenset(_NOT_SETS.split())
_NUMBER: Final = r"\d{1,2}(?:st|nd|rd|th)?|[IVX]{1,4}"
_COUNTED: Final = re.compile(
    rf"^[\W_]*(?:(?P<before>{_NUMBER}|[^\W\d_]{{3,12}})(?:[.)]\s{{0,2}}|[:ºªo]?\s{{1,9}})(?P<word>[^\W\d_]{{2,14}})"
    rf"|(?P<word_first>[^\W\d_]{{2,14}})\s+(?P<behind>{_NUMBER}))(?P<sign>[.:)]?)(?=\s|$|[\W_]+$)(?P<rest>.*)$"
)
_SIGNS: Final = tuple(
    re.compile(rf"\s*{sign}\s*(?![^()]*\))")
    for sign in (r"\s/\s", r"(?:>|→|->)\s", r"[,;]\s", r"\s[|•·]\s", r"\s[-–—]\s")
)
_BRACKET: Final = re.compile(r"\([^()]{1,12}\)$")


_CLOCK: Final = r"\d{1,2}[:.h]\d{2}(?:\s?(?:uhr|[ap]\.?m\.?))?"
_TIME: Final = re.compile(  # 1. Tanzrunde (20:30 Uhr); 2. dance, 9.15pm
    r"^[(\[,@–—-]{0,2}\s?(?:(?:ab|at|from|um|ca\.?|à|a las|alle|kl\.?|c\.)\s)?"
    rf"{_CLOCK}(?:\s?[-–—]\s?{_CLOCK})?[)\]]?$",
    re.IGNORECASE,
)


class _Head(msgspec.Struct, frozen=True):
    at: int
    number: int
    word: str
    rest: str
    is_parted: bool


def with_counted_headings(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines with "Set 1" for each heading of a word that is beside the numbers 1, 2 and so on."""
    heads = [head for at, line in enumerate(lines) if (head := _head(at, line.whole))]
    by_word: dict[str, list[_Head]] = {}
    for head in heads:
        by_word.setdefault(head.word, []).append(head)
    made = list(lines)
    for same in by_word.values():
        if not _counts_up(same):
            continue
        if _stand_alone(same, lines):
            for one in same:
                made[one.at] = _named(lines[one.at], f"Set {one.number} {one.rest}".strip())
        elif all(_has_songs(one) for one in same):
            for one in same:
                made[one.at] = _named(lines[one.at], f"Set {one.number}: {one.rest.strip(' :-–—')}")
    return made


def counted_rows(texts: Sequence[str]) -> frozenset[int]:
    """Return which texts (from 0) are one word with the numbers 1, 2 and so on, nothing else, and apart."""
    by_word: dict[str, list[_Head]] = {}
    for at, text in enumerate(texts):
        if is_counted(text) and (head := _head(at, text)):
            by_word.setdefault(head.word, []).append(head)
    counted = [[one.at for one in same] for same in by_word.values() if _counts_up(same)]
    ends = ((rows, itertools.pairwise([*rows, len(texts)])) for rows in counted)
    apart = (rows for rows, pairs in ends if all(below - at > FEWEST_BETWEEN for at, below in pairs))
    return frozenset(itertools.chain.from_iterable(apart))


def is_counted(text: str) -> bool:
    """Return whether a text is a word and a small number, and the word counts no songs."""
    head = _head(0, text)
    return head is not None and not head.rest


def _head(at: int, text: str) -> _Head | None:
    if len(text) > LONGEST or not (found := _COUNTED.match(text)):
        return None
    word = (found["word"] or found["word_first"]).lower()
    number = number_said(found["before"] or found["behind"])
    if number is None or not 1 <= number <= MAX_SETS or word in NOT_SETS:
        return None
    return _Head(at, number, word, found["rest"].strip(), bool(found["sign"]))


def _counts_up(heads: Sequence[_Head]) -> bool:
    return len(heads) > 1 and [one.number for one in heads] == list(range(1, len(heads) + 1))


def _stand_alone(heads: Sequence[_Head], lines: Sequence[TextLine]) -> bool:
    """Return whether nothing follows the headings, and lines that may be songs are below each."""
    if any(any(letter.isalnum() for letter in _TIME.sub("", one.rest)) for one in heads):
        return False
    ends = [*(one.at for one in heads[1:]), len(lines)]
    songs = [sum(bool(line.text) for line in lines[one.at + 1 : end]) for one, end in zip(heads, ends, strict=True)]
    return all(count >= FEWEST_BETWEEN for count in songs[:-1]) and songs[-1] > 0


def _has_songs(head: _Head) -> bool:
    """Return whether several songs follow: after a colon, or each with a key in brackets."""
    fewest = FEWEST_SONGS if head.number == 1 else FEWEST_SONGS - 1
    made = [sign.split(head.rest) for sign in _SIGNS]
    return any(len(parts) >= fewest and (head.is_parted or _are_keyed(parts)) for parts in made)


def _are_keyed(parts: Sequence[str]) -> bool:
    return sum(bool(_BRACKET.search(part)) for part in parts) > 0.5 * len(parts)


def _named(line: TextLine, text: str) -> TextLine:
    return msgspec.structs.replace(line, whole=text, text=text, number=None, is_bulleted=False, is_lettered=False)
