"""Guesses: what a line that is not understood to the last word probably says, as a question that "yes" answers.

A clause about one song, or one group of songs, with a word that suggests a fact makes a guess. It lands with a doubt,
and only where the reply and the show say nothing of that field of that song; its line is shown as well.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.fact_words import CHARTS
from companion.leader.guess_words import (
    COUNTS,
    DENIES,
    DIES,
    DOING,
    ENDS,
    GONE,
    GONE_PHRASES,
    HELD,
    IS,
    MAY_GO,
    NOT_GONE,
    OUT,
    OUT_FOR,
    SLOWED,
    SMALL,
    STARTS,
    manner_of,
)
from companion.leader.guessed_clauses import GuessClause, ReadLine, clauses_of
from companion.leader.guessed_endings import ending_of
from companion.leader.guessed_segues import goes_into_other, take_segues
from companion.leader.guessed_starts import guessed_start, is_of_many, verb_of_starting
from companion.leader.guessed_tempos import guessed_tempo
from companion.leader.left_over import REACHING
from companion.leader.parts_dropped import follows_part
from companion.leader.reply_items import KeyFact
from companion.leader.reply_readings import NOWHERE
from companion.leader.reply_records import LATER
from companion.leader.reply_words import NUMBER, SIGN, WORD, low, phrase_of, set_of
from companion.leader.said_keys import BEFORE_KEYS, NOW, said_keys
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.sounds_named import sound_named
from companion.leader.turns_of_phrase import TAKES_BACK, TurnOfPhrase
from companion.setlist import Notation

MAX_SAID: Final = 60  # characters of an ending in the leader's own words


class Guess(NamedTuple):
    """What a clause probably says of some songs."""

    about: SongsMeant
    field: str
    value: str | bool
    clause: GuessClause


def guesses(lines: Sequence[ReadLine], names: SongNames) -> Iterator[Guess]:
    """Yield what the clauses of a reply suggest, in its order."""
    for read in _with_lines_wrapped(lines):
        for clause in clauses_of(read, names):
            for field, reader in _READERS:
                if (value := reader(clause)) is not None:
                    yield Guess(clause.about, field, value, clause)


def _start(clause: GuessClause) -> str | None:
    return None if _sound(clause) else guessed_start(clause)


def _sound(clause: GuessClause) -> str | None:
    """Return the sound that a clause names for the keys, where nobody asks who starts."""
    is_asked = clause.field == "starts_with" or clause.sentence & (STARTS | COUNTS)
    ends = any(low in ENDS or manner_of(low, ends=True) for low in clause.sentence)
    if is_asked or ends or clause.is_carried or clause.denies or len(clause.lows) > MAX_SOUND:
        return None
    return sound_named(clause.line, clause.free) or None


MAX_SOUND: Final = 6  # words


def take_guesses(settling: ReplySettling, lines: Sequence[ReadLine]) -> None:
    """Add each guess as a doubtful value where nothing else is said of that field of its song."""
    take_segues(settling, lines)
    made = list(guesses(lines, settling.names))
    said = {(place, field) for _, place, field in settling.values}
    gone = {place for (_, place, field), one in settling.values.items() if field == "dropped" and one[-1].value}
    spoken_of = {place for place, _ in said}
    passed = {(one.song, one.field): one.words for one in settling.passed}
    taken: set[tuple[int, str]] = set()
    for guess in sorted(made, key=lambda one: one.about.is_rest):  # what is said of one song goes before what of all
        for place in _places(settling, guess):
            at = (place, guess.field)
            is_passed = at in passed and not (guess.field == "key" and passed[at] in guess.clause.line.text)
            is_open = at not in said and not is_passed and at not in taken and place not in gone
            is_open = is_open and not (guess.field == "dropped" and place in spoken_of)
            written = song_says(settling.song(place), guess.field)
            is_open = is_open and not (guess.field == "tempo" and _is_length_of_set(settling, guess))
            if not is_open or (written is not None and guess.field != "key"):
                continue
            taken.add(at)
            words = "; ".join((guess.clause.said, *_put_off(settling, guess, place)))
            value = ClaimedValue(guess.field, guess.value, words, corrects=False, line=guess.clause.line.text)
            settling.add(settling.names.songs[place][0], place, value)


def _put_off(settling: ReplySettling, guess: Guess, place: int) -> list[str]:
    """Take words that put a song off with the doubt whether it is played, which they are about: might go, we'll see."""
    line = guess.clause.line.text if guess.field == "dropped" else ""
    handed = [one for one in settling.passed if one.song == place and one.to == LATER and one.words in line]
    settling.passed[:] = [one for one in settling.passed if one not in handed]
    return [one.words for one in handed]


