"""Songs that a reply names in its own words, between others in the order of the list: in doubt, by their place.

"Moth G, the wet one D, ferry Em", where one song stands between Moth and the ferry; or as many items as songs.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.line_scanner import LineScanner
from companion.leader.reply_items import KeyFact, ScannedLine, is_filler
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import NUMBER, WORD, set_of
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.turns_of_phrase import AS_RECORD, TurnOfPhrase

LEAST: Final = 4  # items of a list
LEAST_NAMED: Final = 2  # songs that are named by their titles, unless there are as many items as songs
MAX_NAME: Final = 5  # words of a name
MAX_ITEMS: Final = 80
MAX_KEY: Final = 30  # letters
MAX_HEADING: Final = 60
_PARTS: Final = re.compile(r"[,;.:]\s+")


class _Item(NamedTuple):
    """One item of a list: its line, where it stands in it, and its song; ``key``: where a key or the like follows.

    ``song``: its place, -1 for a name that no title has, None for what is no item.
    """

    line: int
    start: int
    end: int
    song: int | None
    key: int = 0


def songs_in_order(lines: Sequence[ReplyLine], names: SongNames, scanner: LineScanner) -> list[ReplyLine]:
    """Put the number of its song for a name that no title has, where the order tells which it is, the name in doubt."""
    items = [
        item
        for at, line in enumerate(lines)
        if line.text and not line.is_quoted and not line.field
        for item in _items_of(at, line.text, scanner)
    ]
    listed = [one for one in items if one.song is not None]
    if not LEAST <= len(listed) <= MAX_ITEMS or all(one.song != -1 for one in listed):
        return list(lines)
    kept = list(lines)
    placed = _placed([-1 if one.song is None else one.song for one in listed], names)
    for one, place in reversed(list(zip(listed, placed, strict=True))):
        if one.song == -1 and place >= 0:
            text = kept[one.line].text
            name = _JOINS.sub("", text[one.start : one.key])
            told = f"{names.numbers.index(place) + 1}: {text[one.key : one.end]} ({name}?)"
            kept[one.line] = kept[one.line]._replace(text=f"{text[: one.start]}{told}{text[one.end :]}")
    return kept


_JOINS: Final = re.compile(r"(?:\s(?:is|are|in|en|i|est|ist|es|goes|now)|\s?[:=–-])?(?:\sin)?\s*$")


def _items_of(at: int, text: str, scanner: LineScanner) -> Iterator[_Item]:
    """Yield the items of a line: what commas, semicolons, full stops and colons part, outside brackets."""
    ends = [one for one in _PARTS.finditer(text) if _is_outside(text[: one.start()])]
    ends = [one for one in ends if one[0][0] != ":" or _is_heading(text, one, scanner)]
    starts = [0, *(one.end() for one in ends)]
    for start, end in zip(starts, [*(one.start() for one in ends), len(text)], strict=True):
        line = scanner.scan(text[start:end], None)
        song, key = _song_of(line)
        yield _Item(at, start, end, song, start + key)


def _is_heading(text: str, colon: re.Match[str], scanner: LineScanner) -> bool:
    """Return whether what stands before a colon is no song that the words behind it are about: the wet one: in Am."""
    behind = scanner.scan(text[colon.end() :][:MAX_KEY], None)
    first = next((one for one in behind.items if not is_filler(one)), None)
    is_key = first is not None and (isinstance(first.what, KeyFact) or _is_of_record(first.what))
    before = scanner.scan(text[: colon.start()][-MAX_HEADING:], None)
    last = [one for one in before.items if not is_filler(one)][-1:]
    return not is_key and not any(isinstance(one.what, SongsMeant) for one in last)


def _is_outside(before: str) -> bool:
    return before.count("(") <= before.count(")")


def _song_of(line: ScannedLine) -> tuple[int | None, int]:
    """Return the song that an item names, -1 if a name of its own stands before a key, and where that key stands."""
    songs = [one.what for one in line.items if isinstance(one.what, SongsMeant)]
    if songs:
        first = songs[0]
        is_one = len(first.songs) == 1 and not first.sets and not first.is_rest
        return (first.songs[0] if is_one else None), 0
    key = next((one for one in line.items if isinstance(one.what, KeyFact) or _is_of_record(one.what)), None)
    if key is None:
        return None, 0
    before = [one for one in line.items if one.end <= key.at]
    words = [line.words[at] for one in before for at in range(one.at, one.end)]
    is_name = any(one.what is None and line.words[one.at].kind == WORD for one in before)
    is_plain = all(one.what is None or is_filler(one) or line.words[one.at].text in _DASHES for one in before)
    has_number = any(word.kind == NUMBER or word.low in _TALK for word in words)
    is_name = is_name and is_plain and not has_number and len(words) <= MAX_NAME
    return (-1 if is_name else None), line.words[key.at].start


_DASHES: Final = ("-", "–", "—")
# Words that begin a sentence, and no name.
_TALK: Final = set_of(
    "i i'm i'll i'd we we're we'll he she they it it's its you there here this these what who how my his her our your "
    "keys key capo"
)


def _is_of_record(what: object) -> bool:
    return isinstance(what, TurnOfPhrase) and what.kind == AS_RECORD


def _placed(songs: Sequence[int], names: SongNames) -> list[int]:
    """Return the place of each item's song, -1 where the order does not tell it."""
    every = [place for place in names.numbers if place is not None]
    asked = [place for place in every if song_says(names.songs[place][2], "key") is None]
    for order in (every, asked):
        found = _by_order(songs, order)
        if found is not None:
            return found
    return [-1] * len(songs)


def _by_order(songs: Sequence[int], order: Sequence[int]) -> list[int] | None:
    """Return the place that the songs named beside it leave for each song; None if they leave no other."""
    named = [at for at, song in enumerate(songs) if song >= 0]
    if any(songs[at] not in order for at in named):
        return None
    ranks = [order.index(songs[at]) for at in named]
    if any(one >= two for one, two in pairwise(ranks)):
        return None
    if len(songs) == len(order):
        return list(order) if all(rank == at for rank, at in zip(ranks, named, strict=True)) else None
    if len(named) < LEAST_NAMED:
        return None
    found = list(songs)
    for (one, first), (two, last) in pairwise(zip(named, ranks, strict=True)):
        if two - one == last - first:
            found[one:two] = order[first:last]
    return found if found != list(songs) else None
