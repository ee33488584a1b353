"""One grammar for how long a set is: 45 mins, an hour and ten, 1h15, anderhalf uur, hora y cuarto, půl hodiny."""

import re
from typing import Final, NamedTuple

from companion.leader.clock_grammar import TimedText, any_of, any_phrase
from companion.leader.hour_words import HOURS, MINUTES_SAID

SHORTEST_SET: Final = 5  # minutes
LONGEST_SET: Final = 300


class LengthReading(NamedTuple):
    """A length in minutes, and where its words end."""

    minutes: int
    end: int


_ONE: Final = any_phrase(
    "an|a|one|eine|einer|ne|une|una|un|uma|um|een|en|ett|et|jedna|jednu|jedną|jedne|egy|jedan|eno|yksi|1"
)
_UNIT: Final = any_phrase(
    "hour|hours|hr|hrs|h|stunde|stunden|std|heure|heures|hora|horas|hores|ore|ora|uur|uren|uurtje|time|timer|timme|"
    "timmar|godzina|godziny|godzin|godzinę|godz|hodina|hodiny|hodinu|hodin|hod|óra|órát|órás|tunti|tuntia|tunnin|sat|"
    "sata|sati|uro|uri|ura|awr"
)
_LONE: Final = any_phrase(
    "unoretta|un oretta|oretta|unora|un ora|lora|sat vremena|hodina|hodinu|hodinka|hodinku|godzina|godzinę|godzinka|"
    "uurtje|stündchen|timmes|tunti|tunnin|órás"
)
_OF: Final = r"(?: (?:of|de|d|di|z|of an|of a))?"
_UNIT_OF: Final = rf"(?:(?:an|a|une|una|um|un|uma|en|een) )?(?:{_UNIT}|dheure|dora|dune heure|dhora)"
_AND: Final = r"(?:and|und|et|y|e|en|og|och|i|a|in|plus|,)"
_HALF: Final = any_phrase(
    "a half|half|eine halbe|halbe|halb|demie|demi|media|mezza|mezzo|mezz|meia|halv|ett halvt|et halvt|een half|en halv|"
    "půl|pol|pół|fél|puoli|pola|mitja|mig|hanner"
)
_QUARTER: Final = any_phrase(
    "a quarter|quarter|eine viertel|viertel|un quart|quart|cuarto|un cuarto|un quarto|um quarto|quarto|en kvart|kvart|"
    "kwartier|een kwartier|et kvarter|kvarter|čtvrt|kwadrans|negyed|vartti|chwarter"
)
_THREE_QUARTERS: Final = any_phrase(
    "three quarters|three - quarters|3 quarters|trois quarts|tres cuartos|tre quarti|três quartos|tres quarts|"
    "drie kwart|drei viertel|dreiviertel|tri ctvrte|tri cetvrt|trzy kwadranse|trištvrte|háromnegyed|tri chwarter|"
    "kolme neljäsosa"
)
_HALF_HOURS: Final = any_phrase(
    "halvtimme|halvtimma|halvtime|halftime|mezzora|mezz ora|félóra|puolituntia|halfuurtje|půlhodina|půlhodinu|"
    "polhodina|polhodinu|pólgodziny|pół godziny|halbstunde|half hour|demi - heure|demi heure"
)
_QUARTER_HOURS: Final = any_phrase(
    "kvart|kvarter|kvarten|kwartier|kwartiertje|viertelstunde|čtvrthodina|čtvrthodinu|štvrťhodina|kwadrans|negyedóra|"
    "vartti|quarter hour"
)
_THREE_QUARTER_HOURS: Final = any_phrase(
    "dreiviertelstunde|trekvart|tre kvarter|tre kvart|drie kwartier|trzy kwadranse|háromnegyedóra|kolme varttia|"
    "tri četvrt sata|tři čtvrtě hodiny|trištvrtehodina"
)
_ONE_AND_HALF: Final = any_phrase(
    "eineinhalb|anderthalb|anderhalf|halvanden|halvannen|půldruhé|poldruhej|półtorej|másfél|puolitoista|poldruga|"
    "poldrugi"
)
_MINUTE_UNIT: Final = any_phrase(
    "min|mins|minute|minutes|minuten|minutos|minuti|minutter|minuter|minuut|mn|minuto|minuty|minut|minuta|minutu|"
    "minuts|perc|perces|percet|minuuttia|minuutin|minutit|munud|munudau|m|'"
)
_MINUTES: Final = rf"(?:{any_of(MINUTES_SAID)}|\d{{1,3}})"
_UNITS: Final = any_of(one for one, many in HOURS.items() if many < 10)
_TENS: Final = rf"(?P<tens>{_MINUTES})(?: (?:y|e|i|et|och|og|-))?(?: (?P<units>{_UNITS}))?"
_ABOUT_AN: Final = any_phrase(
    "good|full|solid|whole|short|gute|knappe|volle|petite|bonne|goed|klein|lille|god|liten|buona|buena|boa|dobrou|"
    "dobra|dobrą|jó|hyvä"
)
_TWO: Final = any_phrase("two|zwei|deux|dos|due|duas|dues|twee|to|två|dve|dwie|két|kaksi|dvě|dvije|dwóch")
_END: Final = r"(?![^ ])"
_FIXED: Final = tuple(
    (re.compile(pattern + _END), minutes)
    for pattern, minutes in (
        (rf"(?:(?:{_ONE}) )?(?:{_ONE_AND_HALF}) (?:{_UNIT})", 90),
        (rf"(?:(?:{_ONE}) )?(?:{_UNIT}|{_LONE}) {_AND} (?:{_HALF})", 90),
        (rf"(?:{_ONE}) {_AND} (?:{_HALF}) (?:{_UNIT})", 90),
        (rf"(?:(?:{_ONE}) )?(?:{_UNIT}|{_LONE}) {_AND} (?:{_QUARTER})(?! (?:of|past|to))", 75),
        (rf"(?:(?:{_ONE}) )?(?:{_UNIT}|{_LONE}) {_AND} (?:{_THREE_QUARTERS})", 105),
        (rf"(?:{_THREE_QUARTERS}){_OF} {_UNIT_OF}", 45),
        (rf"(?:{_THREE_QUARTER_HOURS})", 45),
        (rf"(?:(?:{_ONE}) )?(?:{_HALF_HOURS})", 30),
        (rf"(?:{_HALF}) {_UNIT_OF}", 30),
        (rf"(?:(?:{_ONE}) )?(?:{_QUARTER_HOURS})", 15),
        (rf"(?:{_QUARTER}){_OF} {_UNIT_OF}", 15),
    )
)
_SAID: Final = tuple(
    re.compile(pattern + _END)
    for pattern in (
        rf"(?P<hours>{_ONE}|two|\d) (?:{_UNIT})(?: {_AND})? {_TENS}(?: (?:{_MINUTE_UNIT}))?",
        rf"(?P<hours>1|2|3) (?P<half>1 / 2|½|[.,] 5) (?:{_UNIT})",
        r"(?P<hours>[1-4])h(?P<minutes>[0-5]\d)",
        rf"(?P<hours>{_TWO}|[2-4]) (?:{_UNIT})",
        rf"(?P<hours>{_ONE})(?: (?:{_ABOUT_AN}))? (?:{_UNIT})",
        r"(?P<lone>hour)(?= (?:each|apiece|per))",
        rf"(?P<lone>{_LONE})",
        rf"{_TENS}(?: -)? (?:{_MINUTE_UNIT})",
        r"(?P<tens>\d{2,3})(?:min|mins|m|')",
    )
)
_IN_HOURS: Final = re.compile(r"(?P<hours>[1-4])h(?P<minutes>[0-5]\d)?" + _END)
_IN_BRACKETS: Final = re.compile(r"(?P<hours>[1-4])[:.](?P<minutes>[0-5]\d)" + _END)


