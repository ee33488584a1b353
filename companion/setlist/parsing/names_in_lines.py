"""Names that many lines have beside their titles: singers, artists, dances."""

import re
from collections import Counter
from collections.abc import Sequence

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import HEAD, SINGER, TAIL
from companion.setlist.parsing.pieces import pieces_of, read_piece, read_pieces

MAX_SINGERS = 8
FEWEST = 3  # titles behind the same name; in a few lines only, where one of many songs is sung by another
MIN_NAMED = 0.3  # share of the lines with a name and a key
MOST_AGAIN = 0.6  # share of the names that more than one line has
_TOGETHER = re.compile(r"\s?[+&/]\s?")  # Ann+Bo
_INITIAL = re.compile(r"[A-Z]$")  # D, where others are M and T: a singer, no key
MAX_IN_BRACKETS, MIN_BRACKETS = 0.4, 3  # share and number of titles with a bracket; fewer may be parts of titles


def are_singers(names: Sequence[str]) -> bool:
    """Return whether names before the titles are first names of a few people, not artists."""
    different = set(names)
    return len(different) <= MAX_SINGERS and sum(len(name.split()) == 1 for name in names) >= 0.8 * len(names)


def singers_in(texts: Sequence[str]) -> frozenset[str]:
    """Return the names that stand before a colon or in brackets in many lines, a few names many times."""
    for found in (
        [match[1] for text in texts if (match := SINGER.match(text))],
        [match[1] for text in texts if (match := HEAD.match(text))],
        [match[2] for text in texts if (match := TAIL.match(_before_key(text)))],
    ):
        are_initials = any(len(name.strip()) == 1 and _is_name(name.strip()) for name in found)
        names = [name.strip() for name in found if _is_name(name) or (are_initials and _INITIAL.match(name.strip()))]
        different = set(names)
        if len(names) >= 0.4 * len(texts) and 1 <= len(different) <= min(MAX_SINGERS, len(names) / 2):
            return frozenset(different)
    named = [match for text in texts if (match := SINGER.match(text)) and _is_keyed(text[match.end() :])]
    if len(named) >= max(FEWEST, MIN_NAMED * len(texts)) and (together := _people_in([match[1] for match in named])):
        return together
    again = Counter(match[1] for match in named if _is_name(match[1]) and " " not in match[1])
    return frozenset(name for name, count in again.items() if count >= FEWEST)


def _people_in(labels: Sequence[str]) -> frozenset[str]:
    """Return the labels if most name people that other labels name too, alone or together: Ann; Ann+Bo; Bo."""
    people = [_TOGETHER.split(label) for label in labels]
    counts = Counter(name for names in people for name in names)
    again = sum(any(counts[name] > 1 for name in names) for names in people)
    are_names = all(_is_name(name) and " " not in name for name in counts if name[:1].isupper())
    is_enough = len(counts) <= MAX_SINGERS and again >= MOST_AGAIN * len(labels)
    return frozenset(labels) if are_names and is_enough else frozenset()


def _is_keyed(text: str) -> bool:
    """Return whether a title with its key stands here, not a key alone."""
    before = _before_key(text)
    bracket = TAIL.match(text)
    return before != text or any(map(plain_key, pieces_of(text)[1:])) or bool(bracket and plain_key(bracket[2]))


def names_in_brackets(texts: Sequence[str], notation: Notation) -> list[str]:
    """Return what is in brackets after titles, where many lines have that: artists, singers, dances."""
    found = []
    for text in texts:
        first = pieces_of(text)[0]
        end = key_at_end(first, notation)
        bracket = TAIL.match((end.before if end else first).rstrip(" -–—:,"))
        if bracket and not any(piece.says_something for piece in read_pieces(bracket[2], notation)):
            found.append(bracket[2].strip())
    return found if len(found) >= max(MIN_BRACKETS, MAX_IN_BRACKETS * len(texts)) else []


def _before_key(text: str) -> str:
    end = key_at_end(text, Notation.LETTERS)
    return end.before if end else text


def _is_name(text: str) -> bool:
    return (
        text[:1].isupper()
        and len(text.split()) <= 3
        and not plain_key(text)
        and read_piece(text, Notation.LETTERS).text == text
        and not (read_piece(text, Notation.LETTERS).says_something)
    )
