"""Items of a line that correct what was so far: what the list says but is no more, songs that are not played now."""

from collections.abc import Sequence
from typing import Final

from companion.leader.fact_said import FactSaid
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import ReplyWord, phrase_of, phrases
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import CORRECT, FILLER, TurnSaid

_LISTED: Final = phrases("on your list | on the list | in your list | in the list | on your sheet | in your message")
_TIRED: Final = phrases("bored of | bored with | sick of | tired of | fed up of | fed up with")
_NO_MORE: Final = phrases("no more")


def corrected(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with those changed that say what is no longer so."""
    return _without_listed_keys(words, _no_longer_played(words, items))


def _without_listed_keys(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "is E on your list but it's Eb now" as a key that replaces another."""
    kept = list(items)
    for at, item in enumerate(items):
        listed = item.what
        if not isinstance(listed, KeyFact) or not phrase_of(words, item.end, _LISTED):
            continue
        for later in range(at + 1, len(items)):
            what = items[later].what
            if isinstance(what, SongsMeant) or (isinstance(what, Separator) and what.is_strong):
                break
            if isinstance(what, KeyFact):
                if any(isinstance(one.what, TurnSaid) and one.what.kind == CORRECT for one in items[at:]):
                    kept[at] = item._replace(what=TurnSaid(FILLER, item.end))
                    kept[later] = items[later]._replace(what=what._replace(denied=listed.key))
                break
    return kept


def _no_longer_played(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "no more Moth" and, with a doubt, "we're bored of Moth" as a song that is dropped."""
    kept: list[ReplyItem] = []
    skip = 0
    for item in items:
        if item.at < skip:
            continue
        more, tired = phrase_of(words, item.at, _NO_MORE), phrase_of(words, item.at, _TIRED)
        end = item.at + (more or tired)
        song = next((one.what for one in items if one.at == end), None)
        if (more or tired) and isinstance(song, SongsMeant) and song.songs and not song.is_word:
            said = " ".join(word.text for word in words[item.at : song.end])
            kept.append(ReplyItem(item.at, end, FactSaid("dropped", True, end, doubt="" if more else said)))
            skip = end
        else:
            kept.append(item)
    return kept
