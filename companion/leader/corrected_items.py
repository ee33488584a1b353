"""Items of a line that correct what was so far: what the list says but is no more, songs that are not played now."""

from collections.abc import Sequence
from typing import Final

from companion.leader.fact_said import FactSaid
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import NUMBER, ReplyWord, low, phrase_of, phrases
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import ASKED_FOR, CORRECT, FILLER, TurnSaid

_LISTED: Final = phrases("on your list | on the list | in your list | in the list | on your sheet | in your message")
_TIRED: Final = phrases("bored of | bored with | sick of | tired of | fed up of | fed up with")
_NO_MORE: Final = phrases("no more")


def corrected(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with those changed that say what is no longer so."""
    return _tempos(words, _asking_keys(words, _without_listed_keys(words, _no_longer_played(words, items))))


def _asking_keys(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read the "keys" of "here are your keys 1 C 2 F" as what the numbers are about, and not as who starts."""
    kept = list(items)
    for at, item in enumerate(items[:-2]):
        is_keys = isinstance(item.what, FactSaid) and item.end == item.at + 1 and low(words, item.at) == "keys"
        follow = [one.what for one in items[at + 1 :] if not _means_nothing(one)][:2]
        is_list = len(follow) == 2 and isinstance(follow[0], SongsMeant) and isinstance(follow[1], KeyFact)
        if is_keys and is_list and low(words, item.at - 1) in ("your", "ur", "the", "our", "are"):
            kept[at] = item._replace(what=TurnSaid(ASKED_FOR, item.end, "key"))
    return kept


def _tempos(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read a number that is no song's, behind a song or its key, as a tempo, with a doubt: "Moth: 112", "1 F 104"."""
    kept: list[ReplyItem] = []
    for at, item in enumerate(items):
        kept.append(item)
        number = words[item.at]
        may_be = isinstance(item.what, SongsMeant) and bool(item.what.no_song) and item.end == item.at + 1
        if not may_be or number.kind != NUMBER or number.is_ordinal or int(number.text) not in TEMPOS:
            continue
        before = next((one.what for one in reversed(items[:at]) if not _means_nothing(one)), None)
        follow = [one.what for one in items[at + 1 :] if not _means_nothing(one)]
        if isinstance(before, SongsMeant):  # 1 99 and 2 are in G
            follow = [one for one in follow if not (isinstance(one, Separator) and one.joins)]
        after = follow[0] if follow else None
        is_of_song = isinstance(before, KeyFact) or (isinstance(before, SongsMeant) and len(before.songs) == 1)
        if is_of_song and not isinstance(after, SongsMeant):
            kept[-1] = item._replace(what=FactSaid("tempo", number.text, item.end, firm=False, doubt=MAY_BE_TEMPO))
    return kept


TEMPOS: Final = range(50, 221)  # beats per minute of popular songs (common practice, no source)
MAY_BE_TEMPO: Final = "that number may be a tempo"


def _means_nothing(item: ReplyItem) -> bool:
    return isinstance(item.what, TurnSaid) and item.what.kind == FILLER


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
