"""Combine items of a line that belong together: numbers with titles, lists, all but some, segues with their song."""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from companion.leader.corrected_items import may_be_tempo
from companion.leader.most_meant import most_meant
from companion.leader.numbers_meant import NOT_BEFORE_ONE
from companion.leader.reply_items import KeyFact, ReplyItem, Separator, names_songs
from companion.leader.reply_words import NUMBER, ReplyWord, low, set_of
from companion.leader.rests_meant import is_between, with_rests
from companion.leader.segues_named import into_named, out_of_named, with_relatives
from companion.leader.shared_facts import all_of_sentence, on_instrument
from companion.leader.songs_meant import SongNames, SongsMeant, joined
from companion.leader.starting_words import START_VERBS
from companion.leader.stated_fact import KEY_OF, StatedFact
from companion.leader.turns_of_phrase import (
    COLOUR,
    DITTO,
    DROPPERS,
    EXCEPT,
    FILLER,
    NOT,
    REST,
    TurnOfPhrase,
)


def combined(words: Sequence[ReplyWord], items: list[ReplyItem], names: SongNames) -> list[ReplyItem]:
    """Return a line's items with those combined that belong together."""
    items = _title_ranges(words, items)
    led = into_named(out_of_named(words, _dropped_by_name(words, _confirmed(words, items))))
    said = _same_as(words, with_relatives(words, led))
    named = all_of_sentence(words, _joined_lists(_named_twice(words, on_instrument(words, said), names)))
    shared = _in_turn(words, _in_turn(words, named, names, _is_key), names, _starts)
    return with_rests(words, most_meant(words, _last_of_list(words, shared)))


