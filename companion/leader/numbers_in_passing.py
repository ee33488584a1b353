"""A number in the middle of another song's line is no song's: "7 F - ends cold on the 4", where 4 has its own line."""

import re
from collections.abc import Iterable
from typing import Final

from companion.leader.reply_items import ScannedLine
from companion.leader.reply_words import NUMBER, SIGN, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import TurnOfPhrase

_FIRST: Final = re.compile(r"^\W{0,4}(\d{1,3})(?![\d:])")
# Words in front of a number that may be a song's.
_LEADS: Final = set_of(
    "and & then to number nr no num nummer numero número song songs also plus but und dann bis et puis y e og och en "
    "sorry not for with same like as into before after in"
)


def own_lines(texts: Iterable[str]) -> frozenset[int]:
    """Return the numbers that begin one line each."""
    first = [int(found[1]) for found in map(_FIRST.match, texts) if found]
    return frozenset(one for one in first if first.count(one) == 1)


def without_passing_numbers(line: ScannedLine, own: frozenset[int]) -> ScannedLine:
    """Return a song's line with nothing known of a number in passing; ``own``: see ``own_lines``."""
    begins = _FIRST.match(line.text)
    if begins is None or int(begins[1]) not in own:
        return line
    own -= {int(begins[1])}
    items = [one._replace(what=None) if _is_in_passing(line, at, own) else one for at, one in enumerate(line.items)]
    return line._replace(items=tuple(items))


def _is_in_passing(line: ScannedLine, at: int, own: frozenset[int]) -> bool:
    item, before = line.items[at], line.items[at - 1]
    if not (at and isinstance(item.what, SongsMeant) and item.what.songs and item.end == item.at + 1):
        return False
    word, word_before = line.words[item.at], line.words[item.at - 1]
    is_own = word.kind == NUMBER and word.text.isdigit() and int(word.text) in own
    is_talk = before.what is None or isinstance(before.what, TurnOfPhrase)  # not 5 Bb 6 C
    return is_own and is_talk and word_before.kind not in (SIGN, NUMBER) and word_before.low not in _LEADS