def _is_length_of_set(settling: ReplySettling, guess: Guess) -> bool:
    """Return whether a number is surely how long a set is: 2nd set an hour, third 55."""
    return any(
        place is None and field == "minutes" and str(one.value) == guess.value and one.line == guess.clause.line.text
        for (_, place, field), values in settling.values.items()
        for one in values
        if not one.doubt
    )


def _with_lines_wrapped(lines: Sequence[ReadLine]) -> Iterator[ReadLine]:
    """Yield the lines; one that goes on with the sentence above it is about the songs of that sentence."""
    before: ReadLine | None = None
    for read in lines:
        text = before.line.text if before else ""
        if (
            before
            and read.about is NOWHERE
            and read.line.text[:1].islower()
            and not text.endswith((".", "!", "?", ":"))
        ):
            named = [one.what for one in before.line.items if isinstance(one.what, SongsMeant) and one.what.songs]
            before = read._replace(about=named[-1] if named else before.about)
        else:
            before = read
        yield before


def _places(settling: ReplySettling, guess: Guess) -> Sequence[int]:
    about = guess.about
    if not about.is_rest and about.songs:
        return about.songs
    if guess.field == "dropped" and (about.is_rest or not about.sets):
        return ()
    sets = about.sets or tuple(range(len(settling.names.show.sets)))
    return [place for at in sets for place in settling.names.in_set(at) if not (about.is_rest and place in about.songs)]


# ------------------------------------------------------------------ how it ends


def _ending(clause: GuessClause) -> str | None:
    lows = clause.lows
    if set(lows) & _LEFT_OPEN or (clause.denies and not says_no_slowing(clause)):
        return None
    verbs = [at for at, low in enumerate(lows) if low in ENDS and not (at and lows[at - 1] == "full")]
    is_verb = any(lows[at] not in _NOUNS for at in verbs)
    if any(low.startswith("fade") and after in ("up", "in") for low, after in pairwise(lows)):
        return None
    if kind := ending_of(clause.line.words, clause.items[0].at, clause.items[-1].end):
        return kind
    if into := goes_into_other(clause):
        return into
    dies = next((at for at in clause.free if phrase_of(clause.line.words, at, DIES)), None)
    if dies is not None:
        return "fade"
    if _is_vamp(lows, ends=bool(verbs)):
        return "vamp-out"
    manners = [(at, manner) for at, low in enumerate(lows) if (manner := _manner(lows, at, ends=bool(verbs)))]
    stated = clause.stated("ending")
    if not verbs and (verb_of_starting(clause) is not None or is_of_many(clause.about)):
        return None
    if clause.is_carried and not verbs:
        return None
    if (
        stated is not None
        and not stated.firm
        and is_of_many(clause.about)
        and not any(lows[at] in _ENDS for at in verbs)
    ):
        return None  # and we stop for the bells
    if stated is not None and not stated.firm and "bar" in lows:
        return None  # the one with the stop in bar 12
    if stated is not None and (stated.firm or len(manners) < 2):
        return str(stated.value)
    if not manners and (not is_verb or is_of_many(clause.about)):
        return None
    kinds = {manner for _, manner in manners}
    if kinds == {"cold", "own"} and set(lows) & _WITH_COLD and not set(lows) & HELD:
        return "cold"  # stops cold with the hit
    if len(kinds) == 1 and "own" not in kinds:
        return kinds.pop()
    first = min([*verbs, *(at for at, _ in manners)])
    last = len(lows)
    while last > first and lows[last - 1] in SMALL:
        last -= 1
    has_words = last - first > 1 or bool(manners)
    is_plain = all(clause.line.words[at].kind in (WORD, NUMBER) for at in clause.free[first:last])
    if not has_words or not is_plain:
        return None
    return clause.line.said(clause.free[first], clause.free[last - 1] + 1)[:MAX_SAID]


def says_no_slowing(clause: GuessClause) -> bool:
    """Return whether what a clause denies is that the song slows down at its end."""
    return ending_of(clause.line.words, clause.items[0].at, clause.items[-1].end) == "cold"