def _title_ranges(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Join two titles into all songs from one to the other: from Moth to Postbox Tango."""
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        item, to, last, *_ = (*items[at : at + 3], None, None)
        first_song, last_song = _only_song(item), _only_song(last)
        is_from = low(words, item.at - 1) == "from" and to is not None and low(words, to.at) in _UP_TO
        if is_from and last and first_song is not None and last_song is not None and first_song < last_song:
            kept.append(
                ReplyItem(item.at, last.end, SongsMeant((*range(first_song, last_song + 1),), item.at, last.end))
            )
            at += 3
        else:
            kept.append(item)
            at += 1
    return kept


_UP_TO: Final = ("to", "through", "thru", "till", "until", "bis")


def _only_song(item: ReplyItem | None) -> int | None:
    what = item.what if item else None
    return what.songs[0] if isinstance(what, SongsMeant) and len(what.songs) == 1 and not what.doubt else None


def _confirmed(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Take a number in words for a song only in "three in G", "three don't know", or "no chart for three"."""
    held: list[ReplyItem] = []
    for at in range(len(items) - 1, -1, -1):
        item = items[at]
        if isinstance(item.what, SongsMeant) and item.what.is_word:
            after = next((one.what for one in reversed(held) if not is_between(one)), None)
            is_song = isinstance(after, StatedFact | KeyFact | SongsMeant) or (
                isinstance(after, TurnOfPhrase) and after.kind not in (FILLER, COLOUR, NOT)
            )
            before = next((one.what for one in reversed(items[:at]) if not is_between(one)), None)
            is_object = isinstance(before, StatedFact | KeyFact) and (
                low(words, item.at - 1) in ("for", "on", "in") or low(words, item.at - 1) in START_VERBS
            )
            if not is_song and not is_object:
                is_that_one = low(words, item.at) == "one" and low(words, item.at - 1) in NOT_BEFORE_ONE
                what = TurnOfPhrase(FILLER, item.end) if is_that_one else None
                item = item._replace(what=what)
        held.append(item)
    return list(reversed(held))


def _joined_lists(items: list[ReplyItem]) -> list[ReplyItem]:
    """Join numbers that only commas and "and" part into one: 1, 2 and 5.

    Where one fact is before the list and one after it, the first song belongs to the one before; with more than two
    songs nobody can be sure of it: "drop 5, 4 and 3 in G".
    """
    joined_up: list[ReplyItem] = []
    at, doubt = 0, ""
    while at < len(items):
        run, end = [items[at]], at + 1
        while names_songs(run[-1]) and not may_be_tempo(run[-1]) and (following := _after_join(items, end)) is not None:
            run.append(items[following])
            end = following + 1
        if len(run) > 1 and _has_facts_on_both_sides(items, at, end):
            doubt = WHICH_SONGS if len(run) > 2 else ""
            joined_up.append(run[0])
            at += 1
            continue
        one = _as_one(run) if len(run) > 1 else run[0]
        if doubt and isinstance(meant := one.what, SongsMeant):
            one, doubt = one._replace(what=meant._replace(doubt=doubt)), ""
        joined_up.append(one)
        at = end
    return joined_up


WHICH_SONGS: Final = "which of these songs does it mean?"


def _as_one(run: Sequence[ReplyItem]) -> ReplyItem:
    return ReplyItem(run[0].at, run[-1].end, _all_of(run))


def _all_of(run: Sequence[ReplyItem]) -> SongsMeant:
    return joined(one.what for one in run if isinstance(one.what, SongsMeant))


def _has_facts_on_both_sides(items: Sequence[ReplyItem], at: int, end: int) -> bool:
    """Return whether a list of songs has facts before and after it: Bb for 1, G for 2 and 4 in D."""
    return _has_fact(reversed(items[:at])) and _has_fact(items[end:])


def _has_fact(items: Iterable[ReplyItem]) -> bool:
    for item in items:
        if isinstance(item.what, Separator | SongsMeant):
            return False
        if isinstance(item.what, TurnOfPhrase) and item.what.kind == EXCEPT:
            return False  # all in E apart from 2 and 10 (A)
        if isinstance(item.what, StatedFact | KeyFact) or (
            isinstance(item.what, TurnOfPhrase) and item.what.kind == DITTO
        ):
            return True
    return False


def _is_key(item: ReplyItem) -> bool:
    return isinstance(item.what, KeyFact)


def _starts(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact) and item.what.field == "starts_with"


def _in_turn(
    words: Sequence[ReplyWord], items: list[ReplyItem], names: SongNames, is_one: Callable[[ReplyItem], bool]
) -> list[ReplyItem]:
    """Return the items with keys, or players, in turn shared out among as many songs: "G D Am for the first three".

    Where there are more or fewer of them than songs, none is read.
    """
    kept: list[ReplyItem] = []
    items = list(items)
    at = 0
    while at < len(items):
        end = at
        while end < len(items) and (is_one(items[end]) or (end > at and _parts_keys(words, items[end]))):
            end += 1
        keys = [one for one in items[at:end] if is_one(one)]
        are_two = is_one is _is_key and len(keys) == LEAST_IN_TURN - 1 and _are_joined(words, items[at:end])
        if len(keys) < LEAST_IN_TURN and not are_two:
            kept += items[at : max(end, at + 1)]
            at = max(end, at + 1)
            continue
        before, after = _neighbour(kept, range(len(kept) - 1, -1, -1)), _neighbour(items, range(end, len(items)))
        songs = _songs_at(before, kept) or _songs_at(after, items) if None in (before, after) else ()
        of_set = False
        if before is None and after is None and (in_set := _set_before(kept)) is not None:
            before, songs, of_set = len(kept) - 1 - in_set[0], tuple(names.in_set(in_set[1])), True
        if before is None and after is None and not of_set and (behind := _set_after(items[end:])) is not None:
            songs, of_set = tuple(names.in_set(behind)), True
            after_set = next(place for place in range(end, len(items)) if isinstance(items[place].what, SongsMeant))
            if len(songs) == len(keys):
                items[after_set] = items[after_set]._replace(what=TurnOfPhrase(FILLER, items[after_set].end))
        if len(songs) == len(keys):
            for place, there in ((before, kept), (after, items)):
                if place is not None:
                    there[place] = there[place]._replace(what=TurnOfPhrase(FILLER, there[place].end))
            is_unclear = are_two or (of_set and _has_strays([*kept, *items[end:]]))
            doubt = IN_ORDER if is_unclear else ""
            kept += [one for song, key in zip(songs, keys, strict=True) for one in _with_key(song, key, doubt)]
        else:
            kept += [one._replace(what=None) if one in keys and len(songs) > 1 else one for one in items[at:end]]
        at = end
    return kept


IN_ORDER: Final = "in that order?"
LEAST_IN_TURN: Final = 3  # two keys may be those of one song


def _neighbour(items: Sequence[ReplyItem], places: Iterable[int]) -> int | None:
    """Return the place of the songs that stand next, with nothing but words between."""
    at = next((one for one in places if not is_between(items[one])), None)
    return at if at is not None and isinstance(what := items[at].what, SongsMeant) and what.songs else None


def _has_strays(items: Iterable[ReplyItem]) -> bool:
    """Return whether words are left that may change what keys in turn mean: "set 2: G, D, A, C maybe"."""
    return any(one.what is None or (isinstance(one.what, TurnOfPhrase) and one.what.kind != FILLER) for one in items)


def _parts_keys(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    return is_between(item) or (isinstance(item.what, Separator) and low(words, item.at) == "/")


def _set_before(kept: Sequence[ReplyItem]) -> tuple[int, int] | None:
    """Return the set that is named right before, how many items back and its place: "Early set in order: D, G, A"."""
    back = next((at for at, item in enumerate(reversed(kept)) if not is_between(item)), None)
    what = kept[-1 - back].what if back is not None else None
    is_set = isinstance(what, SongsMeant) and len(what.sets) == 1 and not what.songs
    return (back, what.sets[0]) if back is not None and is_set and isinstance(what, SongsMeant) else None


def _set_after(items: Sequence[ReplyItem]) -> int | None:
    """Return the place of the set that is named right after: "G D Am C for the early set"."""
    what = next((one.what for one in items if not is_between(one)), None)
    return what.sets[0] if isinstance(what, SongsMeant) and len(what.sets) == 1 and not what.songs else None


def _songs_at(at: int | None, items: Sequence[ReplyItem]) -> tuple[int, ...]:
    return what.songs if at is not None and isinstance(what := items[at].what, SongsMeant) else ()


def _are_joined(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> bool:
    """Return whether two keys are separated by "and": G and D for Moth and Kettle."""
    return any(
        isinstance(one.what, Separator) and low(words, one.at) in ("and", "&", "+", "und", "et") for one in items
    )


def _with_key(song: int, key: ReplyItem, doubt: str) -> tuple[ReplyItem, ...]:
    meant = SongsMeant((song,), key.at, key.end, doubt)
    parted = ReplyItem(key.at, key.at, Separator(is_strong=False))
    return parted, key._replace(end=key.at, what=meant), key


def _last_of_list(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Add a fact after "you start 17, 20." to the last song of the list, with a doubt, if it names none."""
    kept: list[ReplyItem] = []
    for at, item in enumerate(items):
        kept.append(item)
        before = items[at - 1].what if at else None
        is_dot = isinstance(item.what, Separator) and low(words, item.at) == "." and words[item.at - 1].kind == NUMBER
        if not is_dot or not isinstance(before, SongsMeant) or len(before.songs) < 2 or not _is_alone(items[at + 1 :]):
            continue
        meant = before._replace(songs=before.songs[-1:], doubt=WHICH_SONGS)
        kept.append(ReplyItem(item.at - 1, item.end, meant))
    return kept


def _is_alone(items: Iterable[ReplyItem]) -> bool:
    """Return whether a fact comes next, in a sentence that names no song."""
    has_fact = False
    for item in items:
        if isinstance(item.what, Separator) and item.what.is_strong:
            break
        is_rest = isinstance(item.what, TurnOfPhrase) and item.what.kind == REST
        if is_rest or isinstance(item.what, SongsMeant):
            return False
        if not (has_fact or isinstance(item.what, StatedFact | KeyFact)):
            return False
        has_fact = True
    return has_fact


def _dropped_by_name(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "bin the tango" as a dropped song, where "lose the tag" is none."""
    kept = list(items)
    for at, item in enumerate(items[:-2]):
        is_dropper = isinstance(item.what, TurnOfPhrase) and item.what.kind == NOT and low(words, item.at) in DROPPERS
        if is_dropper and low(words, items[at + 1].at) == "the" and isinstance(items[at + 2].what, SongsMeant):
            kept[at] = item._replace(what=StatedFact("dropped", True, item.end))
    return kept


def _same_as(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "31 same as 29" as a fact about the first song, where nothing else is said of the second."""
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        kept.append(items[at])
        at += 1
        if not names_songs(kept[-1]):
            continue
        end = at
        is_turn = end < len(items) and isinstance(items[end].what, TurnOfPhrase)
        end += is_turn and low(words, items[end].at) in (".", "-", "–", ":")  # 5. as 4
        while end < len(items) and all(low(words, one) in _SAME for one in range(items[end].at, items[end].end)):
            end += 1
        said = {low(words, one) for item in items[at:end] for one in range(item.at, item.end)}
        if end == at or end >= len(items) or not said & _AS or not names_songs(items[end]):
            continue
        other = items[end].what
        ends = end + 1 >= len(items) or isinstance(items[end + 1].what, Separator)
        if ends and isinstance(other, SongsMeant) and len(other.songs) == 1:
            first, last = items[at].at, items[end].end
            kept.append(ReplyItem(first, last, StatedFact(KEY_OF, other.songs[0], last, doubt=other.doubt)))
            at = end + 1
    return kept


_AS: Final = set_of("as like see som wie que come als comme jak co dan")
_SAME: Final = _AS | set_of(
    "the same key is in its it's it just exactly also samma samme tonart toonart gleich dieselbe gleiche igual lo "
    "mismo stesso la stessa zelfde hetzelfde dezelfde uguale la el le il pareil meme tak samo to"
)


def _named_twice(words: Sequence[ReplyWord], items: list[ReplyItem], names: SongNames) -> list[ReplyItem]:
    """Join a number and the title after it: 3 Moth. Where they are two songs, the title is right, with a doubt."""
    kept: list[ReplyItem] = []
    for item in items:
        if len(kept) > 1 and names_songs(item) and _is_address(words, kept):
            kept.pop()  # 1. Moth
        before = kept[-1] if kept else None
        if before and names_songs(item) and names_songs(before) and words[item.at].kind == NUMBER:
            both = _in_doubt(_all_of([before, item]), words, kept[:-1])
            kept[-1] = ReplyItem(before.at, item.end, both)
            continue
        if before and names_songs(item) and names_songs(before):
            number, title = before.what, item.what
            assert isinstance(number, SongsMeant)  # noqa: S101  what _is_song says
            assert isinstance(title, SongsMeant)  # noqa: S101  same
            if len(title.songs) == 1 and len(number.songs) == 1:
                doubt = number.doubt if number.songs == title.songs else _other_number(number, title, names)
                kept[-1] = ReplyItem(before.at, item.end, title._replace(at=before.at, doubt=doubt))
                continue
            if len(title.songs) == 1 and number.no_song:
                kept[-1] = ReplyItem(before.at, item.end, title._replace(at=before.at, doubt=number.no_song))
                continue
        kept.append(item)
    return kept


def _is_address(words: Sequence[ReplyWord], items: Sequence[ReplyItem]) -> bool:
    """Return whether items end with a number and the sign that follows it in a list."""
    number, sign = items[-2], items[-1]
    is_sign = (
        isinstance(sign.what, TurnOfPhrase) and sign.what.kind == FILLER and low(words, sign.at) in (".", ")", ":", "-")
    )
    return (
        is_sign
        and sign.end == sign.at + 1
        and names_songs(number)
        and not may_be_tempo(number)
        and words[number.end - 1].kind == NUMBER
    )


def _in_doubt(meant: SongsMeant, words: Sequence[ReplyWord], before: Sequence[ReplyItem]) -> SongsMeant:
    """Doubt two numbers that nothing parts, "2 4 G"; a list after its fact, "drums: 1 2 4", is clear."""
    if meant.no_song and meant.songs:
        return meant._replace(doubt=meant.no_song, no_song="")
    if len(meant.songs) < 2 or any(isinstance(one.what, StatedFact | KeyFact) for one in before):
        return meant
    said = " ".join(word.text for word in words[meant.at : meant.end])
    return meant._replace(doubt=f"{said} may be one number or several")


def _other_number(number: SongsMeant, title: SongsMeant, names: SongNames) -> str:
    """Return the doubt about a title with another song's number; none if it is its number in its set."""
    place, other = title.songs[0], number.songs[0]
    in_set = names.in_set(names.songs[place][0])
    if in_set.index(place) == other:  # the number, counted from 0
        return ""
    return f"that number is {names.songs[other][2].title}"


def _after_join(items: list[ReplyItem], at: int) -> int | None:
    """Return the place of the next song of a list, after one or two joining words."""
    skipped = 0
    while at < len(items) and skipped < 2 and isinstance(part := items[at].what, Separator) and part.joins:
        at, skipped = at + 1, skipped + 1
    return at if skipped and at < len(items) and names_songs(items[at]) and not may_be_tempo(items[at]) else None
