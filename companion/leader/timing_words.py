"""Times of day and lengths as people say them, for lines of which not every word is explained."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.reply_words import (
    CLOCK,
    NUMBER,
    WORD,
    ReplyWord,
    counted,
    low,
    phrase,
    phrase_of,
    phrases,
    set_of,
)
from companion.leader.time_words import (
    LENGTHS,
    MINUTE_WORDS,
    NAMED_TIMES,
    NOON,
    TimeReading,
    figures_at,
    hour_named,
    hours_and_minutes,
    time_at,
)
from companion.setlist.parsing.cells import clock_cell

SAME_LENGTH: Final = phrases(
    "same length | same again | the same again | same for the second | likewise | ditto | gleich lang | igual | "
    "même durée"
)
_HOUR_SIGNS: Final = set_of("uhr h oclock uur hrs hours pm am horas heures sharp prompt")
_HALVES: Final = set_of("half halb halv halbe quarter kwart viertel kvart pul wpoł puoli")
# The hours in Czech and Polish behind "half" and "from": pul osme, wpol do dziewiatej, od deviti.
_IN_CASES: Final = {
    word: hour
    for hour, words in enumerate(
        (
            "jedne pierwszej ene",
            "druhe drugiej dvou",
            "treti trzeciej tri",
            "ctvrte czwartej ctyr",
            "pate piatej peti",
            "seste szostej sesti",
            "sedme siodmej sedmi",
            "osme osmej osmi",
            "devate dziewiatej deviti",
            "desate dziesiatej deseti",
            "jedenacte jedenastej jedenacti",
            "dvanacte dwunastej dvanacti",
        ),
        start=1,
    )
    for word in words.split()
}
_HOURS: Final = set_of(
    "hour heure hora ora hores horas ore stunde stunden uur uurtje timme timmar time timer hodina hodinu hodiny "
    "godzina godzin godzine tunti tunnin unora noite nuit notte noche nit"
)
OF_CLOCKS: Final = (_HOUR_SIGNS - {"am", "h", "sharp", "prompt"}) | _HALVES | _HOURS | set_of("past")
_UNITS: Final = MINUTE_WORDS | set_of("x × % bpm songs tunes numbers bars sets th st nd rd / people min km m")
_LASTS: Final = set_of(
    "for runs lasts lasting goes another dure dura dauert duurt varar trwa trva spelar spela of about"
)
_MORE_LENGTHS: Final = {
    "quarter of an hour": 15,
    "a quarter of an hour": 15,
    "hour and a half": 90,
    "hour and a quarter": 75,
    "an hour and ten": 70,
    "forty minutes": 40,
    "hora y cuarto": 75,
    "hora i quart": 75,
    "hora i mitja": 90,
    "uma hora": 60,
    "uma hora e meia": 90,
    "hora e meia": 90,
    "meia hora": 30,
    "dos horas": 120,
    "duas horas": 120,
    "due ore": 120,
    "unora e un quarto": 75,
    "zwei stunden": 120,
    "deux heures": 120,
    "une heure et quart": 75,
    "hodina": 60,
    "hodinu": 60,
    "pul hodiny": 30,
    "hodinu a pul": 90,
    "dve hodiny": 120,
    "godzina": 60,
    "godzine": 60,
    "pol godziny": 30,
    "dwie godziny": 120,
    "dwoch godzin": 120,
    "poltorej godziny": 90,
    "en halv timme": 30,
    "en kvart": 15,
    "en timme till": 60,
    "en och en halv timme": 90,
    "en og en halv time": 90,
    "to timer": 120,
    "tva timmar": 120,
    "tunnin": 60,
    "tunti": 60,
    "puoli tuntia": 30,
    "puolitoista tuntia": 90,
    "eine gute stunde": 60,
    "a full hour": 60,
    "anderhalf uur": 90,
}
MAX_MINUTES: Final = 600  # what is said in minutes may be wrong, and is in doubt
_LENGTHS: Final = phrases(" | ".join([*LENGTHS, *_MORE_LENGTHS]))


class ClockReading(NamedTuple):
    """A time of day in minutes, where its words end, and whether it tells the morning from the evening."""

    minutes: int
    end: int
    is_sure: bool


def length_of_time(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read a length: 45 minutes, an hour and ten, hora y cuarto, 1h15 in brackets, "runs 50"."""
    if (hours := hours_and_minutes(words, at)) and words[at].kind != CLOCK:
        return TimeReading(*hours)
    if many := phrase_of(words, at, _LENGTHS):
        said = " ".join(low(words, one) for one in range(at, at + many))
        return TimeReading({**_MORE_LENGTHS, **LENGTHS}[said], at + many)
    before = low(words, at - 1)
    if words[at].kind == CLOCK:
        minutes = clock_cell(words[at].text) or 0
        is_long = "h" in words[at].low and minutes < 4 * 60 and (before in _LASTS or before == "(")
        return TimeReading(minutes, at + 1) if is_long else None
    number = counted(list(words), at)
    if number is None or not 5 <= number[0] <= MAX_MINUTES:
        return None
    end = at + number[1]
    if low(words, end) in MINUTE_WORDS:
        return TimeReading(number[0], end + 1)
    if low(words, end) in ("'", "’", "′"):
        return TimeReading(number[0], end + 1)
    is_bracketed = before == "(" and low(words, end) == ")"
    is_plain = number[0] >= 20 and number[0] % 5 == 0 and low(words, end) not in _UNITS
    return TimeReading(number[0], end) if is_plain and (before in _LASTS or is_bracketed) else None


