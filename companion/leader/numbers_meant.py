"""Numbers in a reply that may mean songs: 2, the third one, 5 onwards; and those that count bars or people."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, WEAK_HOURS, folded_phrases
from companion.leader.players import PLAYERS
from companion.leader.reply_words import (
    CLOCK,
    NUMBER,
    ORDINALS,
    SIGN,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase_of,
    set_of,
)

BARS: Final = (
    "bar",
    "bars",
    "beat",
    "beats",
    "minutes",
    "min",
    "mins",
    "times",
    "chords",
    "hits",
    "choruses",
    "verses",
    "takte",
    "takten",
    "takter",
    "maten",
    "battute",
    "compases",
    "mesures",
    "compassos",
    "takty",
)
UNITS: Final = set_of(
    "bpm min mins minute minutes bar bars beat beats click clicks count counts people songs tunes numbers "
    "guys times x sec secs second seconds semitones steps frets % st th of hours weeks days dates sets "
    "verses choruses rounds repeats lines beers pints strophen versos couplets refrains strofe strofes coupletten "
    "singers players copies takte takten takter maten battute compases mesures compassos takty"
)
COUNTED_BEFORE: Final = set_of(
    "at bar bars page platform junction verse chorus take room channel fret step line level "
    "table tables gate dock stage door deck floor hall bus"
)
_SEVENTHS: Final = ("7", "9", "11", "13")
_ALL_BAR: Final = set_of("all everything everyone songs them lot others numbers")
OWNED_BEFORE: Final = set_of("have has had got need needs bring hire")
NOT_BEFORE_ONE: Final = set_of(
    "slow fast sad quick big long short loud quiet happy easy hard latin swing disco country funky opening closing "
    "that this the which last each no new old other another any every it's only"
)
_OF_ONE: Final = ("the", "that", "this")
EXCLAIMED: Final = set_of("oh ah sorry wait actually agh argh ugh aargh gah oops er um hang")
JOINS: Final = frozenset([",", "och", "og", "oraz", "and", "&", "+", "und", "et", "y", "e", "plus", "/"])
RANGES: Final = frozenset(["-", "–", "—", "to", "through", "thru", "bis", "till", "until"])
CALLED: Final = set_of(
    "# no nos nr nrs number song track nummer tune songs tunes numbers tracks num numero cislo numer szam"
)


FROM_NUMBER: Final = set_of("dalla del dal de da du des van od fra från fran z ze von vom from desde dos")
NUMBER_ARTICLES: Final = set_of("la le el il lo o a den de")  # de la 5 a la 7
UP_TO_NUMBER: Final = set_of("alla al a à au ao tot do til till t/m hasta ate fino bis to az")


# These mean nothing else between two numbers.
_UP_TO_ONLY: Final = folded_phrases(
    "tot en met | t / m | tm | up to | up to and including | through to | all the way to | jusqu à | jusqu'à | "
    "jusqua | til og med | t . o . m . | t o m | tom | till och med | bis einschließlich | bis einschliesslich | "
    "bis und mit | hasta | hasta la | hasta el | fino a | fino al | fino alla | até | até a | až | až po | až do | "
    "aż do | tot | till | til | bis zur | bis zum | bis nummer"
)


def up_to(words: Sequence[ReplyWord], at: int, end: int) -> int:
    """Return where the last number of a range may begin, after what joins it to the first: 4-7, 1 to 3, del 1 al 3.

    ``at``: where the first number begins, and ``end`` where it ends. 0 if no range follows.
    """
    if end >= len(words):
        return 0
    if many := phrase_of(words, end, _UP_TO_ONLY):
        return end + many
    begins = end + 1 + (words[end].low in UP_TO_NUMBER and low(words, end + 1) in NUMBER_ARTICLES)
    if words[end].low in RANGES:
        return begins
    if words[end].low not in UP_TO_NUMBER:
        return 0
    after_article = at > 1 and words[at - 1].low in NUMBER_ARTICLES and words[at - 2].low in FROM_NUMBER
    is_from = after_article or (at > 0 and words[at - 1].low in FROM_NUMBER)
    return begins if is_from or _is_plain_range(words, at, end, begins) else 0


def _is_plain_range(words: Sequence[ReplyWord], at: int, end: int, begins: int) -> bool:
    """Return whether a clause begins with two numbers of a range, and goes on about them: 6 à 8 : toutes en sol.

    "2 A 3 in G" and "2 a 3 in g" are two keys.
    """
    is_first = at == 0 or words[at - 1].kind == SIGN or words[at - 1].low in CALLED
    last = counted(list(words), begins) if begins < len(words) else None
    after = begins + last[1] if last else 0
    key = words[after + 1].text if after + 1 < len(words) else ""
    may_be_key = words[end].text in ("a", "do") and len(key) == 1 and key.islower()
    return is_first and words[end].text.islower() and low(words, after) in _OF_RANGE and not may_be_key


_OF_RANGE: Final = set_of(
    ": = in en em i w v ve sont sind son sono sao alle all alla todas todos toutes tous tutte tutti allemaal samtliga "
    "vse vsechno vsechny wszystkie"
)


_KEY: Final = re.compile(r"[A-G](?:[b#♭♯]m?|m)?$")


def is_in_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a capital letter is a key, and no small word: in E."""
    return low(words, at - 1) == "in" and _KEY.match(words[at].text) is not None


