"""Songs and facts that signs join in pairs: "2/G 3/D", "cold (2), fade (3)". One order holds for all pairs of a run."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.ending_words import INTO_NAMED
from companion.leader.numbers_meant import JOINS
from companion.leader.reply_items import KeyFact, ReplyItem, Separator
from companion.leader.reply_words import SIGN, ReplyWord
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import AS_RECORD, EXCEPT, FILLER, TurnOfPhrase

SONG: Final = "song"
FACT: Final = "fact"
TWICE: Final = "twice"  # two facts of one kind never pair up
MIN_UNCLEAR: Final = 3  # songs and facts: two can only be one pair
WHICH_PAIRS: Final = "what belongs to which song?"
_ENDS_SENTENCE: Final = frozenset(".;!?…")
_PLAIN: Final = frozenset(",.:;-–—=)")  # signs that are read one by one where songs and facts do not pair up


def paired(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Return a line's items with the songs and facts of each run paired up, as far as its signs leave one way.

    A run is songs, facts, and signs alone. Where it begins with a song and ends with a fact, each fact belongs to the
    song before it, and the other way round. A run with one too many is in doubt if its signs tie them together.
    """
    kept: list[ReplyItem] = []
    at = wide_until = 0
    while at < len(items):
        if at >= wide_until:
            wide_until = max(_end_of_run(words, items, at, only_keys=False), at + 1)
            wide = items[at:wide_until]
            if _is_strict(words, wide, items[:at]):
                kept += _parted(wide)
                at = wide_until
                continue
        end = _end_of_run(words, items, at, only_keys=True)
        kept += _run(words, items[at:end], items[:at], items[end:]) if end > at else [items[at]]
        at = max(end, at + 1)
    return kept


def _end_of_run(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int, *, only_keys: bool) -> int:
    """Return where a run ends. ``only_keys``: other facts than keys end it."""
    while at < len(items) and _is_of_run(words, items[at]):
        if only_keys and isinstance(items[at].what, StatedFact):
            break
        at += 1
        if _ends_sentence(words, items[at - 1]):
            break
    return at


def _is_strict(words: Sequence[ReplyWord], run: Sequence[ReplyItem], before: Sequence[ReplyItem]) -> bool:
    """Return whether a run has facts of all kinds, and a tight sign or a bracket joins each pair: drums/4 keys/5."""
    kinds = list(_kinds(run))
    if len(kinds) % 2 or not kinds or TWICE in kinds or _names_song(before) or _hangs(run, before):
        return False
    if kinds[0] == SONG and not any(_between(run)) and _are_facts_tied(words, run):
        return True
    return _in_brackets(words, run) or all(_ties(words, run)[::2])


