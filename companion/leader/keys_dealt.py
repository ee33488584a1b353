"""As many keys in a row as songs before them: "1-2 Em, G", "16 and 17: C, Fm", "Encore A then C"."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.paired_items import WHICH_PAIRS
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import SIGN, ReplyWord, low, set_of
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import MOVED_BY, StatedFact
from companion.leader.turns_of_phrase import AS_RECORD, ASKED_FOR, FILLER, TurnOfPhrase

MAX_BETWEEN: Final = 8  # items between the songs and their keys: the third set is in the order
IN_TURN: Final = "one key for each, in that order?"
_LEADING: Final = (":", "-", "–", "=")
_SO: Final = ("so", "also", "donc", "alors", "dus", "altsa", "quindi")
_THEN: Final = set_of("then dann puis luego poi sen daarna potem -> => > → , / and und et y e")
_IN_TIME: Final = set_of("then dann puis luego poi sen daarna potem")  # a song may change its key as well
_JOINS: Final = _THEN | set_of("og och en &")


class _Group(NamedTuple):
    """The songs before a row of keys: where their items end, and whether they are surely one group."""

    songs: tuple[int, ...]
    end: int
    is_one: bool


def dealt(words: Sequence[ReplyWord], items: list[ReplyItem], names: SongNames) -> list[ReplyItem]:
    """Return a line's items with each key of a row beside its own song, where there are as many of both."""
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        group = _group(words, items, at, names)
        begins = _begin_of_keys(words, items, group.end) if group else at
        keys, end = _keys(words, items, begins) if group and begins else ([], at)
        if group and len(keys) == len(group.songs) > 1 and _ends(items, end):
            kept += _beside(items[at : group.end], items[group.end : begins], keys, group, words)
            at = end
        else:
            end = group.end if group else at + 1  # a part of the group has no keys of its own
            kept += items[at:end]
            at = end
    return kept


def _group(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int, names: SongNames) -> _Group | None:
    first = items[at].what
    if not isinstance(first, SongsMeant) or first.no_song or first.is_rest:
        return None
    if len(first.sets) == 1 and not first.songs:
        return _Group(tuple(names.in_set(first.sets[0])), at + 1, is_one=True)
    songs, end, is_one = list(first.songs), at + 1, True
    while end + 1 < len(items) and isinstance(join := items[end].what, Separator) and join.joins:
        following = items[end + 1].what
        if not isinstance(following, SongsMeant) or following.no_song or following.is_rest or following.sets:
            break
        is_one = is_one and low(words, items[end].at) != ","
        songs += following.songs
        end += 2
    is_one = is_one or (end > at + 1 and low(words, items[end - 2].at) in ("and", "und", "et", "y", "e", "og", "och"))
    return _Group(tuple(songs), end, is_one) if songs else None


def _begin_of_keys(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> int:
    """Return the place of the key that comes next, with only small words between; 0 if something else does."""
    for place in range(at, min(at + MAX_BETWEEN, len(items))):
        what = items[place].what
        if isinstance(what, KeyFact):
            return place
        is_small = isinstance(what, TurnOfPhrase) and what.kind in (FILLER, ASKED_FOR)
        is_sign = all(words[one].kind == SIGN for one in range(items[place].at, items[place].end))
        is_order = what is None and low(words, items[place].at) == "order"
        is_moved = isinstance(what, StatedFact) and what.field == MOVED_BY  # down a tone, so Gm and Cm
        is_so = isinstance(what, Separator) and low(words, items[place].at) in _SO
        if isinstance(what, Separator) and (what.is_strong or not (is_so or low(words, items[place].at) in _LEADING)):
            return 0
        if not (is_small or is_sign or is_order or is_moved or is_so):
            return 0
    return 0


def _keys(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> tuple[list[ReplyItem], int]:
    """Return the keys of a row, each with its words, and where the row ends."""
    found: list[ReplyItem] = []
    while at < len(items) and isinstance(key := items[at].what, KeyFact) and not key.denied:
        found += _two(words, items[at], key)
        while at + 1 < len(items) and _is_of_key(items[at + 1]):
            at += 1
        follows = at + 1
        while follows < len(items) and _joins(words, items[follows]):
            follows += 1
        if follows >= len(items) or not isinstance(items[follows].what, KeyFact):
            return found, at + 1
        at = follows
    return [], at


def _is_of_key(item: ReplyItem) -> bool:
    """Return whether words say of a key that it is as before: Dm as on the record, then D; Bm as you've got."""
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in (AS_RECORD, FILLER) and item.end > item.at + 1


def _joins(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    is_strong = isinstance(item.what, Separator) and item.what.is_strong
    if isinstance(item.what, KeyFact) and words[item.at].text.isupper():
        return False  # the key E, and no "and" of Italian
    return not is_strong and all(words[at].low in _JOINS for at in range(item.at, item.end))


def _two(words: Sequence[ReplyWord], item: ReplyItem, key: KeyFact) -> list[ReplyItem]:
    """Return a key, or the two of "A then C"."""
    cut = next((at for at in range(item.at + 1, item.end - 1) if words[at].low in _THEN), 0)
    if not (key.then and key.second and cut):
        return [item]
    later = next(at for at in range(cut, item.end) if words[at].low not in _THEN or at == item.end - 1)
    plain = key._replace(then="", second="", doubt="")
    return [ReplyItem(item.at, cut, plain), ReplyItem(later, item.end, plain._replace(key=key.second))]


def _ends(items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether a row of keys ends here: nothing says more about its last key, or about all of them."""
    what = items[at].what if at < len(items) else Separator(is_strong=True)
    return isinstance(what, Separator | SongsMeant)


def _said_between(item: ReplyItem) -> ReplyItem:
    """Return what stands between songs and their keys; by how much these moved is said by the keys."""
    is_moved = isinstance(item.what, StatedFact)
    return item._replace(what=TurnOfPhrase(FILLER, item.end)) if item.what is None or is_moved else item


def _beside(
    group: Sequence[ReplyItem],
    between: Sequence[ReplyItem],
    keys: Sequence[ReplyItem],
    meant: _Group,
    words: Sequence[ReplyWord],
) -> list[ReplyItem]:
    """Return the first song with its key, and each other song without words of its own right before its key."""
    whose = group[0].what.doubt if isinstance(group[0].what, SongsMeant) else ""
    first = SongsMeant(meant.songs[:1], group[0].at, group[-1].end, whose)
    kept = [ReplyItem(group[0].at, group[-1].end, first)]
    kept += [_said_between(one) for one in between]
    between_keys = (words[at].low for one, other in pairwise(keys) for at in range(one.end, other.at))
    is_sure = meant.is_one and not _IN_TIME.intersection(between_keys)
    is_sure = is_sure or any(isinstance(one.what, SongsMeant) and one.what.sets for one in group)
    for at, (song, key) in enumerate(zip(meant.songs, keys, strict=True)):
        if at:
            kept.append(ReplyItem(key.at, key.at, Separator(is_strong=False)))
            kept.append(ReplyItem(key.at, key.at, SongsMeant((song,), key.at, key.at, whose)))
        fact = key.what
        if isinstance(fact, KeyFact):
            own = "" if fact.doubt == WHICH_PAIRS else fact.doubt
            kept.append(key._replace(what=fact._replace(doubt=own or ("" if is_sure else IN_TURN), firm=True)))
    return kept