def is_dot(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a dot is here."""
    return at < len(words) and words[at].text == "."


def is_digit(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a number in digits is here."""
    return at < len(words) and words[at].kind == NUMBER


def ordinal_at(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read the third one, 3rd song: (3, the end)."""
    number = int(words[at].text) if words[at].is_ordinal else ORDINALS.get(words[at].low)
    follows = words[at + 1].low if at + 1 < len(words) else ""
    if number and follows in ("one", "song", "tune", "number"):
        return number, at + 2
    before = words[at - 1].low if at else ""
    if number and follows == "of" and at + 2 < len(words) and words[at + 2].low in ("set", "the"):
        return number, at + 1  # third of set 2
    if number and before == "the" and follows in ("in", "is", "starts", "ends", ":"):
        return number, at + 1
    if number and at + 1 < len(words) and words[at + 1].kind == WORD and _KEY.match(words[at + 1].text):
        return number, at + 1  # 1st Bb, 2nd F
    if number and words[at].is_ordinal and follows in (":", "="):
        return number, at + 1  # 1st: G
    ends = at + 1 >= len(words) or words[at + 1].kind == SIGN
    if number and before == "the" and ends and at > 1 and words[at - 2].low in ("for", "on"):
        return number, at + 1  # G for the second
    return None


def is_first_or_last(word: str) -> bool:
    """Return whether a word means the first ones or the last ones: premiers, letzten."""
    return word in _FIRSTS | _LASTS


def end_named(words: Sequence[ReplyWord], at: int) -> tuple[bool, int] | None:
    """Read the opener, the closing song, the last one: whether it is the first, and the end."""
    said = words[at].low
    is_short = said in ENDS_OF_SET
    if not is_short and not (
        said in ("last", "closing", "opening") and low(words, at + 1) in ("song", "tune", "number", "one")
    ):
        return None
    if said == "last" and is_set_with_time(words, at + 2):
        return None
    return said in ("opener", "opening"), at + 2 - is_short


def is_set_with_time(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "last one" is a set with its time, in a line about sets: second set 9.15, last one 10.30."""
    at += low(words, at) in ("at", "is", "from", "starts")
    says_set = any(word.low in ("set", "sets") for word in words[:at])
    is_timed = sum(word.kind == CLOCK for word in words) > 1  # set 2: the last one is 4:30
    return says_set and is_timed and at < len(words) and words[at].kind == CLOCK


ENDS_OF_SET: Final = ("opener", "closer", "afsluiter")


def is_said_of_song(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a place is said of the song that was named before it: "10 F and it's the closer"."""
    begins = at - 1 - (low(words, at - 2) in _SAYS_IT)
    return low(words, at - 1) in _BEFORE_PLACE and begins > 1 and low(words, at - 2) in _SAYS_IT


_BEFORE_PLACE: Final = set_of("the our a your")
_SAYS_IT: Final = set_of("it's its thats that's as is being")


def first_or_last(words: Sequence[ReplyWord], at: int) -> tuple[bool, int, int] | None:
    """Read the first three, last 2, die ersten drei, tres primeras: whether the first, how many, and the end."""
    if at + 1 >= len(words) or is_set_with_time(words, at + 2):
        return None
    if words[at].low in ("first", "last"):
        number = counted(list(words), at + 1)
        return (words[at].low == "first", number[0], at + 1 + number[1]) if number else None
    for ordinal, number_at in ((at, at + 1), (at + 1, at)):
        many = _many(words[number_at].low) or (counted(list(words), number_at) or (0, 0))[0]
        if words[ordinal].low in _FIRSTS | _LASTS and 1 < many <= MAX_FIRST:
            return words[ordinal].low in _FIRSTS, many, at + 2
    return None


def counts_songs(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether an ordinal number and a number count songs: first three of set two, the first 2 are in E."""
    found = first_or_last(words, at)
    return found is not None and low(words, found[2]) in _OF_SONGS


_OF_SONGS: Final = set_of("of in are from songs tunes numbers ones")


def _many(word: str) -> int:
    return HOURS.get(word, 0) if word not in WEAK_HOURS or word in _STRONG else 0


# Numbers that are no other word of their language, as "set" and the Dutch "het" are.
_STRONG: Final = set_of("tre sex sept dix dve tri pet")
MAX_FIRST: Final = 12  # songs
_FIRSTS: Final = set_of(
    "ersten eerste primi prime primeros primeras premiers premieres primeiros primeiras forste forsta prvnich pierwsze"
)
_LASTS: Final = set_of("letzten laatste ultimi ultime ultimos ultimas derniers dernieres sidste sista poslednich")


def are_bars(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether "the last eight" are bars: before the word, or where a song modulates."""
    if end < len(words) and words[end].low in ("set", "sets", *BARS):
        return True
    return any(one.low.startswith("modul") for one in words[:at])


def end_of_onwards(words: Sequence[ReplyWord], at: int, end: int) -> int:
    """Return the end of "5 onwards", "from 5 on"; 0 elsewhere."""
    follows = words[end].low if end < len(words) else ""
    before = words[at - 1].low if at else ""
    is_open = follows in ("onwards", "onward", "upwards") or (follows == "on" and before == "from")
    return end + 1 if is_open else 0


def may_be_number(words: Sequence[ReplyWord], at: int, end: int, *, called: bool) -> bool:
    """Return whether a number may mean a song: 112 bpm, 4 people and that one do not."""
    is_but = at > 1 and words[at - 1].low == "bar" and words[at - 2].low in _ALL_BAR  # everything bar 5
    heads = low(words, end) == ":" and end + 1 < len(words) and words[end + 1].kind == NUMBER  # tempo only at 7: 118
    if words[at].is_ordinal or (at and words[at - 1].low in COUNTED_BEFORE and not (called or is_but or heads)):
        return False
    if at and words[at].text in _SEVENTHS and words[at - 1].end == words[at].start and _KEY.match(words[at - 1].text):
        return False  # Dm7 is a chord
    if end < len(words) and words[end].low in UNITS and not called:
        return False
    if at and words[at - 1].low in ("first", "last") and _has_player(words, at):
        return False  # horns on their own first 4
    if at and words[at - 1].low in OWNED_BEFORE and end < len(words) and words[end].low in PLAYERS:
        return False  # we have 2 guitars
    follows = words[end].low if end < len(words) else ""
    if (
        at
        and words[at - 1].low in ("all", "these", "those", "both")
        and not called
        and follows not in RANGES | JOINS | {")", ":"}
    ):
        return False  # all four in C
    is_oh_no = at > 1 and words[at - 1].low == "no" and words[at - 2].low in EXCLAIMED  # oh no three is in A
    is_that_one = words[at].kind == WORD and at > 0 and words[at - 1].low in NOT_BEFORE_ONE
    is_that_one = is_that_one or (words[at].low == "one" and at > 1 and words[at - 2].low in _OF_ONE)  # the train one
    return called or is_oh_no or not (is_that_one or _is_first_beat(words, at))


def _is_first_beat(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a "one" is the beat on which a song ends: auf der Eins, op de een, sur le un."""
    before = at - 1 - (at > 0 and words[at - 1].low in _BEAT_ARTICLES)
    return words[at].low in _ONES and before >= 0 and words[before].low in _ON


_ONES: Final = set_of("one eins een un uno um ett en")
_ON: Final = set_of("on auf op sur sul sull en no pa")
_BEAT_ARTICLES: Final = set_of("the der die de het le la el l")


def is_beat(words: Sequence[ReplyWord], at: int, *, ends: bool) -> bool:
    """Return whether a number counts beats of a bar: "cold on the 4", "on beat 3", "the and of 2".

    ``ends``: the clause says how a song ends.
    """
    before = [words[one].low if one >= 0 else "" for one in (at - 1, at - 2)]
    if before[0] in _BEATS or before == ["of", "and"]:
        return True
    return ends and before in _ON_THE


_BEATS: Final = set_of("beat beats zahlzeit schlag temps tiempo tel slag")
_ON_THE: Final = (
    ["the", "on"],
    ["die", "auf"],
    ["der", "auf"],
    ["le", "sur"],
    ["el", "en"],
    ["de", "op"],
)


def _has_player(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether the clause before a word names a player."""
    while at > 0 and words[at - 1].kind != SIGN:
        at -= 1
        if words[at].low in PLAYERS:
            return True
    return False
