"""All, the rest, and all but some: songs that are meant by what they are not."""

from collections.abc import Sequence
from typing import Final

from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import ReplyWord, low, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import (
    ALL_OF_THEM,
    AS_RECORD,
    COLOUR,
    EXCEPT,
    FILLER,
    REST,
    UNKNOWN_TO_LEADER,
    TurnOfPhrase,
)

PARTS: Final = set_of("intro verse verses chorus choruses bridge solo outro coda middle8 refrain")
OF_PLAYERS: Final = "everyone may be the players"
OF_SONG: Final = "it may be the rest of that song"
ONLY_THOSE: Final = "only the songs that were named before, or all?"


def with_rests(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Turn "the rest", and "all" before a fact, into songs; those after "except" are left out of them.

    The songs of a rest are those that it leaves out.
    """
    kept: list[ReplyItem] = []
    last: int | None = None
    left_out: SongsMeant | None = None
    for at, item in enumerate(items):
        is_rest = isinstance(item.what, TurnOfPhrase) and item.what.kind == REST
        if is_rest or _is_all(words, items, at) or _is_all_but(words, items, at):
            last = len(kept)
            doubt = item.what.says if isinstance(item.what, TurnOfPhrase) and is_rest else ""
            doubt = OF_SONG if is_rest and any(word.low in PARTS for word in words) else doubt
            doubt = doubt or (OF_PLAYERS if low(words, item.at) == "everyone" and not is_rest else "")
            meant = _named_before(words, item, kept)
            kept.append(item._replace(what=meant or SongsMeant((), item.at, item.end, doubt, is_rest=True)))
            last = last if meant is None or meant.sets else None
        elif isinstance(item.what, TurnOfPhrase) and item.what.kind == EXCEPT:
            named = next((one for one in items[at + 1 :] if not is_between(one)), item)
            songs = named.what if isinstance(named.what, SongsMeant) else None
            if (
                last is None
                and songs is not None
                and songs.songs
                and not _states_nothing(items[:at])
                and _leaves_out(kept, songs)
            ):
                kept.append(item._replace(what=Separator(is_strong=False)))
                continue
            if last is not None and (songs is None or not songs.songs):
                said = " ".join(word.text for word in words[item.at : named.end])
                kept = [_left_out_somewhere(one, kept[last].what, said) for one in kept]
            if last is None or songs is None or not songs.songs:
                opens = at == 0 and songs is not None and bool(songs.songs) and _states_key(items)  # Except 4, Eb
                kept.append(item._replace(what=TurnOfPhrase(FILLER, item.end) if opens else None))
                continue
            rest = kept[last].what
            assert isinstance(rest, SongsMeant)  # noqa: S101  the rest that was kept
            for place, one in enumerate(kept):
                if place == last or (rest.sets and isinstance(one.what, SongsMeant) and _is_same_rest(one.what, rest)):
                    kept[place] = one._replace(
                        what=rest._replace(
                            at=one.at, end=one.end, songs=(*rest.songs, *songs.songs), doubt=rest.doubt or songs.doubt
                        )
                    )
            is_last = items[-1] is named  # everything fades except 4
            # Words that nothing explains, between the rest and "except", may be what the rest does.
            is_clear = all(one.what is not None for one in items[_place(items, rest.at) + 1 : at])
            begins = at > 0 and _is_strong(items[at - 1])  # it's all in E. Except 4 which is A
            if is_last or (is_clear and not begins and _states_nothing(items[:at])):  # everything except 4 fades
                kept.append(item._replace(what=TurnOfPhrase(FILLER, item.end)))
                left_out = songs
            else:
                kept.append(item._replace(what=Separator(is_strong=False)))
        elif left_out is not None and item.what is left_out:
            kept.append(item._replace(what=TurnOfPhrase(FILLER, item.end)))
        else:
            kept.append(item)
    return kept


def _named_before(words: Sequence[ReplyWord], item: ReplyItem, before: Sequence[ReplyItem]) -> SongsMeant | None:
    """Return the set, or the songs, that "them all" points back to: "the first set has a click, click starts them all".

    In the sentence before, they are in doubt.
    """
    said = [low(words, at) for at in range(item.at, item.end)]
    if not _POINTING.intersection(said) or not _OF_ALL.intersection(said) or _OF_OTHERS.intersection(said):
        return None
    doubt = ""
    for one in reversed(before):
        meant = one.what
        if (
            isinstance(meant, SongsMeant)
            and (meant.sets or len(meant.songs) > 1)
            and not (meant.is_rest and not meant.sets)
        ):
            return meant._replace(
                at=item.at, end=item.end, doubt=meant.doubt or doubt, is_rest=meant.is_rest or bool(meant.sets)
            )
        if isinstance(meant, SongsMeant):
            return None
        doubt = doubt or (ONLY_THOSE if _is_strong(one) else "")
    return None


def _left_out_somewhere(item: ReplyItem, rest: object, said: str) -> ReplyItem:
    """Doubt a rest of which words that name no song leave something out: "all in E except the new one"."""
    meant = item.what
    if not (isinstance(meant, SongsMeant) and isinstance(rest, SongsMeant)):
        return item
    if meant is rest or (rest.sets and _is_same_rest(meant, rest)):
        return item._replace(what=meant._replace(doubt=meant.doubt or said))
    return item


def _states_key(items: Sequence[ReplyItem]) -> bool:
    return any(isinstance(one.what, KeyFact) for one in items)


def _is_same_rest(one: SongsMeant, other: SongsMeant) -> bool:
    return one.is_rest and one.sets == other.sets and one.songs == other.songs


_POINTING: Final = set_of("them these those")
_OF_ALL: Final = set_of("all any every each")
_OF_OTHERS: Final = set_of("rest other others")


def _place(items: Sequence[ReplyItem], at: int) -> int:
    """Return the place of the item that begins at a word, or -1."""
    return next((place for place, one in enumerate(items) if one.at == at), -1)


def _leaves_out(kept: list[ReplyItem], songs: SongsMeant) -> bool:
    """Leave songs out of those that were named last: "odds in E except 11 (C#m)", "all of set 1 in D bar Moth (Bm)"."""
    at = next((at for at in range(len(kept) - 1, -1, -1) if isinstance(kept[at].what, SongsMeant)), None)
    many = kept[at].what if at is not None else None
    if at is None or not isinstance(many, SongsMeant) or any(_is_strong(one) for one in kept[at:]):
        return False
    if len(many.songs) > len(songs.songs) and set(songs.songs) <= set(many.songs):
        some = tuple(song for song in many.songs if song not in songs.songs)
        kept[at] = kept[at]._replace(what=many._replace(songs=some, doubt=many.doubt or songs.doubt))
        return True
    if many.sets and not many.songs:
        kept[at] = kept[at]._replace(what=many._replace(songs=songs.songs, is_rest=True))
        return True
    return False


def _is_strong(item: ReplyItem) -> bool:
    return isinstance(item.what, Separator) and item.what.is_strong


def _is_comma(item: ReplyItem) -> bool:
    return isinstance(item.what, Separator) and not item.what.is_strong


def _is_all_but(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether an item is the "all" of "I start all except 3"."""
    after = items[at + 1].what if at + 1 < len(items) else None
    return low(words, items[at].at) in ("all", "alle") and isinstance(after, TurnOfPhrase) and after.kind == EXCEPT


def _states_nothing(items: Sequence[ReplyItem]) -> bool:
    """Return whether the sentence that ends here states no fact yet."""
    for item in reversed(items):
        if isinstance(item.what, Separator) and item.what.is_strong:
            break
        if isinstance(item.what, StatedFact | KeyFact):
            return False
        if isinstance(item.what, TurnOfPhrase) and item.what.kind in (AS_RECORD, UNKNOWN_TO_LEADER):
            return False
    return True


def _is_all(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether an item is the "all" of "all cold", and not of "1-4 all in E" or "all start"."""
    item = items[at]
    if item.end != item.at + 1 or low(words, item.at) not in ALL_OF_THEM | {"all", "alle", "everyone"}:
        return False
    after = next((one.what for one in items[at + 1 :] if not is_between(one)), None)
    begins = next((place + 1 for place in range(at - 1, -1, -1) if _is_strong(items[place])), 0)
    before = [one.what for one in items[begins:at] if not is_between(one)]
    part = next((place + 1 for place in range(at - 1, -1, -1) if _is_comma(items[place])), 0)
    is_apart = part > begins and not any(isinstance(one, SongsMeant | StatedFact | KeyFact) for one in before)
    if is_apart:  # it's the blues, it's all in E
        before = [one.what for one in items[part:at] if not is_between(one)]
    is_as_record = isinstance(after, TurnOfPhrase) and after.kind == AS_RECORD and after.says == "the record"
    return not before and (isinstance(after, StatedFact | KeyFact) or is_as_record)


def is_between(item: ReplyItem) -> bool:
    """Return whether an item joins others or means nothing."""
    if isinstance(item.what, TurnOfPhrase):
        return item.what.kind in (FILLER, COLOUR)
    return isinstance(item.what, Separator) and item.what.joins
