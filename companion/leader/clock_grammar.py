"""One grammar for a time of day in the languages of leaders: 19h30, half eight, půl osmé, kwart voor tien."""

import re
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from companion.leader.hour_words import DUTCH_HOURS, HOURS, HOURS_IN_CASE, MINUTES_SAID, WEAK_HOURS, each_folded
from companion.leader.reply_words import NUMBER, ReplyWord

HALF_A_DAY: Final = 12 * 60


class ClockReading(NamedTuple):
    """A time of day in minutes after midnight, and where its words end.

    ``is_sure``: the words tell the morning from the evening. ``is_firm``: they can be nothing else than a time, unlike
    "nine" or 1745, which are one only after a word such as "at".
    """

    minutes: int
    end: int
    is_sure: bool = False
    is_firm: bool = True


def any_of(words: Iterable[str]) -> str:
    """Return a pattern for one of these phrases, the longest first."""
    return "|".join(re.escape(one) for one in sorted({*words}, key=lambda one: (-len(one), one)))


def any_phrase(text: str) -> str:
    """Return a pattern for one of the phrases between bars, as the words of a reply are compared."""
    return any_of(each_folded(text))


_HOUR: Final = rf"(?:{any_of(HOURS)}|\d{{1,2}})"
_STRONG: Final = rf"(?:{any_of(HOURS.keys() - WEAK_HOURS)})"
_MINUTE: Final = rf"(?:{any_of(MINUTES_SAID)}|\d{{1,2}})"
_TENS_AND: Final = (
    rf"(?P<tens>{_MINUTE})(?:(?: (?:y|e|i|et|och|og))? (?P<units>five|fünf|cinq|cinco|cinque|pet|fem|pięć))?"
)
_PAST: Final = any_phrase("past|after|nach|over|efter|över|yli|wedi|po|gone")
_TO: Final = any_phrase("to|before|till|of|vor|voor|før|innan|vaille|i|på|do|na|za")
_HALF_TO: Final = any_phrase("halb|halv|půl|pol|pola|wpół do|fél|puoli|dos quarts de|dos quarts|ha")
_QUARTER: Final = any_phrase("viertel|kwart|kvart|kwadrans|vartin|varttia|frtalj|chwarter|četvrt|čtvrt")
_MINUTE_UNITS: Final = any_phrase("minuter|minutter|minuten|minutes|minute|minuti|minutos|minuta|minut|min|minuuttia")
_UNIT: Final = any_phrase(
    "oclock|o clock|uhr|h|hrs|hours|uur|heures|heure|horas|hodin|hodine|hodiny|hod|godz|godzina|orakor|orátol|oratol|"
    "oraig|orai|ora|o r gloch|or gloch|sati|ura|ure|uri"
)
_MORNING: Final = any_phrase(
    "in the morning|of the morning|du matin|de la mañana|da manhã|di mattina|del mattino|del matí|de la matinada|"
    "de la madrugada|da madrugada|morgens|frühs|s morgens|s ochtends|s nachts|ráno|rano|v noci|w nocy|nachts|du mat|"
    "om morgenen|på morgenen|på morgonen|aamulla|reggel|délelőtt|y bore|ujutro|zjutraj"
)
_TIGHT_AM: Final = "a.m."
_AM: Final = rf"{_MORNING}|am|a m|{re.escape(_TIGHT_AM)}"
_PM: Final = any_phrase(
    "pm|p m|in the evening|in the afternoon|at night|tonight|du soir|de l apres midi|de lapres midi|de la tarde|"
    "de la noche|da tarde|da noite|di sera|del pomeriggio|de la nit|de la tarda|del vespre|abends|nachmittags|s avonds|"
    "s middags|večer|wieczorem|po południu|odpoledne|om aftenen|om kvelden|på kvällen|illalla|este|délután|yr hwyr|"
    "navečer|zvečer"
)
_ENDING: Final = (
    rf"(?: (?:{_UNIT})(?![^ ]))?(?: (?:(?P<am>{_AM})|(?P<pm>{_PM}))(?![^ ]))?"
    r"(?: (?:sharp|prompt|on the dot|punkt|precies|en punto|pile|ish|in punto|em ponto)(?![^ ]))?"
)
_NAMED: Final = {
    **dict.fromkeys(
        each_folded(
            "midnight|minuit|mitternacht|medianoche|mezzanotte|meia - noite|meia noite|midnat|midnatt|middernacht|"
            "půlnoc|půlnoci|polnoc|polnoci|północ|północy|éjfél|éjfélkor|éjféltől|éjfélig|keskiyö|keskiyöllä|"
            "keskiyöltä|ponoć|ponoći|mitjanit|hanner nos"
        ),
        2 * HALF_A_DAY,
    ),
    **dict.fromkeys(
        each_folded(
            "noon|midday|midi|mediodía|mezzogiorno|meio - dia|meio dia|poledne|poledni|południe|południu|podne|opoldne|"
            "migdia|délben|keskipäivä|keskipäivällä"
        ),
        HALF_A_DAY,
    ),
}
_AND_HALF: Final = any_phrase("y media|e mezza|e mezzo|et demie|et demi|e meia|i pol|in pol|i mitja|a půl")
_AND_QUARTER: Final = any_phrase("y cuarto|e un quarto|et quart|e um quarto|i quart")
_LESS_QUARTER: Final = any_phrase("menos cuarto|meno un quarto|moins le quart|moins quart|menos um quarto|menys quart")
_NOT_MORE: Final = r"(?![^ ])"  # the word ends here

