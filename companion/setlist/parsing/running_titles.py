"""Titles without keys in running text, and songs in one line whose numbers follow each other."""

import itertools
import re
from collections.abc import Iterator
from typing import Final

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_kinds import is_chat
from companion.setlist.parsing.patterns import AND, TAIL
from companion.setlist.parsing.running_clauses import TRIM, lead_of
from companion.setlist.parsing.running_text import PartKind, TextPart
from companion.setlist.parsing.running_words import TO_FINISH
from companion.setlist.parsing.set_headings import SetHeading, named_by_number, read_heading, read_set, short_heading

FEWEST_NAMED: Final = 5  # titles of a row that no heading names
MAX_LINES: Final = 6  # of a message that lists titles without keys in a sentence
FEWEST_HEADED: Final = 3  # titles in all rows behind headings
LONGEST_TITLE: Final = 7  # words
LONGEST: Final = 4000
MOST_RISING: Final = 0.6  # share of the titles that begin with a capital, from which on all must
FEWEST_NUMBERED: Final = 3  # songs
FEWEST_BARE_NUMBERED: Final = 4
MOST_KEYED: Final = 0.75  # share of the songs with numbers without a point
_SENTENCE: Final = re.compile(r"(?<=[^\s.][^\s.])[.!?]{1,3}(?=\s|$)(?![^()]*\))")
_LABEL: Final = re.compile(r"^(?:([^:=]{1,160})\s=|([^:]{1,160}):)\s+(?=\S)")
_IS_LIST: Final = re.compile(  # thurs set is moth, weeds, fog bell
    r"^(.{0,80}?\b(?:set ?list|set|list|songs|running order|setliste|liste|lista|lijst|låtlista|scaletta)"
    r"(?:\s(?:for|on|für|pour|per|para|voor|til|till)\s\S{1,20})?\s"
    r"(?:is|are|goes|will be|ist|wäre|est|c'est|sono|son|es|è|é|är|er))\s+(?=\S)",
    re.IGNORECASE,
)
_COMMAS: Final = re.compile(r"\s*[,;]\s+")
_SIGNS: Final = tuple(
    re.compile(rf"\s+(?:{sign})\s+") for sign in (r"-{1,2}>|=>|>{1,2}|→", "/", r"\|", "[•·]", "[-–—]")
)
_LAST_AND: Final = re.compile(rf"\s(?:{AND}|&)\s(?!.*\s(?:{AND}|&)\s)")
_AND: Final = re.compile(rf"^(?:{AND}|then|dann|puis|luego|poi|dan)\s+", re.IGNORECASE)
_BARE_NUMBER: Final = re.compile(r"(?:^|\s)(\d{1,2})\s+(?=[^\W\d_])")
_OVER: Final = re.compile(r"[.!?]\s+(?=[^\W\d_])")
_BRACKET_AT_END: Final = re.compile(r"\s\([^()]*\)$")
_NUMBER: Final = re.compile(r"(?:^|\s)(\d{1,2})[.)]\s+(?=\S)")


def bare_titles(text: str) -> tuple[TextPart, ...]:
    """Return the parts of a message that lists titles without keys: Set for Sunday: Moth, Weeds, ... No drums."""
    if len(text) > LONGEST:
        return ()
    parts: list[TextPart] = []
    headed = named = 0
    for sentence in _sentences(text):
        label, said = _label_of(sentence)
        heading = heading_in(label)
        titles = _titles(said)
        if not titles or (len(titles) < FEWEST_NAMED and heading is None):
            parts.append(TextPart(PartKind.TALK, sentence))
            continue
        headed += len(titles) if heading else 0
        named += 0 if heading else len(titles)
        if heading:
            parts.append(TextPart(PartKind.HEADING, label, heading=heading))
        elif label:
            parts.append(TextPart(PartKind.TALK, label))
        parts += [TextPart(PartKind.SONG, title) for title in titles]
    return tuple(parts) if named or headed >= FEWEST_HEADED else ()


def _sentences(text: str) -> Iterator[str]:
    at = 0
    for found in _SENTENCE.finditer(text):
        yield text[at : found.start()].strip()
        at = found.end()
    if rest := text[at:].strip():
        yield rest


def _label_of(sentence: str) -> tuple[str, str]:
    """Split the words before a colon off a sentence that lists titles: (the words, the rest)."""
    found = _LABEL.match(sentence) or _IS_LIST.match(sentence)
    said = next(filter(None, found.groups())) if found else ""
    return (said.strip(), sentence[found.end() :]) if found else ("", sentence)


