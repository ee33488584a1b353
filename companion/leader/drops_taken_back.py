"""Songs that a line drops and takes back again at once: "skip - or rather play it, one verse"."""

from collections.abc import Sequence

from companion.leader.reply_items import ReplyItem
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import CORRECT, TurnOfPhrase


def taken_back(items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Return the items of a line without each drop that the words behind it take back, before any other song."""
    kept = list(items)
    last: int | None = None
    for at, item in enumerate(items):
        fact = item.what
        if isinstance(fact, SongsMeant):
            last = None
        elif isinstance(fact, StatedFact) and fact.field == "dropped":
            if not fact.value and last is not None:
                kept[last] = items[last]._replace(what=TurnOfPhrase(CORRECT, items[last].end))
            last = at if fact.value else None
    return kept
