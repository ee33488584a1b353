"""Words of a reply that are no facts: doubts, corrections, "ask Pat", "as the record", greetings, and words between."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.courtesies import COURTEOUS
from companion.leader.hour_words import folded_phrases
from companion.leader.key_joins import SAYS
from companion.leader.key_words import SOLFEGE, is_portuguese_in
from companion.leader.numbers_meant import FROM_NUMBER, NUMBER_ARTICLES, RANGES, UP_TO_NUMBER, is_first_or_last
from companion.leader.phrase_lists import (
    AS,
    AS_SHOWN,
    ASKS,
    COLOURS,
    CORRECTIONS,
    DONT_KNOW,
    FILLED,
    FILLERS,
    HEDGES,
    JOKES,
    KNOWS,
    LAST_TIME,
    MOVED,
    NOTS,
    QUESTIONS,
    RECORDED,
    RECORDS,
    RESTS,
    RETRACTIONS,
    SAME_AGAIN,
    STAYS,
    YOU_DECIDE,
)
from companion.leader.players import PLAYERS
from companion.leader.reply_words import (
    COUNTED,
    NUMBER,
    SIGN,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    phrases,
    set_of,
    words_of,
)
from companion.leader.said_of_record import record_clause

HEDGE: Final = "hedge"
NOT: Final = "not"
CORRECT: Final = "correct"
FILLER: Final = "filler"  # words that mean nothing beside a fact
COLOUR: Final = "colour"  # common words that may change what a fact means
UNKNOWN_TO_LEADER: Final = "not known"
AS_RECORD: Final = "as the record"
ASKED_FOR: Final = "asked for"
REST: Final = "the rest"
EXCEPT: Final = "except"
NEITHER: Final = "neither"
DITTO: Final = "ditto"
TAKES_BACK: Final = "takes back"
JOKED: Final = "was a joke"
LAST: Final = "last time"
THE_LIST: Final = "the list"


class TurnOfPhrase(NamedTuple):
    """A turn of phrase, where its words end, and what it names: whom to ask, the question that it is about."""

    kind: str
    end: int
    says: str = ""


_KEY: Final = re.compile(r"[A-G](?:[b#♭♯])?m?$")
_QUESTION_OF: Final = {word: field for field, words in QUESTIONS.items() for word in words.split()}
# The two songs that were named.
BOTH: Final = folded_phrases(
    "both | both of them | both of these | both of those | beide | beides | tous les deux | toutes les deux | "
    "les deux | los dos | las dos | ambos | ambas | entrambi | entrambe | tutti e due | tutte e due | os dois | "
    "as duas | allebei | alle twee | begge | begge to | båda | båda två | bägge | oba | obie | obě | obe | mindkettő | "
    "molemmat | els dos | les dues | y ddau"
)
ALL_OF_THEM: Final = set_of(
    "alle alla tous tutti todos samtliga todo todas todos tout toute toutes kaikki tot totes tots sve svi vsi "
    "alt allt alles allemaal tutto tutte vsechny vsechno vse wszystko wszystkie mind minden"
)
THANKED: Final = set_of("thanks thank thx cheers ta regards love best danke merci grazie xx xxx")
DROPPERS: Final = set_of("drop cut lose skip ditch omit forget bin scrap")
_WAITED_FOR: Final = set_of("for until till til while to")  # wait for the singer, hold on to the last note
_SMALL: Final = set_of("the a our my your it him her them me you about")


_NONE: Final = set_of("no none nothing keine kein pas aucun aucune sin ninguno niente nessuno geen inga ingen brak")
_ONLY_FOR: Final = phrases(
    "only for | just for | only on | only | nur für | nur bei | seulement pour | sólo para | solo para | solo per | "
    "alleen voor | bara för | kun til | tylko do | jen pro"
)


def question_named(text: str) -> str:
    """Return the field of the one question that words name: starts_with of "we both start it"; else ""."""
    fields = {_QUESTION_OF[word.low] for word in words_of(text) if word.low in _QUESTION_OF}
    return fields.pop() if len(fields) == 1 else ""


def is_joke(text: str) -> bool:
    """Return whether words take back a joke."""
    words = words_of(text)
    return any(phrase_of(words, at, JOKES) for at in range(len(words)))


def turn_at(words: Sequence[ReplyWord], at: int, *, after_song: bool = False) -> TurnOfPhrase | None:
    """Read the turn of phrase that takes the most words from here. ``after_song``: a song is named right before it."""
    found = [one for one in _turns(words, at) if one.end > at]
    if after_song and (many := _record_alone(words, at)):
        found.insert(0, TurnOfPhrase(AS_RECORD, at + many, "the record"))
    begins = after_song or at == 0 or words[at - 1].kind in (SIGN, NUMBER)
    if begins and (end := record_clause(words, at)) > at:
        found.insert(0, TurnOfPhrase(AS_RECORD, end, "the record"))
    return max(found, key=lambda one: one.end, default=None)


def _stays(words: Sequence[ReplyWord], at: int) -> int:
    """Return how many words at the end of a clause say that a song stays as it is: 3 stays."""
    many = phrase_of(words, at, STAYS)
    return many if at > 0 and (at + many == len(words) or words[at + many].kind == SIGN) else 0


def _turns(words: Sequence[ReplyWord], at: int) -> list[TurnOfPhrase]:
    if words[at].low == "~" and at > 0:
        return [TurnOfPhrase(HEDGE, at + 1)]
    if words[at].kind == SIGN and words[at].low != "?":
        return [TurnOfPhrase(FILLER, at + 1)]  # no phrase begins with another sign
    found: list[TurnOfPhrase] = []
    for kind, choices in ((HEDGE, HEDGES), (CORRECT, CORRECTIONS), (REST, RESTS)):
        if many := phrase_of(words, at, choices):
            found.append(TurnOfPhrase(kind, at + many))
    if (many := phrase_of(words, at, MOVED)) and at + many < len(words) and _KEY.match(words[at + many].text):
        found.append(TurnOfPhrase(CORRECT, at + many))
    if many := phrase_of(words, at, JOKES):
        found.append(TurnOfPhrase(CORRECT, at + many, JOKED))
    if (many := phrase_of(words, at, RETRACTIONS)) and low(words, at + many) not in _WAITED_FOR:
        goes_on = at + many < len(words) and words[at + many].kind != SIGN
        is_of_clause = words[at].low == "wrong" and at > 0 and words[at - 1].kind != SIGN and goes_on
        found.append(TurnOfPhrase(COLOUR, at + many) if is_of_clause else TurnOfPhrase(CORRECT, at + many, TAKES_BACK))
    if many := phrase(
        words,
        at,
        "except",
        "except for",
        "apart from",
        "bar",
        "besides",
        "other than",
        "but not",
        "ausser",
        "sauf",
        "save for",
        "excluding",
        "undtagen",
        "utom",
        "menos",
        "excepto",
        "salvo",
        "tranne",
        "behalve",
        "aside from",
        "paitsi",
        "excepte",
        "osim",
        "razen",
        "krome",
        "oprocz",
    ):
        found.append(TurnOfPhrase(EXCEPT, at + many))
    is_but = at > 0 and words[at - 1].kind == SIGN and any(one.low in _NONE for one in words[max(at - 5, 0) : at])
    if is_but and (many := phrase_of(words, at, _ONLY_FOR)):
        found.append(TurnOfPhrase(EXCEPT, at + many))  # no charts, only for 7
    found = [*_passing_on(words, at), *found]
    said = low(words, at)
    if said in THANKED:
        found.append(TurnOfPhrase(FILLER, _end_of_courtesy(words, at)))
    if said in DROPPERS and low(words, at + 1) == "the":
        found.append(TurnOfPhrase(NOT, at + 1))  # lose the tag
    if said in _QUESTION_OF:
        found.append(TurnOfPhrase(ASKED_FOR, at + 1, _QUESTION_OF[said]))
    contrast = phrase(words, at, "instead of", "rather than", "nothing like", "anything but")
    if (
        said in ("no", "nope", "nein")
        and low(words, at + 1) in (",", ":", "sorry", "wait", "actually")
        and (at == 0 or words[at - 1].kind == "sign")
    ):
        found.append(TurnOfPhrase(CORRECT, at + 1))
    elif said in ("neither", "nor", "weder"):
        found.append(TurnOfPhrase(NEITHER, at + 1))
    elif said in NOTS or contrast:
        found.append(TurnOfPhrase(NOT, at + max(contrast, 1)))
    many = phrase(words, at, "any more", "anymore", "any longer")
    if many and any(word.low in NOTS or word.low in ("arent", "stopped") for word in words[max(at - 12, 0) : at]):
        found.append(TurnOfPhrase(FILLER, at + many))
    if (many := phrase_of(words, at, BOTH)) and not is_first_or_last(low(words, at + many)):
        found.append(TurnOfPhrase(FILLER, at + many))  # not: les deux premiers
    if signature := _signature(words, at):
        found.append(TurnOfPhrase(FILLER, at + signature))
    if said in FILLERS or words[at].kind == SIGN or _is_plain(words, at) or said in ALL_OF_THEM:
        found.append(TurnOfPhrase(FILLER, at + 1))
    elif said in COLOURS:
        found.append(TurnOfPhrase(COLOUR, at + 1))
    return found


def _signature(words: Sequence[ReplyWord], at: int) -> int:
    """Return how many words say a key's flats or sharps, which name no song: two flats, (also zwei b); else 0."""
    number = counted(list(words), at)
    if number is None or not 0 < number[0] <= MOST_SIGNS:
        return 0
    sign = low(words, at + number[1])
    is_short = sign in ("b", "#", "♭", "♯", "kreuz") and low(words, at - 1) in ("(", "also", "mit", "with", "avec")
    return number[1] + 1 if sign in _SIGNS or is_short else 0


