"""Titles that are typed in haste, or of which a reply has only a part: a word, the beginning of a word, a stem."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from rapidfuzz import fuzz

from companion.leader.guess_words import BEGINS, player_of
from companion.leader.players import PLAYERS
from companion.leader.reply_words import COUNTED, ORDINALS, TENS, WORD, ReplyWord, low, set_of

ALIKE: Final = 84  # per cent alike: a title typed in haste
OF_TITLE: Final = 65  # per cent that each word must be like one of the title's: an answer is not part of it
APART: Final = 8  # per cent that the next title must be less alike
SHORT: Final = 3  # letters of a word that may name a song only right before its answer
LIKE_FURTHER: Final = 70  # per cent
LEAST_LIKE: Final = 5  # letters of words that are nearly a title's
LEAST_STEM: Final = 5  # letters of a stem that a title has within a longer word
LEAST_FORM: Final = 4  # letters that two forms of a word have in common
MAX_ENDING: Final = 3  # letters in which two forms of a word differ
SMALL: Final = set_of(
    "the a an of on in at to and my your no one is it le la les der die das pour fur por para per de du van und et och"
)
ALONE_TOO_COMMON: Final = set_of(
    "allein alleine alone seul seule solo sozinho ensam alene alleen nach ohne mit von uber unter zwischen avec sans "
    "pour dans sous senza sopra sotto sobre hasta entre para voor naar over onder zonder efter utan mellan before "
    "after keys key cold last long first second third home live record start starts end ends ending drum drums bass "
    "guitar solo intro set song songs slow fast new old now not out cut drop fade chart yes all band link piano organ "
    "you your people version night tonight time today late early other rest same with wrong right left down up over "
    "under through across back away again only just still never always ever more less next after before when where "
    "button what who why how some any none both each every here there then tomorrow off leave stay go going come "
    "coming take give make made want need one two three four five six seven eight nine ten good bad lower higher "
    "slower faster longer shorter big little great high low hard easy loud quiet about around into onto from for but "
    "this that these those sista sist siste sidste letzte letzter letztes letzten dernier derniere ultimo ultima "
    "laatste sing play alla alle allo agli dalla dalle dello della delle degli nella nelle nello sulla sulle sullo aux "
    "said says told mean means meant thought asked pela pelo beim kein keine keinen keiner nicht niet mein meine "
    "meinen mijn onze unser unsere notre nuestro nuestra nostro nostra minha nosso nossa vores"
)
_BEFORE_KEYS: Final = set_of(
    "nach naar vers von vom auf mit bei dans avec pour sous con per por para med till fran til hasta bis still goes "
    "moves play plays take takes nehmen jetzt nun dann puis then luego poi adesso ahora maintenant encore toujours"
)
_NUMBERS: Final = COUNTED.keys() | TENS.keys() | ORDINALS.keys()
# Kinds of songs: a word of a title, but behind other words what a song is like: "4 in G, slow blues".
KINDS_OF_SONGS: Final = set_of(
    "blues waltz tango samba bossa shuffle ballad reel jig polka swing rumba salsa rock disco reggae march walzer "
    "valse vals bolero"
)
_NO_TITLES: Final = _BEFORE_KEYS | SMALL | ALONE_TOO_COMMON | PLAYERS.keys() | _NUMBERS


def nearly(phrase: str, titles: Sequence[str]) -> tuple[tuple[int, ...], float]:
    """Return the one title that the phrase, or a phrase as long at its start, is nearly like."""
    many, least = phrase.count(" ") + 1, ALIKE - APART
    alike: list[tuple[float, int]] = []
    for at, title in enumerate(titles):
        start = " ".join(title.split(" ", many)[:many])
        ratio = fuzz.ratio(phrase, start, score_cutoff=least) or fuzz.ratio(phrase, title, score_cutoff=least)
        if ratio:
            alike.append((ratio, at))
    alike.sort(reverse=True)
    if not alike or alike[0][0] < ALIKE or (len(alike) > 1 and alike[1][0] > alike[0][0] - APART):
        return (), 0
    score, at = alike[0]
    said, meant = phrase.split(), titles[at].split()
    are_of_title = all(any(_is_like(one, word) for word in meant) for one in said)
    return ((at,), score) if are_of_title else ((), 0)


def with_short_word(said: str, title_words: Sequence[frozenset[str]], *, is_first: bool) -> tuple[int, ...]:
    """Return the songs whose title has a word of three letters, or one that begins or ends so: "Urn: C", "Bastu G".

    ``is_first``: the clause begins with it.
    """
    if said in SMALL | ALONE_TOO_COMMON | PLAYERS.keys() or said in COUNTED or not said.isalpha():
        return ()
    if said in _BEFORE_KEYS and not is_first:
        return ()
    found = tuple(at for at, title in enumerate(title_words) if said in title)
    if len(said) > SHORT or (is_first and not found):
        found = tuple(at for at, title in enumerate(title_words) if any(one.startswith(said) for one in title))
    if len(said) > SHORT and not found:
        found = tuple(at for at, title in enumerate(title_words) if any(one.endswith(said) for one in title))
    return found


def within_nearly(phrase: str, titles: Sequence[str], *, by_form: bool = False) -> tuple[int, ...]:
    """Return the song of which some words are nearly as said right before an answer: "inchmarow C", "bullarna Hm".

    ``by_form``: a word that differs from the title's in its last letters is enough.
    """
    said = phrase.split()
    if len(phrase) < LEAST_LIKE or all(one in _NO_TITLES for one in said):
        return ()
    found: list[tuple[float, int]] = []
    for at, title in enumerate(titles):
        parts = title.split()
        runs = (" ".join(parts[one : one + len(said)]) for one in range(len(parts) - len(said) + 1))
        if len(said) < len(parts) and phrase.replace(" ", "") in map("".join, pairwise(parts)):
            found.append((100, at))  # tinroof, of Tin Roof Rain
            continue
        ratio = max((fuzz.ratio(phrase, run) for run in runs if run[0] == phrase[0]), default=0)
        stem = phrase[: max(LEAST_STEM, len(phrase) - MAX_ENDING)]
        if len(said) == 1 and len(phrase) > LEAST_STEM and any(stem in part for part in parts):
            ratio = max(ratio, ALIKE)
        if by_form and len(said) == 1 and any(is_form(phrase, part) for part in parts):
            ratio = max(ratio, ALIKE)
        if ratio >= ALIKE:
            found.append((ratio, at))
    found.sort(reverse=True)
    return (found[0][1],) if found and (len(found) == 1 or found[1][0] <= found[0][0] - APART) else ()


def goes_on(title: str, words: Sequence[ReplyWord], many: int) -> bool:
    """Return whether a word after the first of a title's is like one of the title that is not said by those."""
    rest = set(title.split()) - {word.low for word in words[:many]} - SMALL
    further = [word.low for word in words[many:] if word.low not in SMALL]
    return any(fuzz.ratio(said, one) >= LIKE_FURTHER or _shortens(said, one) for said in further for one in rest)