# What is said, and the minutes it adds to the hour; the first that fits counts.
_SAID: Final = tuple(
    (re.compile(pattern + _ENDING + _NOT_MORE), more)
    for pattern, more in (
        (rf"(?P<named>{any_of(_NAMED)})(?: (?:{_LESS_QUARTER}))", -15),
        (rf"(?P<named>{any_of(_NAMED)})(?: (?:{_AND_HALF}))", 30),
        (rf"(?P<named>{any_of(_NAMED)})", 0),
        (rf"half (?P<hour>{any_of(DUTCH_HOURS)})", -30),
        (rf"(?:{_HALF_TO}) (?P<hour>{_HOUR})", -30),
        (rf"half (?:past |gone |after )?(?P<hour>{_HOUR})", 30),
        (rf"hanner awr wedi (?P<hour>{_HOUR})", 30),
        (rf"(?:a )?quarter (?:past|after|gone) (?P<hour>{_HOUR})", 15),
        (rf"(?:a )?quarter (?:to|of|before|till) (?P<hour>{_HOUR})", -15),
        (rf"(?:dreiviertel|haromnegyed|tri ctvrte na|tristvrte na|tres quarts(?: de)?) (?P<hour>{_HOUR})", -15),
        (rf"(?:ctvrt na|stvrt na|negyed|viertel|un quart de|un quart) (?P<hour>{_HOUR})", -45),
        (rf"(?:za kwadrans|cetvrt do|um quarto para as|quarto para as) (?P<hour>{_HOUR})", -15),
        (rf"(?:{_QUARTER}) (?:{_PAST}) (?P<hour>{_HOUR})", 15),
        (rf"(?:{_QUARTER}) (?:{_TO}) (?P<hour>{_HOUR})", -15),
        (rf"(?P<less>{_MINUTE})(?: (?:{_MINUTE_UNITS}))? (?:{_TO}) (?:half|{_HALF_TO}) (?P<hour>{_HOUR})", -30),
        (rf"(?P<past>{_MINUTE})(?: (?:{_MINUTE_UNITS}))? (?:{_PAST}) (?:half|{_HALF_TO}) (?P<hour>{_HOUR})", -30),
        (rf"(?P<past>{_MINUTE})(?: (?:{_MINUTE_UNITS}))? (?:{_PAST}) (?P<hour>{_HOUR})", 0),
        (rf"(?P<past>five|ten) and twenty past (?P<hour>{_HOUR})", 20),
        (rf"(?P<less>{any_of(MINUTES_SAID)})(?: (?:{_MINUTE_UNITS}))? (?:to|vor|voor|vaille) (?P<hour>{_STRONG})", 0),
        (rf"(?P<hour>{_HOUR})(?: (?:{_UNIT}))? (?:{_AND_HALF})", 30),
        (rf"(?P<hour>{_HOUR})(?: (?:{_UNIT}))? (?:{_AND_QUARTER})", 15),
        (rf"(?P<hour>{_HOUR})(?: (?:{_UNIT}))? (?:{_LESS_QUARTER})", -15),
        (rf"(?P<hour>{_HOUR})(?: (?:{_UNIT}))? (?:menos|meno|moins|menys) (?P<less>{_MINUTE})", 0),
        (rf"(?P<hour>{_HOUR}) (?:heures?|uhr) {_TENS_AND}", 0),
        (rf"(?P<hour>{_STRONG}) {_TENS_AND}(?! (?:{_MINUTE_UNITS})(?![^ ]))", 0),
        (rf"(?P<hour>{_HOUR}) (?:{_UNIT})", 0),
        (rf"(?P<hour>{any_of(HOURS_IN_CASE)})", 0),
        # "2 Am" may be a key
        (rf"(?P<hour>{_HOUR})(?= (?:{_MORNING}|{_PM}|{re.escape(_TIGHT_AM)}){_NOT_MORE})", 0),
        (r"(?P<hour>\d{1,2})[:.h'’](?P<past>\d\d)", 0),
        (r"(?P<hour>\d{1,2})[hu](?P<past>\d\d)?", 0),
        (r"(?P<hour>\d{1,2})(?:[:.](?P<past>\d\d))?(?P<unit>[ap]m|uhr|h|u)", 0),
    )
)
_BARE: Final = tuple(
    re.compile(pattern + _ENDING + _NOT_MORE)
    for pattern in (r"(?P<hour>[01]\d|2[0-3])(?P<past>[0-5][05])", rf"(?P<hour>{_HOUR})")
)