MOST_SIGNS: Final = 7  # flats or sharps of a key
_SIGNS: Final = set_of(
    "flats sharps kreuze bemols dieses bemoles sostenidos bemolli diesis mollen kruisen bemois sustenidos fortecken bs"
)


def _passing_on(words: Sequence[ReplyWord], at: int) -> list[TurnOfPhrase]:
    """Read words that pass a question on, say the same again, or say who speaks."""
    found: list[TurnOfPhrase] = []
    if many := phrase_of(words, at, DONT_KNOW):
        found.append(TurnOfPhrase(UNKNOWN_TO_LEADER, at + many))
    if many := phrase_of(words, at, YOU_DECIDE):
        found.append(TurnOfPhrase(UNKNOWN_TO_LEADER, at + many, "you"))
    if many := phrase_of(words, at, SAME_AGAIN):
        found.append(TurnOfPhrase(DITTO, at + many))
    if many := phrase_of(words, at, FILLED):
        found.append(TurnOfPhrase(FILLER, at + many))
    if (end := _as_record(words, at)) > at:
        found.append(TurnOfPhrase(AS_RECORD, end, "the record"))
    if many := phrase_of(words, at, LAST_TIME):
        found.append(TurnOfPhrase(AS_RECORD, at + many, LAST))
    if many := phrase_of(words, at, AS_SHOWN) or _stays(words, at):
        found.append(TurnOfPhrase(AS_RECORD, at + many, THE_LIST))
    found += _asks(words, at)
    if (end := _says(words, at)) > at:
        found.append(TurnOfPhrase(HEDGE, end))
    if (end := _names_the_writer(words, at)) > at:
        found.append(TurnOfPhrase(FILLER, end))
    return found