def _is_vamp(lows: Sequence[str], *, ends: bool) -> bool:
    """Return whether a song ends with a vamp: ends on a vamp till I wave, vamp at the end, vamp."""
    is_verb = any(
        before in ("we", "i", "you", "they", "then", "and", "just") for before, low in pairwise(lows) if low == "vamp"
    )
    return ("vamp" in lows and (ends or is_verb or lows == ("vamp",))) or "vamp-out" in lows


_BEFORE_VERB: Final = set_of("we i you they then and just well")
_WITH_COLD: Final = set_of("hit hits bang with on stop stops dead")
_ENDS: Final = ENDS - {"stop", "stops"}
_NOUNS: Final = set_of("end ending endings fin final finale ende konec koniec konca kraj slut slot einde schluss")
_LEFT_OPEN: Final = set_of("ignore however whatever somehow somewhere")


def _manner(lows: Sequence[str], at: int, *, ends: bool) -> str:
    low, after = lows[at], lows[at + 1 : at + 4]
    if at and lows[at - 1] == "full" and low == "stop":
        return ""
    if low == "halt":
        return "own" if at and lows[at - 1] in ("dead", "full", "abrupt", "sudden", "complete") else ""
    if low == "cut" and set(after[:1]) & {"on", "off", "out"}:
        return "own"
    if low == "cold" and at and lows[at - 1] in ("a", "the"):
        return ""  # Jo has a cold
    if low == "slow":
        return "ritard" if set(after) & SLOWED else ""
    if low in ("hold", "held", "holds"):
        return "own" if set(after) & HELD or at == len(lows) - 1 else ""
    return manner_of(low, ends=ends)


# ------------------------------------------------------------------ not played, key


def _dropped(clause: GuessClause) -> bool | None:
    about = clause.about
    lows = clause.lows
    if about.sets and not about.songs and not about.is_rest:
        return True if not clause.is_carried and _is_only_no(lows) else None  # no encore
    if about.is_rest or about.sets or len(about.songs) > 3 or clause.keys:
        return None
    if set(lows) & NOT_GONE or any(manner_of(low, ends=False) for low in lows) or _cuts_off(lows):
        return None
    if ending_of(clause.line.words, clause.items[0].at, clause.items[-1].end):
        return None  # on coupe net
    if clause.stated("notes") is not None:
        return None  # play the rhodes, not the piano
    if set(lows) & CHARTS or any(phrase_of(clause.line.words, at, DIES) for at in clause.free):
        return None
    says = any(phrase_of(clause.line.words, at, GONE_PHRASES) or _may_go(clause, at) for at in clause.free)
    if clause.is_carried or len(lows) > MAX_DROPPING:
        return True if says else None
    is_stated = clause.stated("dropped") is not None and not set(lows) & OUT
    if any(follows_part(clause.line.words, at) for at in clause.free if clause.line.words[at].low in GONE | OUT):
        return None  # the bridge is cut
    is_gone = any(low in GONE for low in lows) and not clause.denies  # on ne coupe plus
    says = says or is_stated or is_gone or _is_off(lows)
    denies = any(low in DENIES for low in lows) and any(low in DOING for low in lows)
    is_no = [low for low in lows if low not in SMALL] == ["no"] and not clause.sentence & CHARTS and not clause.field
    return True if says or denies or is_no else None


def _may_go(clause: GuessClause, at: int) -> bool:
    """Return whether a clause ends by saying that a song may be dropped: "Moth might go", not "Moth might go up"."""
    words = clause.line.words
    end = at + phrase_of(words, at, MAY_GO)
    return end > at and (end >= len(words) or words[end].kind == SIGN)


def _is_only_no(lows: Sequence[str]) -> bool:
    rest = [low for low in lows if low not in SMALL]
    return len(rest) == 1 and rest[0] in _WITHOUT


_WITHOUT: Final = set_of(
    "no without skip cut drop ohne kein keine sans sin senza zonder geen utan ingen uden bez nincs sem"
)
MAX_DROPPING: Final = 12  # words of a clause that leaves a song out


_LEAVE: Final = set_of("laten laat lassen lass tar tager tas tager haal halen nehmen nemen")


def _is_off(lows: Sequence[str]) -> bool:
    """Return whether "off" or "out" leaves a song out: Moth is off for Friday, Moth out."""
    return any(
        low in OUT
        and (at == 0 or lows[at - 1] in IS or (at == len(lows) - 1 and bool(set(lows) & IS or set(lows) & _LEAVE)))
        and (at == len(lows) - 1 or lows[at + 1] in OUT_FOR)
        for at, low in enumerate(lows)
    )