def heading_in(label: str) -> SetHeading | None:
    """Return the heading that the words before a colon name, at their end: Sat list - second half."""
    words = label.strip(TRIM).split()
    for count in (3, 2, 1):
        said = " ".join(words[-count:])
        found = read_set(said) or (read_heading(said) if count == len(words) else None)
        if len(words) >= count and found and not found.also:
            return found
    short = short_heading(label)
    return named_by_number(short[1]) if short else None  # 1st: Moth / Weeds


def _titles(said: str) -> list[str]:
    """Return the titles that one sign parts; none if a piece is no title."""
    said = TO_FINISH.sub("", said.strip(TRIM))
    made = max((sign.split(said) for sign in (_COMMAS, *_SIGNS)), key=len)
    pieces = [_AND.sub("", piece.strip(TRIM)) for piece in made]
    if len(pieces) > 1 and not _AND.match(made[-1].strip(TRIM)):
        pieces[-1:] = _LAST_AND.split(pieces[-1], maxsplit=1)
    begin = lead_of(pieces[0], rises=pieces[-1][:1].isupper()) if pieces[0] else 0
    pieces[0] = pieces[0][begin:]
    rising = sum(piece[:1].isupper() for piece in pieces)
    is_rising = rising >= MOST_RISING * len(pieces)
    is_row = is_rising and len(pieces) >= FEWEST_NAMED
    inside = (0, len(pieces) - 1) if is_row else ()  # no greeting stands between titles: Moth, Hey Mister, Weeds
    return (
        pieces
        if all(
            _is_title(piece, rises=is_rising, is_known=bool(inside) and at not in inside and piece.istitle())
            for at, piece in enumerate(pieces)
        )
        else []
    )


def _is_title(piece: str, *, rises: bool, is_known: bool = False) -> bool:
    """``is_known``: the titles around it tell that no talk stands here."""
    words = piece.split()
    if not 0 < len(words) <= LONGEST_TITLE or not piece[0].isalnum() or (is_chat(f"{piece},") and not is_known):
        return False
    return not any(sign in piece for sign in "()[]:@/|") and not (rises and piece[0].islower())


def bare_numbered(text: str, notation: Notation) -> tuple[str, list[tuple[int, str]]]:
    """Return the same of a line whose numbers have no point, and whose songs have keys: Fri: 1 Moth in G 2 Kite in C.

    What follows the last song's sentence is a part without a number.
    """
    found = list(_BARE_NUMBER.finditer(text)) if len(text) <= LONGEST else []
    starts: list[re.Match[str]] = []
    for one in found:
        if int(one[1]) == len(starts) + 1:
            starts.append(one)
    bounds = [*(one.start() for one in starts), len(text)]
    songs = [
        text[one.end() : end].strip(" ,;") for one, (_, end) in zip(starts, itertools.pairwise(bounds), strict=True)
    ]
    if len(songs) < FEWEST_BARE_NUMBERED:
        return "", []
    ends = (one.start() for one in _OVER.finditer(songs[-1]))
    end = next((end for end in ends if _has_key(songs[-1][:end], notation)), len(songs[-1]))
    songs[-1], behind = songs[-1][:end], songs[-1][end:].strip(" .!?")
    if sum(_has_key(song, notation) for song in songs) < MOST_KEYED * len(songs):
        return "", []
    made = list(enumerate(songs, start=1))
    return text[: bounds[0]].strip(TRIM), [*made, (0, behind)] if behind else made


def _has_key(song: str, notation: Notation) -> bool:
    """Return whether a title and its key begin the words, and nothing but a bracket follows."""
    return key_at_end(_BRACKET_AT_END.sub("", song), notation) is not None or (
        (bracket := TAIL.match(song)) is not None and plain_key(bracket[2], notation=notation) is not None
    )


def numbered_parts(text: str, number: int | None) -> tuple[str, list[tuple[int, str]]]:
    """Return the words before the numbered songs of a line, and these: Fri: 1. Moth (G) 2. Weeds 3. Kite.

    ``number``: of the first song, if it was taken off the line's front.
    """
    found = list(_NUMBER.finditer(text)) if len(text) <= LONGEST else []
    first = number if number is not None else (int(found[0][1]) if found else 0)
    inside = found if number is not None else found[1:]
    count = 0
    for one in inside:
        count += int(one[1]) == first + count + 1
    if count != len(inside) or count + 1 < FEWEST_NUMBERED:
        return "", []
    starts = ([] if number is not None else [found[0]]) + inside
    bounds = [*(one.start() for one in starts), len(text)]
    songs = [] if number is None else [(number, text[: bounds[0]].strip())]
    songs += [
        (int(one[1]), text[one.end() : end].strip(" ,;"))
        for one, (_, end) in zip(starts, itertools.pairwise(bounds), strict=True)
    ]
    return ("" if number is not None else text[: bounds[0]].strip(TRIM)), songs