def _shortens(said: str, word: str) -> bool:
    """Return whether a word may stand for a longer one: rd for road."""
    letters = iter(word)
    return said[:1] == word[:1] and said[-1:] == word[-1:] and all(one in letters for one in said)


def is_form(said: str, word: str) -> bool:
    """Return whether two words differ only in their last letters: Lokomotivu and Lokomotiva, kissing and kiss."""
    same = next(
        (at for at, (one, two) in enumerate(zip(said, word, strict=False)) if one != two), min(len(said), len(word))
    )
    return same >= LEAST_FORM and max(len(said), len(word)) - same <= MAX_ENDING and len(word) >= LEAST_FORM


def _is_like(said: str, word: str) -> bool:
    """Return whether a word may be a title's word in haste; one with another first letter must be more like it."""
    return fuzz.ratio(said, word) >= (OF_TITLE if said[0] == word[0] else ALIKE)


def is_kind_of_song(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word says what kind of song another is: behind a word, but not behind "the" or "and"."""
    before = words[at - 1] if at else None
    is_behind = before is not None and before.kind == WORD and before.low not in SMALL
    return is_behind and words[at].low in KINDS_OF_SONGS


def is_halved(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether a lone "half" is of the next word, and no title: half speed intro."""
    is_lone = end == at + 1 and words[at].low == "half"
    return is_lone and end < len(words) and words[end].low in _HALVED


_HALVED: Final = set_of("speed time tempo tone step note beat bar hour minute volume way")


def is_pointed_at(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether a word stands between "the" and "one", or is joined to "song": the kissing one, das Kuss-Lied."""
    is_joined = low(words, end) == "-" and low(words, end + 1) in _SONG
    return is_joined or (low(words, at - 1) in ("the", "that") and low(words, end) in ("one", "ones"))


_SONG: Final = set_of("lied song stuck nummer titel ding laten sangen liedje nummertje stuk tune number thing one")


def first_letters(title: str) -> str:
    """Return the first letter of each word of a title: LKA, of Last Kiosk Alive."""
    return "".join(word[0] for word in title.split())


def typed(words: Sequence[ReplyWord], at: int, end: int) -> str:
    """Return some words as they are typed, one space between them."""
    return " ".join(word.text for word in words[at:end])


def is_player_who_starts(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether one word is a player who starts, and no part of a title: c'est l'accordéon qui commence."""
    verb = end + (low(words, end) in _WHO)
    return end == at + 1 and low(words, verb) in BEGINS and player_of(words[at].low) != ""


_WHO: Final = set_of("qui who che que quien die der das som ktory ktora")
