"""Numbers and keys that signs join in pairs: "2/G 3/D", "G (2), D (3)". One order holds for all pairs of a run."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.fact_said import FactSaid
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import SIGN, ReplyWord
from companion.leader.songs_meant import JOINS, SongsMeant

SONG: Final = "song"
KEY: Final = "key"
MIN_UNCLEAR: Final = 3  # songs and keys: two can only be one pair
WHICH_PAIRS: Final = "which key belongs to which song?"
_ENDS_SENTENCE: Final = frozenset(".;!?…")
_PLAIN: Final = frozenset(",.:;-–—=)")  # signs that are read one by one where songs and keys do not pair up


def paired(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with the songs and keys of each run paired up, as far as its signs leave one way.

    A run is songs, keys, and signs alone. Where it begins with a song and ends with a key, each key belongs to the song
    before it, and the other way round. A run with a key or a song too many is in doubt if its signs tie them together.
    """
    kept: list[ReplyItem] = []
    at = 0
    while at < len(items):
        end = at
        while end < len(items) and _is_of_run(words, items[end]):
            end += 1
            if _ends_sentence(words, items[end - 1]):
                break
        if end == at:
            kept.append(items[at])
            at += 1
            continue
        kept += _run(words, items[at:end], items[:at], items[end:])
        at = end
    return kept


def _run(
    words: Sequence[ReplyWord], run: list[ReplyItem], before: Sequence[ReplyItem], after: Sequence[ReplyItem]
) -> list[ReplyItem]:
    kinds = list(_kinds(run))
    if len(kinds) < 2 or not _is_signed(run):
        return run
    follows_fact = bool(after) and isinstance(after[0].what, FactSaid)
    if len(kinds) % 2 and kinds[0] == kinds[-1] == SONG and follows_fact and all(_ties(words, run)[::2]):
        return _parted(run)  # 2/G 3/D 4 drums start
    is_even = len(kinds) % 2 == 0
    if is_even and (kinds[0] == SONG or not _names_song(before)) and not _hangs(run, before):
        parted = _parted(run)
        is_unclear = _has_commas_for_joins(words, run) or _is_mixed(_ties(words, run))
        return _in_doubt(parted) if len(kinds) >= MIN_UNCLEAR and is_unclear else parted
    if len(kinds) < MIN_UNCLEAR or not any(list(_between(run))[::2]):
        return run  # 2 G / 3 D / 4
    return _in_doubt(run) if _is_tied(words, run) else run


def _kind(item: ReplyItem) -> str:
    if isinstance(item.what, KeyFact):
        return KEY
    return SONG if isinstance(item.what, SongsMeant) and not item.what.sets else ""


def _kinds(run: Sequence[ReplyItem]) -> Iterator[str]:
    """Yield song and key in turn; several songs that stand together are one, but each key counts."""
    last = ""
    for item in run:
        kind = _kind(item)
        if kind and (kind == KEY or last != SONG):
            yield kind
            if kind == last:
                yield ""  # two keys together never pair up
        last = kind or last


def _is_of_run(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    is_sign = all(words[at].kind == SIGN or words[at].low in JOINS for at in range(item.at, item.end))
    return bool(_kind(item)) or is_sign


def _ends_sentence(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    """Return whether an item is a sign that parts sentences, with a space behind it."""
    is_strong = isinstance(item.what, Separator) and item.what.is_strong and words[item.at].text in _ENDS_SENTENCE
    return is_strong and (item.end >= len(words) or words[item.end].start > words[item.at].end)


def _between(run: Sequence[ReplyItem]) -> Iterator[list[ReplyItem]]:
    """Yield the signs between each song and the key beside it."""
    named = [at for at, item in enumerate(run) if _kind(item)]
    yield from (list(run[one + 1 : other]) for one, other in pairwise(named) if _kind(run[one]) != _kind(run[other]))


def _is_signed(run: Sequence[ReplyItem]) -> bool:
    return any(_between(run))


def _ties(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> list[bool]:
    """Return, for each place between a song and a key, whether a sign without spaces ties the two."""
    return [any(_is_tight(words, item) for item in signs) for signs in _between(run)]


def _is_tight(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    at, end = item.at, item.end
    is_between = at > 0 and end < len(words)
    return is_between and words[at - 1].end == words[at].start and words[end].start == words[at].end


def _is_mixed(ties: Sequence[bool]) -> bool:
    """Return whether some pairs are tied, others not, and a sign ties one pair to the next: "2/G 3 D/4 A"."""
    return any(ties[::2]) and not all(ties[::2]) and any(ties[1::2])


def _is_tied(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    """Return whether a sign without spaces, or another one than those of any sentence, ties a song to a key."""
    signs = [words[item.at].text for between in _between(run) for item in between]
    return any(_ties(words, run)) or any(sign not in _PLAIN | JOINS - {"/"} for sign in signs)


def _has_commas_for_joins(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    """Return whether a comma stands in each pair and only spaces between them: "1, Bb 2, G"."""
    between = [{words[item.at].text for item in signs} for signs in _between(run)]
    return set().union(*between[::2]) <= {",", ";"} and not any(between[1::2])


def _names_song(before: Sequence[ReplyItem]) -> bool:
    """Return whether the sentence so far names a song, whose key may stand first in the run."""
    for item in reversed(before):
        if isinstance(item.what, Separator) and item.what.is_strong:
            return False
        if isinstance(item.what, SongsMeant):
            return True
    return False


def _hangs(run: Sequence[ReplyItem], before: Sequence[ReplyItem]) -> bool:
    """Return whether the words before a run may claim its first song: "G for 2 / D"."""
    starts_anew = not _kind(run[0]) and isinstance(run[0].what, Separator)
    if starts_anew or not before:
        return False
    last = before[-1].what
    return not (isinstance(last, Separator) and last.is_strong) and any(
        isinstance(item.what, FactSaid | KeyFact) for item in before
    )


def _parted(run: list[ReplyItem]) -> list[ReplyItem]:
    """Return a run with its pairs parted from each other, and nothing parting the two of a pair."""
    first = next(_kinds(run))
    kept: list[ReplyItem] = []
    last = ""
    for item in run:
        kind = _kind(item)
        if kind and last and kind == first != last:
            kept = _without_signs_at_end(kept)
            kept.append(ReplyItem(item.at, item.at, Separator(is_strong=False)))
        elif kind and last and kind != last:
            kept = _without_signs_at_end(kept)
        kept.append(item)
        last = kind or last
    return kept


def _without_signs_at_end(items: list[ReplyItem]) -> list[ReplyItem]:
    end = len(items)
    while end and not _kind(items[end - 1]):
        end -= 1
    return items[:end]


def _in_doubt(run: list[ReplyItem]) -> list[ReplyItem]:
    return [
        item._replace(what=item.what._replace(doubt=item.what.doubt or WHICH_PAIRS))
        if isinstance(item.what, SongsMeant | KeyFact) and _kind(item)
        else item
        for item in run
    ]