def _cuts_off(lows: Sequence[str]) -> bool:
    """Return whether "cut" says how a song ends: cut on my fist."""
    return any(low == "cut" and after in ("on", "off") for low, after in pairwise(lows))


def _key(clause: GuessClause) -> str | None:
    """Return the one key after the one song that a piece names, where no word limits it; or the one said after "in"."""
    if (said := _said_key(clause)) is not None:
        return said
    keys = clause.keys
    named = [at for at, one in enumerate(clause.items) if isinstance(one.what, SongsMeant)]
    is_of_one = len(clause.about.songs) == 1 and not is_of_many(clause.about)
    if len(keys) != 1 or clause.is_carried or len(named) > 1 or not is_of_one:
        return None
    at = next(at for at, one in enumerate(clause.items) if isinstance(one.what, KeyFact))
    if keys[0].firm and not keys[0].then and named and _is_right_behind(clause, named[0], at):
        return keys[0].key  # Moth is G now not A, whatever the old sheet says; Moth Bm not like the record
    if clause.denies:
        return None
    between = clause.items[named[0] if named else 0 : at]
    if (named and named[0] > at) or len(between) > MAX_BETWEEN or set(clause.lows) & _OF_PARTS:
        return None
    return keys[0].key if keys[0].firm and not keys[0].then and not keys[0].denied else None


def _is_right_behind(clause: GuessClause, named: int, at: int) -> bool:
    """Return whether only "is", "in" and the like stand between a song and its key, and no part of it behind."""
    between = [clause.line.words[place].low for one in clause.items[named + 1 : at] for place in range(one.at, one.end)]
    is_said = named < at and all(one in BEFORE_KEYS for one in between)
    takes_back = any(isinstance(one.what, TurnOfPhrase) and one.what.says == TAKES_BACK for one in clause.items)
    behind = range(clause.items[at].end, clause.items[-1].end)
    denies_note = any(
        low(clause.line.words, one - 1) in DENIES and _NOTE.match(low(clause.line.words, one)) for one in behind
    )
    return (
        is_said and not (takes_back or denies_note) and not (set(clause.lows) & _OF_PARTS or clause.sentence & REACHING)
    )


_NOTE: Final = re.compile(r"[a-h](?:b|#|is|es)?$")  # Ab, not G sharp


def _said_key(clause: GuessClause) -> str | None:
    """Return the key that a clause about one song says: el grillo ya no va en mi menor, ahora va en fa."""
    if len(clause.about.songs) != 1 or is_of_many(clause.about) or clause.sentence & REACHING:
        return None
    words, items = clause.line.words, clause.items
    names = [one for one in items if isinstance(one.what, SongsMeant)]
    begin = names[-1].end if names else items[0].at
    said = list(said_keys(words, begin, items[-1].end, Notation.LETTERS))
    if names and len(said) > 1 and said[0].at <= begin + 1 and not said[0].is_denied:
        between = {words[at].low for at in range(said[0].end, said[1].at)}
        said = said[:1] if between & _RISES else said  # in Sol e sale in La alla fine
    keys = [one for one in said if not one.is_denied]
    if len(keys) != 1 or any(one.key == keys[0].key for one in said if one.is_denied):
        return None
    is_plain = bool(names) and keys[0].at <= begin + 1 and len(clause.keys) < 2
    if not (keys[0].is_after_in or (is_plain and len(said) == 1 and not clause.denies)):
        return None
    return keys[0].key if names or NOW.intersection(clause.lows) else None


_RISES: Final = set_of(
    "sale alza alziamo saliamo sube subimos sobe subimos monte montons hoch rauf steigt up modulates modulating modula "
    "moduliert module opp upp omhoog hoger"
)
MAX_BETWEEN: Final = 9  # items from a song to its key: we do a little lower than on the recording, in
_OF_PARTS: Final = set_of(
    "bridge verse verses chorus choruses solo intro outro coda end ending tag refrain strophe break modulates last if "
    "unless capo chord chords note shapes drop"
)


def _noted(clause: GuessClause) -> str | None:
    """Return what a clause states for the notes beside words that are not understood: the rhodes, not the piano."""
    stated = clause.stated("notes")
    return str(stated.value) if stated is not None and len(clause.about.songs) == 1 else None


_READERS: Final = (
    ("starts_with", _start),
    ("ending", _ending),
    ("dropped", _dropped),
    ("tempo", guessed_tempo),
    ("key", _key),
    ("notes", _noted),
    ("notes", _sound),
)