class TimedText:
    """The words of a line as one text, so that phrases of the grammar are found from a word on."""

    def __init__(self, words: Sequence[ReplyWord]) -> None:
        lows = [word.low.replace(" ", "") for word in words]
        for at in range(1, len(words)):
            if words[at].text == "am" and words[at - 1].kind == NUMBER and words[at - 1].end == words[at].start:
                lows[at] = _TIGHT_AM  # 10am is a time; "2 Am" may be a key
        self.text = " ".join(lows)
        self._starts: list[int] = []
        begins = 0
        for low in lows:
            self._starts.append(begins)
            begins += len(low) + 1

    def match(self, pattern: re.Pattern[str], at: int) -> re.Match[str] | None:
        """Match a pattern from a word on."""
        return pattern.match(self.text, self._starts[at]) if 0 <= at < len(self._starts) else None

    def end_of(self, match: re.Match[str]) -> int:
        """Return the first word after a match."""
        return bisect_left(self._starts, match.end())


def clock_at(line: TimedText, at: int, *, is_asked: bool = False) -> ClockReading | None:
    """Read a time of day from a word on. ``is_asked``: a plain number or hour may be one, as after "at"."""
    for pattern, more in _SAID:
        if (found := line.match(pattern, at)) and (minutes := _minutes(found, more)) is not None:
            return _reading(found, minutes, line)
    for pattern in _BARE if is_asked else ():
        if (found := line.match(pattern, at)) and (minutes := _minutes(found, 0)) is not None:
            return _reading(found, minutes, line)._replace(is_firm=False)
    return None


def _minutes(found: re.Match[str], more: int) -> int | None:
    said = found.groupdict()
    if named := said.get("named"):
        return (_NAMED[named] + more) % (4 * HALF_A_DAY)
    hour = _number(said.get("hour"), HOURS)
    past, less = _number(said.get("past") or said.get("tens"), MINUTES_SAID), _number(said.get("less"), MINUTES_SAID)
    past += _number(said.get("units"), MINUTES_SAID)
    is_time = hour < 25 and past < 60 and less < 60 and (hour > 0 or more >= 0)
    return hour * 60 + more + past - less if is_time and hour * 60 + more + past - less >= 0 else None


def _number(said: str | None, words: dict[str, int]) -> int:
    return 0 if not said else int(said) if said.isdecimal() else words[said]


def _reading(found: re.Match[str], minutes: int, line: TimedText) -> ClockReading:
    said = found.groupdict()
    unit = said.get("unit") or ""
    is_am, is_pm = bool(said.get("am")) or unit == "am", bool(said.get("pm")) or unit == "pm"
    if is_am or is_pm:
        minutes = minutes % HALF_A_DAY + (HALF_A_DAY if is_pm and minutes < 2 * HALF_A_DAY else 0)
    is_sure = is_am or is_pm or minutes >= HALF_A_DAY or minutes < 60 or found[0].startswith("0")
    return ClockReading(minutes, line.end_of(found), is_sure)