def _is_plain(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word means nothing here: we're, where "were" is the past; from 5 to 7."""
    said, follows = words[at].low, words[at + 1] if at + 1 < len(words) else None
    if said == "from":
        return follows is not None and (follows.kind == NUMBER or follows.low in COUNTED)
    if said in FROM_NUMBER and low(words, at + 1) in NUMBER_ARTICLES and low(words, at + 3) in _UP_TO:
        return True  # de la 5 a la 7
    if said in FROM_NUMBER and follows is not None and follows.kind == NUMBER and low(words, at + 2) in _UP_TO:
        return True  # dalla 5 alla 7
    if said in _YES and at > 0 and _is_yes_after_key(words, at):
        return True  # lavoir: sol oui
    if words[at].text in ("é", "É") or is_portuguese_in(words, at):
        return True  # a 1 é em Lá
    if said in ("x", "xx", "xxx"):
        return follows is None or follows.kind != NUMBER
    if said in _BEFORE_KEY:
        return follows is not None and _KEY.match(follows.text) is not None and follows.text != "A"
    return said == "were" and words[at].text.casefold() != "were"


def _is_yes_after_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a "yes" ends the clause of a key: the key is right."""
    ends = at + 1 >= len(words) or words[at + 1].kind == SIGN
    return ends and (_KEY.match(words[at - 1].text) is not None or words[at - 1].low in SOLFEGE)


_YES: Final = set_of("oui ja jo sim tak ano igen joo jawohl genau exact esatto exacto precis")
_UP_TO: Final = RANGES | UP_TO_NUMBER
_BEFORE_KEY: Final = set_of("je jsou v ve w jest som")  # in and is, in Czech and Polish: 3 je D, vsechny v C
_JOINING: Final = set_of("if as wait any")


def _end_of_courtesy(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of words of thanks, with a name that ends the sentence: thanks for doing this, thanks Ros."""
    end = at + 1
    while end < len(words) and words[end].kind == WORD and low(words, end) in COURTEOUS - _JOINING:
        end += 1
    ends = end + 1 >= len(words) or words[end + 1].kind == SIGN
    initial = end + (low(words, end) == ",")
    if initial == len(words) - 1 and words[initial].kind == WORD and len(words[initial].text) == 1:
        return initial + 1  # ta, B
    is_name = end < len(words) and ends and words[end].kind == WORD and words[end].text[:1].isupper()
    return end + 1 if is_name and len(words[end].text) > 2 else end


def _says(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of "Tess says" and "according to Tess", who may be wrong; 0 elsewhere."""
    if many := phrase(words, at, "according to"):
        named = at + many + (low(words, at + many) in ("the", "our"))
        return named + 1 if named < len(words) and words[named].kind == WORD else 0
    begins = at + (low(words, at) in ("the", "our"))
    is_name = (
        words[at].text[:1].isupper()
        and len(words[at].text) > 1
        and not _KEY.match(words[at].text)
        and words[at].low not in _SMALL
    )
    is_who = begins > at or is_name
    says = low(words, begins + 1) in SAYS and words[begins].kind == WORD
    return begins + 2 + (low(words, begins + 2) in ("that", "it's", "its")) if is_who and says else 0


def _names_the_writer(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of the name of who writes: "it's Marnie" after a greeting, "Marnie here"; 0 elsewhere."""
    greeted = any(word.low in _GREETED for word in words[max(at - 3, 0) : at])
    is_named = low(words, at) in ("its", "it's") and greeted
    if is_named and low(words, at + 1) == "the" and low(words, at + 2) in PLAYERS:
        return at + 3  # hi, it's the drummer
    named = at + is_named
    if named >= len(words) or not (words[named].kind == WORD and words[named].text[:1].isupper()):
        return 0
    if is_named:
        return named + 1 + (low(words, named + 1) == "here")
    return at + 2 if low(words, at + 1) == "here" and (at == 0 or greeted or words[at - 1].kind == SIGN) else 0


_GREETED: Final = set_of("hi hiya hello hey morning mornin evenin howdy afternoon evening alright love mate")


def _as_record(words: Sequence[ReplyWord], at: int) -> int:
    """Read as the record, same as on the recording, original key."""
    if many := phrase_of(words, at, AS):
        if record := phrase_of(words, at + many, RECORDS):
            return at + many + record
        if low(words, at + many) == "the" and (record := phrase_of(words, at + many + 1, RECORDS)):
            return at + many + 1 + record
    if (many := phrase_of(words, at, RECORDS)) and _is_whole_answer(words, at, at + many):
        return at + many  # 5 + 12 record
    return at + phrase_of(words, at, RECORDED)


def _is_whole_answer(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether words stand alone after a number, a sign, or at the start, and nothing follows in the clause."""
    before = words[at - 1] if at else None
    begins = before is None or before.kind in (NUMBER, SIGN) or before.low in ("is", "are", "key")
    ends = end >= len(words) or words[end].text in (".", ",", ";", "!", ")", "(", "-", "–")
    return begins and (ends or words[end].kind == NUMBER)


def _record_alone(words: Sequence[ReplyWord], at: int) -> int:
    """Return how many words say "record" and no more, right after a song: "7 record 8 G", "2 matches record"."""
    begins = at + (low(words, at) in ("matches", "match", "follow", "follows", "="))
    begins += begins > at and low(words, begins) in ("the", "same")
    many = phrase_of(words, begins, RECORDS)
    end = begins + many
    return end - at if many and (end >= len(words) or words[end].kind in (SIGN, NUMBER)) else 0


def _asks(words: Sequence[ReplyWord], at: int) -> list[TurnOfPhrase]:
    """Read: ask Pat, Pat knows, the singer knows."""
    if many := phrase_of(words, at, ASKS):
        named = at + many + (low(words, at + many) in ("the", "our"))
        if named < len(words) and words[named].kind == WORD and (words[named].low not in _SMALL):
            end = named + 1
            if low(words, end) in ("and", "or") and end + 1 < len(words) and words[end + 1].text[:1].isupper():
                end += 2
            who = " ".join(word.text for word in words[named:end])
            article = f"{words[named - 1].low} " if named > at + many else ""
            end += phrase(words, end, "about that", "about it", "about this", "about that one", "for that", "please")
            return [TurnOfPhrase(UNKNOWN_TO_LEADER, end, article + who)]
    begins = at + (low(words, at) in ("the", "our"))
    if begins < len(words) and words[begins].kind == WORD and (many := phrase_of(words, begins + 1, KNOWS)):
        who = words[begins].text if begins == at else f"{words[at].low} {words[begins].text}"
        if words[begins].low not in _SMALL and words[begins].low not in (
            "who",
            "nobody",
            "everyone",
            "i",
            "he",
            "she",
            "they",
        ):
            end = begins + 1 + many
            end += phrase(words, end, "that one", "that", "this one", "it", "about that", "better")
            return [TurnOfPhrase(UNKNOWN_TO_LEADER, end, who)]
    return []
