"""Who probably starts a song, by a word of starting or counting in and the player beside it."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from companion.leader.band_introduced import introduces_band
from companion.leader.guess_words import (
    AFTER_VERB,
    AFTERS,
    ALL_OF_BAND,
    AT_START,
    BEGINS,
    BRINGS,
    BY,
    COUNTS,
    ENDS,
    IN_ENGLISH,
    JOINS,
    ME,
    NOBODY,
    PLAYS,
    SMALL,
    STARTS,
    YOU,
    manner_of,
    player_of,
)
from companion.leader.guessed_clauses import GuessClause, is_quite
from companion.leader.players import LEADER_COUNTS, THE_LEADER
from companion.leader.reply_words import NUMBER, WORD, ReplyWord, phrase_of, set_of
from companion.leader.songs_meant import SongsMeant

MAX_NAME: Final = 3  # words of a player that no list has


def is_of_many(about: SongsMeant) -> bool:
    """Return whether songs are named as a group: a set, the rest."""
    return about.is_rest or bool(about.sets)


def guessed_start(clause: GuessClause) -> str | None:
    """Return who probably starts the songs of a clause; None if it does not say."""
    if clause.denies or "run" in clause.lows or (set(clause.lows) & AFTERS and "that" not in clause.lows):
        return None
    names_it = any(one.what == clause.about for one in clause.items)
    if "then" in clause.sentence and not (names_it or set(clause.lows) & STARTS):
        return None  # 4 bars of drums then in on 2
    stated = clause.stated("starts_with")
    is_clear = stated is not None and stated.firm and not stated.is_lone and stated.value not in ("click", "count")
    if stated is not None and is_clear and not (stated.value == "all" and is_of_many(clause.about)):
        is_known = bool(player_of(str(stated.value).split()[0]))
        return str(stated.value) if is_known or not is_of_many(clause.about) else None
    at = verb_of_starting(clause)
    if at is None:
        return _start_by_name(clause)
    if introduces_band(clause.line.words):
        return None
    lows = clause.lows
    is_weak = lows[at] in AT_START
    if (is_weak or clause.is_carried) and (_has_ending(clause) or "last" in lows):
        return None
    if clause.is_carried and is_weak and not clause.answers:
        return None
    counts = lows[at] in COUNTS
    with_at = next((place for place in (at + 1, at + 2) if place < len(lows) and lows[place] in AFTER_VERB), None)
    first = with_at if with_at is not None and lows[at] in BEGINS else -1
    who = [(place, one) for place, one in _who(clause) if place > first and abs(place - at) <= _REACH]
    if who and not (is_weak and clause.keys):
        return _nearest(who, at, clause, counts=counts)
    is_set = bool(clause.about.sets) and not clause.about.is_rest
    if counts and not (is_set or set(lows[at:]) & BY or clause.stated("tempo")):
        return "count"
    if named := _named_after_by(clause, at):
        return named
    if is_weak or counts or is_of_many(clause.about):
        return None
    return _unknown_player(clause, at, first)


def _named_after_by(clause: GuessClause, at: int) -> str:
    """Return the name after a passive: counted in by Dee."""
    by = next((place for place in range(at + 1, len(clause.free) - 1) if clause.lows[place] in BY), None)
    name = clause.line.words[clause.free[by + 1]] if by is not None else None
    return name.text if name is not None and name.text[:1].isupper() and _may_name(name) else ""


def _has_ending(clause: GuessClause) -> bool:
    return any(low in ENDS or manner_of(low, ends=True) for low in clause.lows)


_REACH: Final = 6  # words between a player and the verb
_OF_KEYS: Final = ("piano", "organ", "synth", "rhodes", "clav", "accordion")


def _nearest(who: Sequence[tuple[int, str]], at: int, clause: GuessClause, *, counts: bool) -> str | None:
    """Return the player that is nearest to the verb, with the one that "and" joins or the instrument of "you"."""
    nearest = min(who, key=lambda one: (abs(one[0] - at), one[0] > at))[1]
    others = list(dict.fromkeys(one for _, one in who if one not in ("keys", THE_LEADER, "all")))
    if nearest == THE_LEADER and counts:
        return LEADER_COUNTS
    if nearest in ("keys", THE_LEADER) and others:
        is_own = nearest == THE_LEADER or others[0] in _OF_KEYS
        return others[0] if nearest == "keys" and is_own else f"{nearest} on {others[0]}" if is_own else nearest
    if nearest == "all" and is_of_many(clause.about):
        return others[0] if others else "count" if counts else None
    return " and ".join(others) if nearest in others and _are_joined(clause) else nearest


_NO_START: Final = ("no intro", "no intros", "no opening", "no first", "no entry", "in front")


def verb_of_starting(clause: GuessClause) -> int | None:
    """Return the place of a word of starting among the free words, a verb first; None if there is none."""
    lows = clause.lows
    verbs = [
        at
        for at, low in enumerate(lows)
        if low in BEGINS | COUNTS or phrase_of(clause.line.words, clause.free[at], BRINGS)
    ]
    weak = [at for at, low in enumerate(lows) if low in AT_START and not (at and f"{lows[at - 1]} {low}" in _NO_START)]
    return next(iter([*verbs, *weak]), None)


def _who(clause: GuessClause) -> list[tuple[int, str]]:
    found = []
    for at, low in enumerate(clause.lows):
        if low == "du" and _is_before_number(clause, at):
            continue  # du 5 au 7
        if low in YOU or (low == "your" and set(clause.lows[:at]) & BEGINS):
            found.append((at, "keys"))
        elif low in ME:
            found.append((at, THE_LEADER))
        elif low in ALL_OF_BAND:
            found += [] if is_quite(clause.line.words, clause.free[at]) else [(at, "all")]
        elif player := player_of(low):
            found.append((at, player))
    return found


def _is_before_number(clause: GuessClause, at: int) -> bool:
    after = clause.free[at] + 1
    return after < len(clause.line.words) and clause.line.words[after].kind == NUMBER


def _are_joined(clause: GuessClause) -> bool:
    lows, places = clause.lows, [at for at, _ in _who(clause)]
    return any(
        one - other in (2, 3) and any(low in JOINS for low in lows[other + 1 : one]) for other, one in pairwise(places)
    )


def _start_by_name(clause: GuessClause) -> str | None:
    """Return the player of a clause that has no other word: "percussions pour la Marche"."""
    if is_of_many(clause.about) or clause.keys:
        return None
    asked = clause.field == "starts_with" or bool(clause.sentence & (STARTS | COUNTS))
    rest = [low for low in clause.lows if low not in SMALL]
    if rest and all(low in ALL_OF_BAND for low in rest) and (asked or len(rest) > 1):
        return "all"  # alle zusammen
    if (player := _described_player(clause, rest, asked=asked)) is not None:
        return player
    if not asked:
        return None
    if clause.answers and 0 < len(rest) <= MAX_NAME and all(map(_may_name, _rest_words(clause))):
        return " ".join(word.text for word in _rest_words(clause))  # handbells
    plays = next((at for at, low in enumerate(clause.lows) if low in PLAYS), None)
    return _unknown_player(clause, plays, -1) if plays else None


def _rest_words(clause: GuessClause) -> list[ReplyWord]:
    return [word for at in clause.free if (word := clause.line.words[at]).low not in SMALL]


def _described_player(clause: GuessClause, rest: Sequence[str], *, asked: bool) -> str | None:
    """Return the one player of some words: "bari sax" below "who starts", "rubato piano" beside a key."""
    players = list(dict.fromkeys(filter(None, map(player_of, rest))))
    if len(players) != 1:
        return None
    if asked:
        return players[0] if len(rest) <= MAX_NAME else None
    is_own = isinstance(clause.items[0].what, SongsMeant) or not clause.is_beside_key
    is_last = player_of(rest[-1]) == players[0] and not {*YOU, *ME} & set(rest)
    is_none = bool(set(clause.lows) & (_BEFORE_NO_STARTER | _NEW))
    return None if is_own or is_none or not is_last or len(rest) > 2 else players[0]


_NEW: Final = set_of("vi jag ni man we new old other another different nice good great lovely")
_BEFORE_NO_STARTER: Final = set_of(
    "for with of per pour fur no without to from by mit med con met ohne sans sin senza sem zonder utan uden uten bez"
)


def _unknown_player(clause: GuessClause, at: int, first: int) -> str | None:
    """Return the words that begin a song according to its verb: those after "with", before it, or after it."""
    words = [clause.line.words[place] for place in clause.free]
    if set(clause.lows) & _TIMES:
        return None
    if first < 0:
        before = at
        while before > 0 and at - before < MAX_NAME and _may_name(words[before - 1]):
            before -= 1
        if before < at:
            return " ".join(word.text for word in words[before:at])
        if words[at].low in IN_ENGLISH:
            return None
    after = max(at, first) + 1
    while after < len(words) and words[after].low in SMALL:
        after += 1
    end = after
    while end < len(words) and end - after < MAX_NAME and _may_name(words[end]):
        end += 1
    return " ".join(word.text for word in words[after:end]) or None


_TIMES: Final = set_of("half halv halb pol wpol kl um uhr clock quarter kvart")


def _may_name(word: ReplyWord) -> bool:
    return word.kind == WORD and word.low not in SMALL | NOBODY