def clock_at(words: Sequence[ReplyWord], at: int, *, may_be_bare: bool) -> ClockReading | None:
    """Read a time of day. ``may_be_bare``: a number alone may be an hour here."""
    if at >= len(words):
        return None
    if phrase(words, at, "meia noite", "meia - noite", "mezza notte", "media noche", "mitja nit"):
        end = at + phrase(words, at, "meia noite", "meia - noite", "mezza notte", "media noche", "mitja nit")
        less = phrase(words, end, "menos um quarto", "menos un cuarto", "moins le quart")
        return ClockReading(2 * NOON - 15 if less else 2 * NOON, end + less, is_sure=True)
    if low(words, at) in NAMED_TIMES:
        return ClockReading(NAMED_TIMES[low(words, at)], at + 1, is_sure=True)
    if (said := _in_cases(words, at)) is not None:
        return said
    is_figures = words[at].kind == NUMBER and (may_be_bare or low(words, at + 1) in ("-", "–", "—", "h", "hrs"))
    if is_figures and (four := figures_at(words, at)):
        return ClockReading(four.minutes, four.end, is_sure=True)
    found = time_at(words, at)
    if found is None and may_be_bare and (hour := hour_named(words, at)):
        found = TimeReading(hour[0] * 60, hour[1])
    if found is None:
        return None
    minutes, end = found
    text = " ".join(low(words, one) for one in range(at, end + 1))
    is_named = words[at].kind == CLOCK or low(words, at) in _HALVES or low(words, end) in _HOUR_SIGNS
    is_named = is_named or end > at + 1 or low(words, end - 1) in _HOUR_SIGNS
    is_hour = may_be_bare and words[at].kind in (NUMBER, WORD) and low(words, end) not in _UNITS and minutes <= 24 * 60
    if not (is_named or is_hour):
        return None
    end += low(words, end) in _HOUR_SIGNS
    if (
        phrase(words, end, "de la manana", "da manha", "du matin", "di notte", "in the morning")
        or "am" in text.split()[-2:]
    ):
        return ClockReading(minutes % NOON, end, is_sure=True)
    if "pm" in text and minutes < NOON:
        minutes += NOON
    is_whole = minutes >= NOON or text.startswith("0")
    return ClockReading(minutes, end, is_sure=is_whole)


def _in_cases(words: Sequence[ReplyWord], at: int) -> ClockReading | None:
    """Read pul osme, od deviti, wpol do dziewiatej."""
    if low(words, at) in ("pul", "wpoł", "wpol", "puoli"):
        end = at + 1 + (low(words, at + 1) == "do")
        hour = _IN_CASES.get(low(words, end))
        return ClockReading(hour * 60 - 30, end + 1, is_sure=False) if hour else None
    hour = _IN_CASES.get(low(words, at)) if low(words, at - 1) in ("od", "do", "o", "v", "ve") else None
    return ClockReading(hour * 60, at + 1, is_sure=False) if hour else None