def length_said(line: TimedText, at: int, *, is_asked: bool = False, in_brackets: bool = False) -> LengthReading | None:
    """Read a length from a word on. ``is_asked``: 1h is one, as after a start; ``in_brackets``: 1:15 is one as well."""
    for pattern, minutes in _FIXED:
        if found := line.match(pattern, at):
            return LengthReading(minutes, line.end_of(found))
    more = (*([_IN_HOURS] if is_asked or in_brackets else []), *([_IN_BRACKETS] if in_brackets else []))
    for pattern in (*_SAID, *more):
        if (found := line.match(pattern, at)) and (long := _minutes(found)) is not None:
            return LengthReading(long, line.end_of(found))
    return None


def _minutes(found: re.Match[str]) -> int | None:
    said = found.groupdict()
    hours = said.get("hours") or ("1" if said.get("lone") else "")
    tens, units = said.get("tens") or said.get("minutes") or "", said.get("units") or ""
    total = 60 * (int(hours) if hours.isdecimal() else 0 if not hours else 1 if re.fullmatch(_ONE, hours) else 2)
    total += 30 if said.get("half") else 0
    total += 0 if not tens else int(tens) if tens.isdecimal() else MINUTES_SAID[tens]
    if units:
        if not tens.isdecimal() and MINUTES_SAID.get(tens, 0) % 10 == 0 and MINUTES_SAID.get(tens, 0) >= 20:
            total += HOURS[units]
        else:
            return None
    return total or None
