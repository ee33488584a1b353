"""Segues that name the song that follows: straight into 6, 13 into 14 into 15."""

from collections.abc import Sequence
from typing import Final

from companion.leader.ending_words import INTO_NAMED
from companion.leader.hour_words import folded_phrases
from companion.leader.reply_items import ReplyItem, Separator
from companion.leader.reply_words import ReplyWord, low, phrase_of, phrases, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import TurnOfPhrase

_RELATIVE: Final = set_of("which that that's thats welche welcher welches die der das qui que wat som den")
_OUT_OF: Final = phrases(
    "goes straight out of | comes straight out of | straight out of | comes out of | goes straight on from | "
    "follows straight on from | follows on from | follows straight from | straight on from | comes straight from | "
    "runs straight on from | straight after | comes straight after | follows straight after | goes straight after | "
    "follows directly on from | segues from | segues out of | segue from | segue out of | runs on from | "
    "runs straight out of | directly out of | right out of | comes right out of"
)


# Behind a segue, these say the same again: 5 into 6 into 7 without stopping.
_UNBROKEN: Final = folded_phrases(
    "without stopping | without a stop | without pause | without a pause | without any pause | without a break | "
    "without a gap | with no gap | with no break | no gap | no break | no stopping | non stop | nonstop | ohne pause | "
    "ohne unterbrechung | ohne stopp | sans pause | sans arrêt | sans s'arrêter | sin parar | sin pausa | "
    "senza pausa | senza fermarsi | senza fermarci | sem parar | sem pausa | zonder pauze | zonder stop | utan paus | "
    "utan stopp | uden pause | uten pause | bez przerwy | bez pauzy"
)


def unbroken_again(words: Sequence[ReplyWord], at: int, items: Sequence[ReplyItem]) -> int:
    """Return the end of "without stopping" behind the song that another one goes into; 0 elsewhere."""
    said = [item for item in items if not isinstance(item.what, Separator)]
    many = phrase_of(words, at, _UNBROKEN)
    fact = said[-2].what if len(said) > 1 and isinstance(said[-1].what, SongsMeant) else None
    is_into = isinstance(fact, StatedFact) and fact.field == "into"
    return at + many if many and is_into else 0


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
                doubt = fact.doubt or item.what.doubt
                kept[-1] = ReplyItem(
                    before.at, item.end, fact._replace(value=item.what.songs[0], end=item.end, doubt=doubt)
                )
                continue
            kept[-1] = before._replace(what=None)
        kept.append(item)
    return kept


def with_relatives(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Assign what follows a relative pronoun to the song that a segue leads to: straight into 6, which is in G."""
    kept: list[ReplyItem] = []
    for item in items:
        is_parted = bool(kept) and isinstance(kept[-1].what, Separator) and kept[-1].what.joins
        before = kept[-1 - is_parted] if len(kept) > is_parted else None
        song = _into(before) if before else None
        if song is not None and _is_relative(words, item.at) and isinstance(item.what, TurnOfPhrase):
            kept[len(kept) - is_parted :] = [ReplyItem(item.at, item.at, Separator(is_strong=False))]
            kept.append(item._replace(what=SongsMeant((song,), item.at, item.end)))
            continue
        kept.append(item)
    return kept


def _is_relative(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a relative pronoun is here; "and that's it" ends the message."""
    return low(words, at) in _RELATIVE and low(words, at + 1) not in ("it", "all", "that", "us", "everything")


def out_of_named(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> list[ReplyItem]:
    """Read a segue that names the song before: 8 in D, comes straight out of 7."""
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        item = items[at]
        end = item.at + phrase_of(words, item.at, _OUT_OF)
        named = (
            next((place for place in range(at, len(items)) if items[place].at == end), None) if end > item.at else None
        )
        song = next((one.what.songs for one in reversed(kept) if isinstance(one.what, SongsMeant)), ())
        what = items[named].what if named is not None else None
        if named is None or len(song) != 1 or not isinstance(what, SongsMeant) or len(what.songs) != 1:
            kept.append(item)
            at += 1
            continue
        before, ends = item.at + 1, items[named].end
        kept += [
            ReplyItem(item.at, item.at, Separator(is_strong=False)),
            ReplyItem(item.at, before, what),
            ReplyItem(before, ends, StatedFact("into", song[0], ends)),
        ]
        at = named + 1
    return kept


def _into(item: ReplyItem) -> int | None:
    """Return the song that a segue leads to."""
    what = item.what
    is_into = isinstance(what, StatedFact) and what.field == "into" and what.value != INTO_NAMED
    return int(what.value) if is_into and isinstance(what, StatedFact) else None
