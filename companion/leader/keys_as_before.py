"""Keys of which a reply also says that they are as before, or as the message has them: "2 G, as you have it"."""

from collections.abc import Iterator, Sequence

from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import AS_RECORD, FILLER, LAST, THE_LIST, TurnOfPhrase


def keys_as_before(items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Take "as before" for words that mean nothing beside a key, which says it all."""
    return [
        one._replace(what=TurnOfPhrase(FILLER, one.end)) if _is_as_before(one) and _has_key(items, at) else one
        for at, one in enumerate(items)
    ]


def _is_as_before(item: ReplyItem) -> bool:
    what = item.what
    return isinstance(what, TurnOfPhrase) and what.kind == AS_RECORD and what.says in (LAST, THE_LIST)


def _has_key(items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether a key stands in the same clause: before the next song, or after the last one."""
    return any(isinstance(one.what, KeyFact) for one in (*_near(items[at + 1 :]), *_near(reversed(items[:at]))))


def _near(items: Sequence[ReplyItem] | Iterator[ReplyItem]) -> Iterator[ReplyItem]:
    for one in items:
        if isinstance(one.what, SongsMeant) or (isinstance(one.what, Separator) and one.what.is_strong):
            return
        yield one
