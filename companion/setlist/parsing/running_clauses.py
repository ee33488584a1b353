"""The clauses of running text, and the words in front of them that lead to a title."""

import re
from typing import Final

import msgspec

from companion.setlist.parsing.running_words import ENCORE, LEAD, SMALL, TALKS
from companion.setlist.parsing.set_headings import is_break, read_set

_CLAUSES: Final = re.compile(
    r"(?P<stop>(?<=[^\s.])[.!?]{1,3}(?=\s|$)|;(?=\s)|\s[-–—/|>•·→+]{1,2}\s|:(?=\s)|\s?\n\s?)(?![^()]*\))|(?P<comma>,(?=\s))(?![^()]*\))"
)
_LINK: Final = re.compile(r"(?:is|are|will be|goes|has|ist|sind|est|es|è|é|är|er|=|[-–—:])\s+", re.IGNORECASE)
_CONDITIONS: Final = frozenset(["if", "falls", "wenn", "si", "se", "als", "om", "hvis", "jeśli", "pokud", "jos", "ako"])
TRIM: Final = " \t,;:.!?-–—/|>•·→+&"


class Clause(msgspec.Struct, frozen=True):
    """Words between two signs."""

    text: str
    ends: str  # the sign after it: a comma, a full stop ...; "" for the last


def clauses_of(text: str) -> list[Clause]:
    """Split words at the signs between them, outside brackets."""
    made, at = [], 0
    for found in _CLAUSES.finditer(text):
        made.append(Clause(text[at : found.start()].strip(), found[0].strip()))
        at = found.end()
    made.append(Clause(text[at:].strip(), ""))
    return [clause for clause in made if clause.text.strip(TRIM)]


def lead_of(words: str, *, rises: bool, begins: bool = True) -> int:
    """Return where the words end that lead to a title: we open with ..., then ...

    ``rises``: titles have capitals here, so that only words in small letters lead to one, but for the first of a
    sentence.
    """
    first = at = len(words) - len(words.lstrip(TRIM))
    while True:
        rest = words[at:]
        if heading := _heading_in_front(rest):
            at += heading
            continue
        found = LEAD.match(rest)
        if not found or (rises and not _is_small(found[0], begins=begins and at == first)):
            return at
        at += found.end()


def _is_small(words: str, *, begins: bool) -> bool:
    """Return whether words are in small letters, but for the first one where it begins a sentence."""
    first, *others = words.split()
    return (begins or not first[:1].isupper()) and not any(word[:1].isupper() and len(word) > 1 for word in others)


def _heading_in_front(text: str) -> int:
    """Return how long the heading of a set is that begins the words: second half ..."""
    words = text.split(" ")
    for count in (3, 2, 1):
        said = " ".join(words[:count])
        plain = said.strip(TRIM)
        if len(words) <= count or not plain or not _CONDITIONS.isdisjoint(plain.lower().split()):
            continue
        is_heading = (found := read_set(plain)) is not None and not found.also
        if is_heading or (plain.isupper() and not text.isupper() and is_break(plain)):  # ... (C) INTERVAL Moth (D)
            end = len(said) + 1
            return end + (linked.end() if (linked := _LINK.match(text[end:])) else 0)
    return 0


def risen(words: str) -> int:
    """Return where the capitals of a title begin that ends the words; 0 if nothing before it is talk."""
    places = [(one.start(), one[0]) for one in re.finditer(r"\S+", words)]
    begin = 0
    for at, word in reversed(places):
        first = next((sign for sign in word if sign.isalnum()), "")
        if first.isupper() or first.isdigit():
            begin = at
        elif word.strip(TRIM).lower() not in SMALL:
            break
    return begin


def talks_first(words: str) -> bool:
    """Return whether talk stands before a title with capitals: If they want more we do Moth; not Bonne nuit Simone."""
    run = risen(words)
    return bool(run) and (TALKS.search(words[:run]) is not None or ENCORE.search(words[:run]) is not None)


def is_led(text: str) -> bool:
    """Return whether a clause is nothing but words that lead to a song."""
    at = lead_of(f"{text.strip(TRIM)} ", rises=False)
    return at >= len(text.strip(TRIM))
