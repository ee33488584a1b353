"""Most of the songs, which are the rest once the odd ones are named: mostly cold, cold except 3, die meisten."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import ReplyWord, phrase_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import ALL_OF_THEM, EXCEPT, FILLER, REST, TurnOfPhrase

NOT_ALL: Final = "said of most songs, and no other is named"
_OF_MOST: Final = ("starts_with", "ending", "chart")  # what the message asks of all songs at once
MOST: Final = folded_phrases(
    "most | most of them | most of these | most of the songs | most songs | mostly | mainly | the majority | "
    "for the most part | nearly all | nearly all of them | almost all | almost all of them | nearly everything | "
    "almost everything | die meisten | meistens | meist | die mehrzahl | fast alle | fast alles | größtenteils | "
    "la plupart | presque tous | presque toutes | presque tout | la mayoría | casi todas | casi todos | casi todo | "
    "la maggior parte | quasi tutte | quasi tutti | quasi tutto | a maioria | quase todas | quase todos | "
    "quase tudo | de meeste | meestal | bijna allemaal | bijna alles | bijna alle | de flesta | nästan alla | "
    "nästan allt | mest | de fleste | næsten alle | nesten alle | większość | prawie wszystkie | většina | "
    "skoro všechny | useimmat | melkein kaikki | a legtöbb | majdnem mind | većina | gotovo sve | večina | skoraj vse"
)


def most_meant(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with "most" as the rest of the songs, in a clause that names none and states a fact."""
    kept: list[ReplyItem] = []
    clause: list[ReplyItem] = []
    for item in items:
        if isinstance(item.what, Separator):
            kept += [*_clause(words, clause), item]
            clause = []
        else:
            clause.append(item)
    return _all_but(words, [*kept, *_clause(words, clause)])


def _all_but(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return the items with all songs before a fact that begins the line and has exceptions: cold except 3 and 4."""
    told = [one for one in items if isinstance(one.what, StatedFact | SongsMeant | KeyFact) or _leaves_out(one)]
    first, second = (*told[:2], None, None)[:2]
    before = [one for one in items if first is not None and one.at < first.at]
    is_plain = all(isinstance(one.what, TurnOfPhrase) and one.what.kind == FILLER for one in before)
    if first is None or second is None or not is_plain or not _is_except(second):
        return items
    if any(words[one.at].low in ALL_OF_THEM | {"all", "alle", "everyone"} for one in before):
        return items  # all end cold except 3, which is read so anyway
    after = next((one.what for one in items if one.at >= second.end), None)
    names_songs = isinstance(after, SongsMeant) and bool(after.songs)
    if not names_songs or not isinstance(first.what, StatedFact) or first.what.field not in _OF_MOST:
        return items
    between = [one.what for one in items if first.at < one.at < second.at]
    if any(isinstance(one, Separator) and one.is_strong for one in between) or None in between:
        return items
    rest = ReplyItem(first.at, first.at, TurnOfPhrase(REST, first.at))
    kept = [one for one in items if not (first.at < one.at < second.at and isinstance(one.what, Separator))]
    at = kept.index(first)
    return [*kept[:at], rest, *kept[at:]]


def _leaves_out(item: ReplyItem) -> bool:
    """Return whether an item says "the rest", "all" or "except"."""
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in (EXCEPT, REST)


def _is_except(item: ReplyItem) -> bool:
    return isinstance(item.what, TurnOfPhrase) and item.what.kind == EXCEPT


def _clause(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    states = any(isinstance(one.what, StatedFact) and one.what.field in _OF_MOST for one in items)
    ends = next((at for at, one in enumerate(items) if _is_except(one)), len(items))
    if not states or any(isinstance(one.what, SongsMeant) for one in items[:ends]):
        return list(items)
    kept: list[ReplyItem] = []
    for item in items:
        many = phrase_of(words, item.at, MOST) if not isinstance(item.what, StatedFact) else 0
        if many and item.at + many >= item.end:
            kept.append(ReplyItem(item.at, item.at + many, TurnOfPhrase(REST, item.at + many, NOT_ALL)))
        elif not kept or item.at >= kept[-1].end:
            kept.append(item)
    return kept
