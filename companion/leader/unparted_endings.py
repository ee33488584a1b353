"""Endings in the leader's own words, with the next song behind them: five ends on a vamp six is in C."""

from typing import Final

from companion.leader.fact_words import fact_at
from companion.leader.hour_words import folded_words
from companion.leader.key_turns import KeyIn, key_change, tells_change
from companion.leader.reply_words import SIGN, ReplyWord, counted, low
from companion.leader.songs_meant import SongNames
from companion.leader.stated_fact import StatedFact

LEAST_SAID: Final = 3  # words of an ending, such as: ends on a


def fact_before_song(words: list[ReplyWord], at: int, names: SongNames, key_in: KeyIn) -> StatedFact | None:
    """Return the fact at a word; an ending in own words ends where a song is named with its key.

    Another key later in the song is a fact too.

    ``key_in`` reads a key from a place of words: its name, and where its words end.
    """
    change = key_change(words, at, key_in)
    if change is not None and not any(
        tells_change(words[one]) and names.titled(words, one, haste=False) for one in range(at, change.end)
    ):
        return change
    if _keeps(words, at, names):
        return StatedFact("dropped", False, at + 1)
    fact = fact_at(words, at)
    if fact is None or fact.field != "ending" or not fact.doubt:
        return fact
    stop = next((one for one in range(at + LEAST_SAID, fact.end) if _has_key(words, one, names, key_in)), 0)
    return fact_at(words[:stop], at) if stop else fact


def _keeps(words: list[ReplyWord], at: int, names: SongNames) -> bool:
    """Return whether a song is played after all: "keep 4 actually, Gm", "leave 4 in"; not "keep 4 short"."""
    begin = at + 1 + (low(words, at + 1) in _ARTICLES)
    is_left = words[at].low in _LEAVES
    if not (is_left or words[at].low in _KEEPS) or begin >= len(words):
        return False
    title, number = names.titled(words, begin, haste=False), counted(words, begin)
    end = title.end if title and title.songs else begin + number[1] if number else 0
    if is_left:
        behind = end + (low(words, end) in ("back", "doch", "toch"))
        is_back = end > 0 and low(words, behind) in _INSIDE
        end, is_key = behind + is_back, low(words, behind) == "in"
        return is_back and (end >= len(words) or words[end].kind == SIGN or not is_key)
    return end > 0 and (end >= len(words) or words[end].kind == SIGN or words[end].low in _AFTER_KEPT)


_KEEPS: Final = folded_words(
    "keep keeping behalten gardons garde mantenemos dejamos teniamo lasciamo houden behouden behåller beholder "
    "beholdt mantemos zostawiamy necháme"
)
_LEAVES: Final = folded_words("leave leaving put lass lasst lassen laat laten")
_INSIDE: Final = folded_words("in drin erin")
_ARTICLES: Final = folded_words("the la le el il lo de den det die das o a nummer number numero nr no")
_AFTER_KEPT: Final = folded_words("actually after though then please in doch quand finalement al toch ändå alligevel")


def _has_key(words: list[ReplyWord], at: int, names: SongNames, key_in: KeyIn) -> bool:
    """Return whether a song is named here, with "in" and a key behind it."""
    title, number = names.titled(words, at, haste=False), counted(words, at)
    end = title.end if title else at + number[1] if number else 0
    end += low(words, end) in ("is", "goes")
    return end > at and low(words, end) == "in" and key_in(words, end + 1) is not None
