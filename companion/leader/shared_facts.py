"""Facts that several songs of a sentence share: "I start 1, 2 and 5 on guitar", "9 same as 10, both D"."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.players import PLAYERS, THE_LEADER
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_readings import Claim, ReplyReading
from companion.leader.reply_words import ReplyWord, low, phrase_of, set_of
from companion.leader.rests_meant import is_between
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import KEY_OF, StatedFact
from companion.leader.turns_of_phrase import BOTH, FILLER, TurnOfPhrase


def on_instrument(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Put the instrument after who starts the songs of a list on it: I start 1, 2 and 5 on guitar."""
    kept = list(items)
    for at, item in enumerate(items):
        played = item.what
        if at < 2 or low(words, items[at - 1].at) != "on":
            continue
        back = at - 2
        while back > 0 and (isinstance(items[back].what, SongsMeant) or is_between(items[back])):
            back -= 1
        starts = items[back].what
        names_songs = any(isinstance(one.what, SongsMeant) for one in items[back:at])
        is_player = isinstance(starts, StatedFact) and (starts.value in _BY_WHOM or starts.value not in _INSTRUMENTS)
        if _starts(played) and _starts(starts) and names_songs and is_player:  # not: 1 starts on piano, 3 on guitar
            assert isinstance(starts, StatedFact)  # noqa: S101  what _starts says
            assert isinstance(played, StatedFact)  # noqa: S101  same
            kept[back] = items[back]._replace(what=starts._replace(value=f"{starts.value} on {played.value}"))
            kept[at] = item._replace(what=TurnOfPhrase(FILLER, item.end))
    return kept


_BY_WHOM: Final = (THE_LEADER, "keys", "all", "nobody")
_INSTRUMENTS: Final = frozenset(PLAYERS.values())


def _starts(what: object) -> bool:
    return isinstance(what, StatedFact) and what.field == "starts_with"


_ADDED: Final = set_of("and also plus und et och og y")
_SURE_OF_MORE: Final = ("starts_with", "chart", "dropped", "ending")


def added_songs(line: ScannedLine, before: Sequence[Claim]) -> list[ReplyReading]:
    """Read a line that only adds songs to the fact of the line above it: "I start 2 and 5" and below it "oh and 14".

    ``before``: the facts of the line above; several of them are not shared, and a key is in doubt.
    """
    songs = [one.what for one in line.items if isinstance(one.what, SongsMeant)]
    others = [one for one in line.items if not isinstance(one.what, SongsMeant) and not is_between(one)]
    first = min((one.at for one in songs), default=0)
    adds = any(one.low in _ADDED for one in line.words[:first])
    facts = {one.fact for one in before}
    if not songs or others or not adds or len(facts) != 1 or any(not one.songs or one.sets for one in songs):
        return []
    last = before[-1]
    if last.about.is_rest or last.about.sets:
        return []
    is_sure = isinstance(last.fact, StatedFact) and last.fact.field in _SURE_OF_MORE
    doubt = last.doubt or ("" if is_sure else line.text)
    return [last._replace(about=one, words=line.text, doubt=doubt or one.doubt) for one in songs]


def all_of_sentence(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "both" before a fact as the two songs that its sentence names: 9 same as 10, both D; 1 into 2, both G.

    "all" is so read where the sentence names a song only as the next one: 1 into 2, 3 into 4, all in G.
    """
    kept = list(items)
    for at, item in enumerate(items[:-1]):
        is_said = isinstance(item.what, TurnOfPhrase)
        is_both, is_all = (is_said and phrase_of(words, item.at, one) == item.end - item.at for one in (BOTH, _ALL))
        if not (is_both or is_all):
            continue
        after = next((one.what for one in items[at + 1 :] if not is_between(one)), None)
        named = [one for one in _of_sentence(items[:at]) if _songs(one)]
        songs = {song for one in named for song in _songs(one)}
        is_of_songs = isinstance(after, StatedFact) and after.field in _SURE_OF_MORE
        by_next = any(_is_into(one) for one in named)
        is_of_these = by_next if is_all else (len(songs) == 2 and (by_next or len(named) == 2))
        if (isinstance(after, KeyFact) or is_of_songs) and is_of_these:
            if any(_is_key_of(one) for one in named):  # 9 same as 10
                first = min(one.at for one in named)
                kept = [
                    one._replace(what=TurnOfPhrase(FILLER, one.end)) if first <= one.at < item.at else one
                    for one in kept
                ]
            kept[at] = item._replace(what=SongsMeant(tuple(sorted(songs)), item.at, item.end))
    return kept


_ALL: Final = folded_phrases("all | all of them | all of these | all three | all four | alle | tous | toutes | tutte")


def _of_sentence(items: Sequence[ReplyItem]) -> Iterator[ReplyItem]:
    """Yield the items back to the last separator of sentences; of the sentence before if this one has none yet."""
    is_begun = False
    for item in reversed(items):
        if isinstance(item.what, Separator) and item.what.is_strong:
            if is_begun:
                return
            continue
        is_begun = True
        yield item


def _songs(item: ReplyItem) -> tuple[int, ...]:
    """Return the songs that an item names, also as the next one or by their key."""
    if isinstance(item.what, StatedFact):
        is_next = _is_into(item) or _is_key_of(item)
        return (int(item.what.value),) if is_next and int(item.what.value) >= 0 else ()
    return item.what.songs if isinstance(item.what, SongsMeant) else ()


def _is_into(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact) and item.what.field == "into"


def _is_key_of(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact) and item.what.field == KEY_OF