def _in_brackets(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    pairs = list(_between(run))[::2]
    return all(signs and words[signs[0].at].text == "(" for signs in pairs)


def _are_facts_tied(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    """Return whether each sign of a run stands without spaces between two facts: "1 drums/cold 2 keys/fade"."""
    signs = [at for at, item in enumerate(run) if not _kind(item)]
    return bool(signs) and all(
        0 < at < len(run) - 1 and _kind(run[at - 1]) == _kind(run[at + 1]) == FACT and _is_tight(words, run[at])
        for at in signs
    )


def _run(
    words: Sequence[ReplyWord], run: list[ReplyItem], before: Sequence[ReplyItem], after: Sequence[ReplyItem]
) -> list[ReplyItem]:
    kinds = list(_kinds(run))
    if len(kinds) < 2 or not _is_signed(run):
        return run
    follows_fact = bool(after) and isinstance(after[0].what, StatedFact)
    if len(kinds) % 2 and kinds[0] == kinds[-1] == SONG and follows_fact and all(_ties(words, run)[::2]):
        return _parted(run)  # 2/G 3/D 4 drums start
    is_even = len(kinds) % 2 == 0 and TWICE not in kinds
    if is_even and kinds[0] == SONG and len(kinds) > MIN_UNCLEAR and _in_brackets(words, run):
        return _parted(run)  # what stands in brackets is said of the song before them
    if is_even and (kinds[0] == SONG or not _names_song(before)) and not _hangs(run, before):
        parted = _parted(run)
        is_unclear = _has_commas_for_joins(words, run) or _is_mixed(_ties(words, run))
        return _in_doubt(parted) if len(kinds) >= MIN_UNCLEAR and is_unclear else parted
    if len(kinds) < MIN_UNCLEAR or not any(list(_between(run))[::2]):
        return run  # 2 G / 3 D / 4
    return _in_doubt(run) if _is_tied(words, run) else run


def _kind(item: ReplyItem) -> str:
    what = item.what
    if isinstance(what, KeyFact) or (isinstance(what, StatedFact) and what.value != INTO_NAMED):
        return FACT
    if isinstance(what, TurnOfPhrase) and what.kind == AS_RECORD:
        return FACT
    return SONG if isinstance(what, SongsMeant) and not what.sets else ""


def _kinds(run: Sequence[ReplyItem]) -> Iterator[str]:
    """Yield song and fact in turn: songs that stand together are one, and so are facts, but no two keys."""
    last = ""
    fields: set[str] = set()
    for item in run:
        kind = _kind(item)
        if kind and kind != last:
            yield kind
            fields = set()
        if kind == FACT:
            field = item.what.field if isinstance(item.what, StatedFact) else "key"
            if field in fields:
                yield TWICE
            fields.add(field)
        last = kind or last


def _is_of_run(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    is_sign = all(words[at].kind == SIGN or words[at].low in JOINS for at in range(item.at, item.end))
    means_more = isinstance(item.what, TurnOfPhrase) and item.what.kind != FILLER  # 1 G? 2 A
    return bool(_kind(item)) or (is_sign and not means_more)


def _ends_sentence(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    """Return whether an item is a sign that separates sentences, with a space after it."""
    is_strong = isinstance(item.what, Separator) and item.what.is_strong and words[item.at].text in _ENDS_SENTENCE
    return is_strong and (item.end >= len(words) or words[item.end].start > words[item.at].end)


def _between(run: Sequence[ReplyItem]) -> Iterator[list[ReplyItem]]:
    """Yield the signs between each song and the fact beside it."""
    named = [at for at, item in enumerate(run) if _kind(item)]
    yield from (list(run[one + 1 : other]) for one, other in pairwise(named) if _kind(run[one]) != _kind(run[other]))


def _is_signed(run: Sequence[ReplyItem]) -> bool:
    return any(_between(run))


def _ties(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> list[bool]:
    """Return, for each place between a song and a fact, whether a sign without spaces ties the two."""
    return [any(_is_tight(words, item) for item in signs) for signs in _between(run)]


def _is_tight(words: Sequence[ReplyWord], item: ReplyItem) -> bool:
    at, end = item.at, item.end
    is_between = at > 0 and end < len(words)
    return is_between and words[at - 1].end == words[at].start and words[end].start == words[at].end


def _is_mixed(ties: Sequence[bool]) -> bool:
    """Return whether some pairs are tied, others not, and a sign ties one pair to the next: "2/G 3 D/4 A"."""
    return any(ties[::2]) and not all(ties[::2]) and any(ties[1::2])


def _is_tied(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    """Return whether a sign without spaces, or another one than those of any sentence, ties a song to a fact."""
    signs = [words[item.at].text for between in _between(run) for item in between]
    return any(_ties(words, run)) or any(sign not in _PLAIN | JOINS - {"/"} for sign in signs)


def _has_commas_for_joins(words: Sequence[ReplyWord], run: Sequence[ReplyItem]) -> bool:
    """Return whether a comma is in each pair and only spaces between them: "1, Bb 2, G"."""
    between = [{words[item.at].text for item in signs} for signs in _between(run)]
    return set().union(*between[::2]) <= {",", ";"} and not any(between[1::2])


def _names_song(before: Sequence[ReplyItem]) -> bool:
    """Return whether the sentence so far names a song, whose fact may stand first in the run."""
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
    if isinstance(last, TurnOfPhrase) and last.kind == EXCEPT:
        return False  # all G apart from 4 (Em) and 6 (D)
    return not (isinstance(last, Separator) and last.is_strong) and any(
        isinstance(item.what, StatedFact | KeyFact) for item in before
    )


def _parted(run: list[ReplyItem]) -> list[ReplyItem]:
    """Return a run with its pairs separated from each other, and nothing separating the two of a pair."""
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
        if isinstance(item.what, SongsMeant | KeyFact | StatedFact) and _kind(item)
        else item
        for item in run
    ]
