"""How long a song is, in words: lasts four and a half minutes, dura 5 minutos, höchstens 6 Minuten."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, folded_phrases, folded_words
from companion.leader.reply_words import FRACTION, NUMBER, SIGN, WORD, ReplyWord, counted, low, phrase_of, set_of
from companion.leader.stated_fact import StatedFact

LONGEST_SAID: Final = 20  # minutes; a set is longer
# What a heading calls them.
LENGTHS: Final = folded_words(
    "length lengths duration durations länge längen dauer spieldauer spielzeiten laufzeit laufzeiten durée durées "
    "duración duraciones durata durate duração durações lengte lengtes speelduur längd längder længde længder lengde "
    "lengder délka délky"
)
_LASTS: Final = folded_phrases(
    "lasts | lasting | runs | runs for | runs to | is | its | it's | it is | goes on for | takes | comes in at | "
    "dauert | geht | läuft | ist | dure | ça dure | dura | durano | duran | duurt | is | varar | varer | är | er | "
    "trwa | trvá | traje | tart"
)
_MOST: Final = folded_phrases(
    "must not be longer than | mustn't be longer than | can't be longer than | shouldn't be longer than | "
    "should not be longer than | can not be longer than | cannot be longer than | not be longer than | "
    "must not be more than | must be under | darf nicht länger sein als | darf nicht länger als | "
    "ne doit pas dépasser | no debe durar más de | no puede durar más de | non deve durare più di | "
    "não pode passar de | mag niet langer dan | mag niet langer duren dan | får inte vara längre än | "
    "må ikke være længere end | må ikke være lengre enn | "
    "not more than | no more than | no longer than | not longer than | not over | never more than | at most | max | "
    "max . | maximum | under | just under | keep it under | keep it to | keep to | keep it below | less than | up to | "
    "maximal | höchstens | hoechstens | nicht länger als | nicht mehr als | pas plus de | pas plus que | au plus | "
    "au maximum | moins de | máximo | como máximo | no más de | menos de | como mucho | al massimo | massimo | "
    "non più di | meno di | no máximo | não mais de | não mais que | högst | max | inte mer än | inte längre än | "
    "højst | ikke mere end | ikke længere end | maks | maksimalt | høyst | ikke mer enn | ikke lenger enn | "
    "niet langer dan | niet meer dan | hooguit | hoogstens | maximaal | najwyżej | maksymalnie | nie dłużej niż | "
    "nejvýš | maximálně | ne déle než"
)
_NO_MORE: Final = folded_phrases(
    "max | maximum | tops | at most | at the most | not longer | no longer | not more | no more | or less | "
    "and not longer | and no longer | and no more | not a second more | maximal | höchstens | nicht länger | "
    "nicht mehr | maximum | pas plus | au plus | máximo | como máximo | no más | al massimo | massimo | non di più | "
    "no máximo | não mais | högst | inte längre | inte mer | højst | ikke længere | ikke mere | ikke lenger | "
    "niet langer | hooguit | maximaal | niet meer"
)
_ABOUT: Final = folded_words(
    "about around roughly circa ca approx environ etwa ungefähr ca. rond ongeveer omkring ungefär unos casi cerca "
    "quasi quase okolo około asi"
)
_MINUTE: Final = folded_words(
    "min mins minute minutes minuten minuut minutos minuto minuti minutter minutt minuter minut minuta minuty minutę"
)
_PLAIN_MINUTE: Final = set_of("min mins minute minutes minuten")
_SECOND: Final = folded_words("s sec secs second seconds sek sekunden secondes segundos secondi sekunder sekund")
_AND: Final = set_of("and und et y e en og och i a")
_ONE: Final = set_of("a an en ett et een un une eine")
_HALF: Final = folded_words("half halbe halb demie demi media medio mezzo mezza meia meio halv halvt halve ½ pul pol")
_HALVES: Final = {  # and a half, in one word with the number
    f"{number}{half}": many
    for half, numbers in (
        ("einhalb", {"zwei": 2, "drei": 3, "vier": 4, "funf": 5, "sechs": 6, "sieben": 7, "acht": 8}),
        ("enhalve", {"twee": 2, "drie": 3, "vier": 4, "vijf": 5, "zes": 6, "zeven": 7}),
        ("ehalve", {"drie": 3, "twee": 2}),
    )
    for number, many in numbers.items()
}


def song_length(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a length of up to twenty minutes, with the words that say that it is one; a limit leaves a doubt."""
    begins = at + phrase_of(words, at, _LASTS)
    is_about = low(words, begins) in _ABOUT
    begins += is_about
    most = phrase_of(words, begins, _MOST)
    lasts = begins > at
    begins += most
    found = minutes_said(words, begins)
    if found is None:
        return None
    seconds, end, is_plain = found
    after = phrase_of(words, end + (low(words, end) == ","), _NO_MORE)
    if after:
        most, end = after, end + (low(words, end) == ",") + after
    is_known = is_plain and not (most or lasts)  # what the readers of times know
    if is_known or not (lasts or most or _ends(words, end)) or not 0 < seconds <= LONGEST_SAID * 60:
        return None
    end += low(words, end) in ("long", "lang", "lungo", "largo")
    doubt = " ".join(one.text for one in words[at:end]) if most or is_about else ""
    if end < len(words) and words[end].kind == NUMBER and LEAST_SAID < int(words[end].text) < 60:
        doubt = doubt or f"{' '.join(one.text for one in words[at:end])} {words[end].text}"  # 3 min 15 the next one
    if seconds % 60:
        return StatedFact("clock", f"{seconds // 60}:{seconds % 60:02}", end, doubt=doubt)
    return StatedFact("minutes", seconds // 60, end, doubt=doubt)


def minutes_said(words: Sequence[ReplyWord], at: int) -> tuple[int, int, bool] | None:
    """Read minutes with their unit: the seconds, the end, and whether the number and unit are the plainest ones."""
    if at >= len(words):
        return None
    number, half = counted(list(words), at), 0
    is_plain = number is not None
    if number is None and words[at].kind == WORD:
        many = HOURS.get(words[at].low, 0)
        half = _HALVES.get(words[at].low, 0)
        number = (half or many, 1) if half or many > 1 else None
    if number is None:
        return None
    end = at + number[1]
    seconds = 60 * number[0] + (30 if half else 0)
    halved = 0 if half else _half(words, end)
    if halved and low(words, halved) in _MINUTE:  # 4 and a half minutes
        return seconds + 30, halved + 1, False
    is_point = low(words, end) in (",", ".") and low(words, end + 1) == "5" and words[end].start == words[end - 1].end
    if is_point and low(words, end + 2) in _MINUTE:  # 3,5 Minuten
        return seconds + 30, end + 3, False
    if low(words, end) not in _MINUTE:
        return None
    is_plain = is_plain and low(words, end) in _PLAIN_MINUTE
    end += 1
    if not half and (halved := _half(words, end)):  # quattro minuti e mezzo
        return seconds + 30, halved, False
    more = counted(list(words), end + (low(words, end) in _AND)) if not half else None
    if more is not None and more[0] < 60:
        stop = end + (low(words, end) in _AND) + more[1]
        is_said = low(words, stop) in _SECOND
        if is_said or (words[stop - 1].kind == NUMBER and more[0] > 9 and _stops(words, stop)):
            return seconds + more[0], stop + is_said, is_plain
        if words[stop - 1].kind == WORD and more[0] > LEAST_SAID and _stops(words, stop):
            return seconds + more[0], stop, False  # four minutes ten
    return seconds, end, is_plain


LEAST_SAID: Final = 4  # seconds


def _half(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of "and a half", "½", "et demie"; 0 if no half is here."""
    end = at + (low(words, at) in _AND)
    end += low(words, end) in _ONE
    is_half = low(words, end) in _HALF or (
        end < len(words) and words[end].kind == FRACTION and words[end].text == "1/2"
    )
    return end + 1 if is_half else 0


def _ends(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a clause ends here, or goes on with "and" or "please"."""
    return _stops(words, at) or words[at].low in _AND | _GOES_ON


def _stops(words: Sequence[ReplyWord], at: int) -> bool:
    return at >= len(words) or words[at].kind == SIGN


_GOES_ON: Final = set_of("please pls bitte svp in long then but with starts ends lang")
