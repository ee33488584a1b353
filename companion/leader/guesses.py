"""Guesses: what a line that is not understood to the last word probably says, as a question that "yes" answers.

A clause about one song, or one group of songs, with a word that suggests a fact makes a guess. It lands with a doubt,
and only where the reply and the show say nothing of that field of that song; its line is shown as well.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.fact_words import CHARTS
from companion.leader.guess_words import (
    AFTER_VERB,
    AFTERS,
    ALL_OF_BAND,
    AT_START,
    BEGINS,
    BRINGS,
    COUNTS,
    DENIES,
    DOING,
    ENDS,
    GONE,
    GONE_PHRASES,
    HELD,
    IN_ENGLISH,
    IS,
    ME,
    NOBODY,
    NOT_GONE,
    OUT_FOR,
    PLAYS,
    SLOWED,
    SMALL,
    STARTS,
    TEMPO_WORDS,
    UNITS,
    YOU,
    manner_of,
    player_of,
)
from companion.leader.guessed_clauses import GuessClause, ReadLine, clauses_of, is_joining, joined
from companion.leader.players import THE_LEADER
from companion.leader.reply_words import NUMBER, WORD, ReplyWord, phrase_of, set_of
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongsMeant

SLOWEST, FASTEST = 40, 280
MAX_SAID: Final = 60  # characters of an ending in the leader's own words
MAX_NAME: Final = 3  # words of a player that no list has


class Guess(NamedTuple):
    """What a clause probably says of some songs."""

    about: SongsMeant
    field: str
    value: str | bool
    clause: GuessClause


def guesses(lines: Sequence[ReadLine]) -> Iterator[Guess]:
    """Yield what the clauses of a reply suggest, in its order."""
    for read in lines:
        for clause in clauses_of(read):
            for field, reader in _READERS:
                if (value := reader(clause)) is not None:
                    yield Guess(clause.about, field, value, clause)


def take_guesses(settling: ReplySettling, lines: Sequence[ReadLine]) -> None:
    """Add each guess as a doubtful value where nothing else is said of that field of its song."""
    made = list(guesses(lines))
    said = {(place, field) for _, place, field in settling.values}
    gone = {place for place, field in said if field == "dropped"}
    spoken_of = {place for place, _ in said}
    passed = {(one.song, one.field) for one in settling.passed}
    taken: set[tuple[int, str]] = set()
    for guess in sorted(made, key=lambda one: one.about.is_rest):  # what is said of one song goes before what of all
        for place in _places(settling, guess):
            at = (place, guess.field)
            is_open = at not in said and at not in passed and at not in taken and place not in gone
            is_open = is_open and not (guess.field == "dropped" and place in spoken_of)
            if not is_open or song_says(settling.song(place), guess.field) is not None:
                continue
            taken.add(at)
            words = guess.clause.said
            value = ClaimedValue(guess.field, guess.value, words, corrects=False, line=guess.clause.line.text)
            settling.add(settling.names.songs[place][0], place, value)


def _places(settling: ReplySettling, guess: Guess) -> Sequence[int]:
    about = guess.about
    if not about.is_rest and about.songs:
        return about.songs
    if guess.field == "dropped":
        return ()
    sets = about.sets or tuple(range(len(settling.names.show.sets)))
    return [place for at in sets for place in settling.names.in_set(at) if not (about.is_rest and place in about.songs)]


# ------------------------------------------------------------------ who starts


def _is_of_many(about: SongsMeant) -> bool:
    return about.is_rest or bool(about.sets)


def _start(clause: GuessClause) -> str | None:
    if clause.denies or (set(clause.lows) & AFTERS and "that" not in clause.lows):
        return None
    if "then" in clause.sentence and not any(one.what == clause.about for one in clause.items):
        return None  # 4 bars of drums then in on 2
    stated = clause.stated("starts_with")
    is_told = stated is not None and stated.firm and not stated.is_lone and stated.value not in ("click", "count")
    if stated is not None and is_told and not (stated.value == "all" and _is_of_many(clause.about)):
        is_known = bool(player_of(str(stated.value).split()[0]))
        return str(stated.value) if is_known or not _is_of_many(clause.about) else None
    at = _verb(clause)
    if at is None:
        return _start_by_name(clause)
    lows = clause.lows
    is_weak = lows[at] in AT_START
    if (is_weak or clause.is_carried) and _has_ending(clause):
        return None
    if clause.is_carried and is_weak:
        return None
    counts = lows[at] in COUNTS
    with_at = next((place for place in (at + 1, at + 2) if place < len(lows) and lows[place] in AFTER_VERB), None)
    first = with_at if with_at is not None and lows[at] in BEGINS else -1
    who = [(place, one) for place, one in _who(clause) if place > first and abs(place - at) <= _REACH]
    if who and not (is_weak and clause.keys):
        return _nearest(who, at, clause, counts=counts)
    if counts and not (clause.about.sets and not clause.about.is_rest) and clause.stated("tempo") is None:
        return "count"
    if is_weak or counts or _is_of_many(clause.about):
        return None
    return _unknown_player(clause, at, first)


def _has_ending(clause: GuessClause) -> bool:
    return any(low in ENDS or manner_of(low, ends=True) for low in clause.lows)


_REACH: Final = 6  # words between a player and the verb
_OF_KEYS: Final = ("piano", "organ", "synth", "rhodes", "clav", "accordion")


def _nearest(who: Sequence[tuple[int, str]], at: int, clause: GuessClause, *, counts: bool) -> str | None:
    """Return the player that is nearest to the verb, with the one that "and" joins or the instrument of "you"."""
    nearest = min(who, key=lambda one: (abs(one[0] - at), one[0] > at))[1]
    others = list(dict.fromkeys(one for _, one in who if one not in ("keys", THE_LEADER, "all")))
    if nearest == THE_LEADER and counts:
        return f"{THE_LEADER} counts in"
    if nearest in ("keys", THE_LEADER) and others:
        is_own = nearest == THE_LEADER or others[0] in _OF_KEYS
        return others[0] if nearest == "keys" and is_own else f"{nearest} on {others[0]}" if is_own else nearest
    if nearest == "all" and _is_of_many(clause.about):
        return others[0] if others else "count" if counts else None
    return joined(others) if nearest in others and _are_joined(clause) else nearest


def _verb(clause: GuessClause) -> int | None:
    """Return the place of a word of starting among the free words, a verb first; None if there is none."""
    lows = clause.lows
    verbs = [
        at
        for at, low in enumerate(lows)
        if low in BEGINS | COUNTS or phrase_of(clause.line.words, clause.free[at], BRINGS)
    ]
    weak = [at for at, low in enumerate(lows) if low in AT_START and not (at and lows[at - 1] == "no")]
    return next(iter([*verbs, *weak]), None)


def _who(clause: GuessClause) -> list[tuple[int, str]]:
    found = []
    for at, low in enumerate(clause.lows):
        if low in YOU or (low == "your" and set(clause.lows[:at]) & BEGINS):
            found.append((at, "keys"))
        elif low in ME:
            found.append((at, THE_LEADER))
        elif low in ALL_OF_BAND:
            found.append((at, "all"))
        elif player := player_of(low):
            found.append((at, player))
    return found


def _are_joined(clause: GuessClause) -> bool:
    lows, places = clause.lows, [at for at, _ in _who(clause)]
    return any(
        one - other in (2, 3) and any(is_joining(low) for low in lows[other + 1 : one])
        for other, one in pairwise(places)
    )


def _start_by_name(clause: GuessClause) -> str | None:
    """Return the player of a clause that has no other word: "percussions pour la Marche"."""
    if _is_of_many(clause.about) or clause.keys:
        return None
    asked = clause.field == "starts_with" or bool(clause.sentence & (STARTS | COUNTS))
    if not asked:
        return None
    rest = [low for low in clause.lows if low not in SMALL]
    if len(rest) == 1:
        return player_of(rest[0]) or ("all" if rest[0] in ALL_OF_BAND else None)
    plays = next((at for at, low in enumerate(clause.lows) if low in PLAYS), None)
    return _unknown_player(clause, plays, -1) if plays else None


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


# ------------------------------------------------------------------ how it ends


def _ending(clause: GuessClause) -> str | None:
    lows = clause.lows
    if clause.denies or set(lows) & _LEFT_OPEN:
        return None
    verbs = [at for at, low in enumerate(lows) if low in ENDS and not (at and lows[at - 1] == "full")]
    is_verb = any(lows[at] not in _NOUNS for at in verbs)
    manners = [(at, manner) for at, low in enumerate(lows) if (manner := _manner(lows, at, ends=bool(verbs)))]
    stated = clause.stated("ending")
    if not verbs and (_verb(clause) is not None or _is_of_many(clause.about)):
        return None
    if clause.is_carried and not verbs:
        return None
    if stated is not None and (stated.firm or len(manners) < 2):
        return str(stated.value)
    if not manners and (not is_verb or _is_of_many(clause.about)):
        return None
    kinds = {manner for _, manner in manners}
    if len(kinds) == 1 and "own" not in kinds:
        return kinds.pop()
    first = min([*verbs, *(at for at, _ in manners)])
    last = len(lows)
    while last > first and lows[last - 1] in SMALL:
        last -= 1
    is_told = last - first > 1 or bool(manners)
    is_plain = all(clause.line.words[at].kind in (WORD, NUMBER) for at in clause.free[first:last])
    if not is_told or not is_plain:
        return None
    return clause.line.said(clause.free[first], clause.free[last - 1] + 1)[:MAX_SAID]


_NOUNS: Final = set_of("end ending endings fin final finale ende konec koniec konca kraj slut slot einde schluss")
_LEFT_OPEN: Final = set_of("ignore however whatever somehow somewhere")


def _manner(lows: Sequence[str], at: int, *, ends: bool) -> str:
    low, after = lows[at], lows[at + 1 : at + 4]
    if at and lows[at - 1] == "full" and low == "stop":
        return ""
    if low == "cold" and at and lows[at - 1] in ("a", "the"):
        return ""  # Jo has a cold
    if low == "slow":
        return "ritard" if set(after) & SLOWED else ""
    if low in ("hold", "held", "holds"):
        return "own" if set(after) & HELD or at == len(lows) - 1 else ""
    return manner_of(low, ends=ends)


# ------------------------------------------------------------------ not played, tempo, key


def _dropped(clause: GuessClause) -> bool | None:
    about = clause.about
    if about.is_rest or about.sets or len(about.songs) > 3 or clause.keys:
        return None
    lows = clause.lows
    if set(lows) & NOT_GONE or any(manner_of(low, ends=False) for low in lows) or _cuts_off(lows):
        return None
    says = any(phrase_of(clause.line.words, at, GONE_PHRASES) for at in clause.free)
    if clause.is_carried or len(lows) > MAX_DROPPING:
        return True if says else None
    is_stated = clause.stated("dropped") is not None and not set(lows) & {"out", "off"}
    says = says or is_stated or any(low in GONE for low in lows) or _is_off(lows)
    denies = any(low in DENIES for low in lows) and any(low in DOING for low in lows)
    is_no = [low for low in lows if low not in SMALL] == ["no"] and not clause.sentence & CHARTS and not clause.field
    return True if says or denies or is_no else None


MAX_DROPPING: Final = 12  # words of a clause that leaves a song out


def _is_off(lows: Sequence[str]) -> bool:
    """Return whether "off" or "out" leaves a song out: Moth is off for Friday, Moth out."""
    return any(
        low in ("off", "out") and (at == 0 or lows[at - 1] in IS) and (at == len(lows) - 1 or lows[at + 1] in OUT_FOR)
        for at, low in enumerate(lows)
    )


def _cuts_off(lows: Sequence[str]) -> bool:
    """Return whether "cut" says how a song ends: cut on my fist."""
    return any(low == "cut" and after in ("on", "off") for low, after in pairwise(lows))


def _tempo(clause: GuessClause) -> str | None:
    stated = clause.stated("tempo")
    if stated is not None:
        return str(stated.value)
    words = clause.line.words
    found = []
    for item in clause.items:
        what = item.what
        is_number = item.end == item.at + 1 and words[item.at].kind == NUMBER and not words[item.at].is_ordinal
        if not is_number or not (what is None or (isinstance(what, SongsMeant) and not what.songs)):
            continue
        beside = [words[at] for at in (item.at - 1, item.end) if 0 <= at < len(words)]
        if any(one.kind == NUMBER for one in beside):
            continue  # a telephone number
        after = words[item.end].low if item.end < len(words) else ""
        if SLOWEST <= int(words[item.at].text) <= FASTEST and after not in UNITS:
            found.append(words[item.at].text)
    rest = [low for low in clause.lows if low not in SMALL and not low.isdecimal()]
    is_plain = all(low in TEMPO_WORDS for low in rest) or bool(clause.sentence & {"tempo", "bpm"})
    return found[0] if len(found) == 1 and is_plain and not clause.about.is_rest else None


def _key(clause: GuessClause) -> str | None:
    """Return the one key right of the one song that a piece names."""
    keys = clause.keys
    is_own = isinstance(clause.items[0].what, SongsMeant) and clause.items[0].what == clause.about
    if len(keys) != 1 or not is_own or len(clause.about.songs) != 1 or clause.denies:
        return None
    return keys[0].key if keys[0].firm and not keys[0].then and not keys[0].denied else None


_READERS: Final = (
    ("starts_with", _start),
    ("ending", _ending),
    ("dropped", _dropped),
    ("tempo", _tempo),
    ("key", _key),
)
