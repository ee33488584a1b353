"""Segues that name the song that follows: straight into 6, 13 into 14 into 15."""

from companion.leader.ending_words import INTO_NAMED
from companion.leader.reply_items import ReplyItem, Separator
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact


def into_named(items: list[ReplyItem]) -> list[ReplyItem]:
    """Put the song into the segue that names it: straight into 6."""
    kept: list[ReplyItem] = []
    for item in items:
        before = kept[-1] if kept else None
        fact = before.what if before else None
        if before and isinstance(fact, StatedFact) and fact.value == INTO_NAMED and fact.field == "into":
            if isinstance(item.what, SongsMeant) and len(item.what.songs) == 1:
                if len(kept) > 1 and (first := _into(kept[-2])) is not None:  # 13 into 14 into 15
                    kept[-1:-1] = [
                        ReplyItem(before.at, before.at, Separator(is_strong=False)),
                        ReplyItem(before.at, before.at, SongsMeant((first,), before.at, before.at)),
                    ]
                kept[-1] = ReplyItem(before.at, item.end, fact._replace(value=item.what.songs[0], end=item.end))
                continue
            kept[-1] = before._replace(what=None)
        kept.append(item)
    return kept


def _into(item: ReplyItem) -> int | None:
    """Return the song that a segue leads to."""
    what = item.what
    is_into = isinstance(what, StatedFact) and what.field == "into" and what.value != INTO_NAMED
    return int(what.value) if is_into and isinstance(what, StatedFact) else None
