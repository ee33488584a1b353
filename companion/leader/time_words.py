"""Times of a show as a leader says them: first at half eight, two sets of an hour each, 8.30 till 9.15, 2 x 45."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.reply_words import (
    CLOCK,
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
)
from companion.setlist.parsing.cells import clock_cell
from companion.show.titles import folded

NOON: Final = 12 * 60
# Words of shows, and of replies about them, that are held in the morning.
OF_MORNING: Final = set_of(
    "service sermon mass church chapel morning brunch breakfast gottesdienst predigt messe culte misa messa "
    "gudstjanst gudstjeneste kerkdienst fruhschoppen msza"
)
CLOCK_WORDS: Final = ("half", "quarter", "oclock", "pm", "uhr")
NAMED_TIMES: Final = {"noon": NOON, "midday": NOON, "midi": NOON} | dict.fromkeys(
    [
        "midnight",
        "minuit",
        "mitternacht",
        "medianoche",
        "mezzanotte",
        "midnat",
        "midnatt",
        "middernacht",
        "połnocy",
        "północy",
        "polnocy",
    ],
    2 * NOON,
)
TO_TIME: Final = ("till", "til", "to", "until", "finishes", "finish", "ends", "end", "-", "–", "—", "bis")
STARTING: Final = ("start", "starts", "begin", "begins", "kick", "on", "play", "downbeat", "beginn", "starting")


class TimeReading(NamedTuple):
    """A time of day or a length in minutes, and where its words end."""

    minutes: int
    end: int


def long_after(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read how long a set is after its start: 21.15 and it's an hour, 9.15 for 50 minutes."""
    begins = at
    while low(words, begins) in LASTING:
        begins += 1
    long = length_at(words, begins)
    is_said = long is not None and words[long.end - 1].low in ("hour", "hr", "half", "quarter", *MINUTES)
    return long if long and is_said and begins > at else None


def lasting_said(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read a length in minutes without its unit and its end: duration 40, Dauer: 45."""
    number = at + 1 + (low(words, at + 1) in (":", "="))
    if low(words, at) not in LASTING_NOUNS or number >= len(words) or words[number].kind != NUMBER:
        return None
    ends = number + 1 >= len(words) or words[number + 1].kind == SIGN
    return (int(words[number].text), number + 1) if ends and int(words[number].text) in SET_MINUTES else None


LASTING_NOUNS: Final = set_of("duration length dauer duree duracion duracao durata duur varighed varighet langd")
SET_MINUTES: Final = range(10, 181)


LASTING: Final = (",", "and", "its", "it", "is", "for", "lasts", "lasting", "-", "about", "runs")
MINUTES: Final = ("min", "mins", "minute", "minutes", "each")


def may_be_evening(words: Sequence[ReplyWord], starts: int) -> bool:
    """Return whether two plain numbers may be hours: "set 2 8 to 9" and "we play 8 to 9", not "1 to 4 are all D"."""
    said = {word.low for word in words}
    return FIRST_HOUR <= starts <= LAST_HOUR and bool(said & TIMED) and not said & {"are", "all"}


FIRST_HOUR: Final = NOON + 5 * 60  # a show in the afternoon is written with "pm" or minutes
LAST_HOUR: Final = NOON + 11 * 60
TIMED: Final = frozenset(["set", "sets", *STARTING, "playing", "plays", "tonight", "evening", "music"])


def time_after(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read a time after "at", or one that is no other number: half eight, 8.30."""
    if low(words, at) in ("at", "from", "@", "around", "um"):
        return time_at(words, at + 1)
    is_time = at < len(words) and (words[at].kind == CLOCK or low(words, at) in ("half", "quarter"))
    return time_at(words, at) if is_time else None


class TimeSpan(NamedTuple):
    """Two times; ``is_clear``: their words can be nothing else, as in 8.30 till 9.15."""

    starts: int
    ends: int
    is_clear: bool
    at: int
    end: int


def spans(words: Sequence[ReplyWord]) -> Iterator[TimeSpan]:
    """Yield times from and to: 8.30 till 9.15."""
    at = 0
    while at < len(words):
        first = None if _is_number_of_set(words, at) else time_at(words, at)
        if first and low(words, first.end) in TO_TIME and (second := time_at(words, first.end + 1)):
            is_clear = any(word.kind == CLOCK or word.low in CLOCK_WORDS for word in words[at : second.end])
            yield TimeSpan(evening(first.minutes), evening(second.minutes), is_clear, at, second.end)
            at = second.end
        else:
            at += 1


def _is_number_of_set(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a number before a dash is that of a set: Set 3 - 11.30pm till late."""
    is_dash = low(words, at + 1) in ("-", "–", "—") and words[at].end < words[at + 1].start
    return is_dash and words[at].kind == NUMBER and low(words, at - 1) in _SETS


_SETS: Final = set_of("set sets part half block teil halfte satz partie parte tempo deel del tura")


def evening(minutes: int) -> int:
    """Return a time of a show: before noon it is of the evening, except in the small hours when a night ends."""
    return minutes + NOON if minutes < NOON else minutes


def time_at(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read a time of day: 8.30, 8pm, half eight, quarter past nine, nine thirty, nine."""
    if at >= len(words):
        return None
    if low(words, at) in NAMED_TIMES:
        return TimeReading(NAMED_TIMES[low(words, at)], at + 1)
    if words[at].kind == CLOCK:
        minutes = clock_cell(words[at].text)
        return TimeReading(minutes, at + 1) if minutes is not None else None
    if low(words, at) in ("halb", "halv", "half") and low(words, at + 1) in _HOURS:
        return TimeReading(_HOURS[low(words, at + 1)] * 60 - 30, at + 2)  # half an hour before, unlike in English
    if low(words, at) == "half" and (
        hour := counted(list(words), at + 1 + (low(words, at + 1) == "past"))
        if at + 1 + (low(words, at + 1) == "past") < len(words)
        else None
    ):
        return (
            TimeReading(hour[0] * 60 + 30, at + 1 + (low(words, at + 1) == "past") + hour[1]) if hour[0] <= 12 else None
        )
    if past := _minutes_past(words, at) or _foreign_quarter(words, at):
        return past
    if low(words, at) == "quarter" and low(words, at + 1) in ("past", "to") and at + 2 < len(words):
        hour = counted(list(words), at + 2)
        if hour and hour[0] <= 12:
            return TimeReading(hour[0] * 60 + (15 if low(words, at + 1) == "past" else -15), at + 2 + hour[1])
        return None
    hour = counted(list(words), at)
    if low(words, at) == "once" and low(words, at - 1) == "las":
        return TimeReading(11 * 60, at + 1)  # Spanish for eleven
    if hour is None and low(words, at) in _HOURS and low(words, at + 1) == "uur":
        return TimeReading(_HOURS[low(words, at)] * 60, at + 2)
    if hour is None or not 1 <= hour[0] <= 24:
        return None
    end = at + hour[1]
    if end < len(words) and (rest := counted(list(words), end)) and rest[0] in (15, 20, 30, 40, 45):
        return TimeReading(hour[0] * 60 + rest[0], end + rest[1])
    if low(words, end) in ("min", "mins", "minutes", "sets", "songs", "x", "hours", "hour"):
        return None
    return TimeReading(hour[0] * 60, end + phrase(words, end, "oclock", "sharp", "ish", "pm"))


def _foreign_quarter(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read las ocho y media, otto e un quarto, nueve menos cuarto, kwart over acht, Viertel vor neun."""
    for said, minutes in _QUARTERS_BEFORE.items():
        if many := phrase(words, at, said):
            hour = hour_named(words, at + many)
            return TimeReading(hour[0] * 60 + minutes, hour[1]) if hour else None
    hour = hour_named(words, at)
    if hour is None:
        return None
    end = hour[1] + (low(words, hour[1]) in ("heures", "heure", "uhr"))
    for said, minutes in _QUARTERS_BEHIND.items():
        if many := phrase(words, end, said):
            return TimeReading(hour[0] * 60 + minutes, end + many)
    return None


def hour_named(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Return an hour in words or figures and its end."""
    if low(words, at) in _HOURS:
        return _HOURS[low(words, at)], at + 1
    hour = counted(list(words), at) if at < len(words) else None
    return (hour[0], at + hour[1]) if hour and 1 <= hour[0] <= 24 else None


_QUARTERS_BEFORE: Final = {
    **dict.fromkeys(("kwart over", "viertel nach", "kvart over", "kvart efter"), 15),
    **dict.fromkeys(("kwart voor", "viertel vor", "kvart i"), -15),
}
_QUARTERS_BEHIND: Final = {
    **dict.fromkeys(("y media", "e mezza", "e mezzo", "et demie", "et demi", "e meia"), 30),
    **dict.fromkeys(("y cuarto", "e un quarto", "et quart"), 15),
    **dict.fromkeys(("menos cuarto", "meno un quarto", "moins le quart", "moins quart"), -15),
}


def _minutes_past(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read twenty past nine, five and twenty past eight, twenty to nine; "ten to nine" may as well be two hours."""
    minutes = counted(list(words), at)
    if minutes is None or minutes[0] not in (5, 10, 20, 25):
        return None
    end = at + minutes[1]
    is_to = low(words, end) == "to" and minutes[0] > NOON // 60 and words[at].kind == WORD
    if not (low(words, end) == "past" or is_to) or end + 1 >= len(words):
        return None
    hour = counted(list(words), end + 1)
    if hour is None or not 1 <= hour[0] <= 12:
        return None
    return TimeReading(hour[0] * 60 + (-minutes[0] if is_to else minutes[0]), end + 1 + hour[1])


_HOURS: Final = {
    folded(word): number
    for number, words in enumerate(
        (
            "eins een ett et",
            "zwei twee två to",
            "drei drie tre",
            "fyra fire",
            "fünf vijf fem",
            "sechs zes seks",
            "sieben zeven sju syv",
            "acht åtta otte",
            "neun negen nio ni",
            "zehn tien tio ti",
            "elf elva elleve",
            "zwölf twaalf tolv",
        ),
        start=1,
    )
    for word in words.split()
}


MINUTE_WORDS: Final = set_of(
    "min mins minute minutes minuten minutos minuti minutter minuter minuut mn minuto minut minuti minuty perc"
)


def figures_at(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read 2030 as a time of day, as soldiers and railways write it; only after a set or a word such as "at"."""
    text = words[at].text if at < len(words) else ""
    is_time = len(text) == 4 and text.isdecimal() and int(text[:2]) < 24 and int(text[2:]) < 60
    return TimeReading(int(text[:2]) * 60 + int(text[2:]), at + 1) if is_time and int(text) % 5 == 0 else None


def hours_and_minutes(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read one hour 15, an hour and 20 minutes: minutes, and the end."""
    hours = _COUNTED_HOURS.get(low(words, at))
    if hours is None or low(words, at + 1) not in _HOUR_WORDS:
        return None
    end = at + 2 + (low(words, at + 2) in ("and", "und", "et", "y", "e", "en", "og", "och", "i"))
    number = counted(list(words), end) if end < len(words) else None
    if number is None or not 5 <= number[0] < 60:
        return None
    says_minutes = low(words, end + number[1]) in MINUTE_WORDS
    return (60 * hours + number[0], end + number[1] + says_minutes) if says_minutes or number[0] % 5 == 0 else None


_COUNTED_HOURS: Final = {"two": 2, "2": 2} | dict.fromkeys(
    ("an", "one", "1", "une", "una", "eine", "en", "een", "un"), 1
)
_HOUR_WORDS: Final = set_of("hour hours hr hrs stunde stunden heure heures hora horas ora ore time timer timme uur")


def length_at(words: Sequence[ReplyWord], at: int) -> TimeReading | None:
    """Read a length in minutes: 45, 45 min, an hour, an hour and a half, three quarters of an hour."""
    for said, minutes in LENGTHS.items():
        if many := phrase(words, at, said):
            return TimeReading(minutes, at + many)
    number = counted(list(words), at) if at < len(words) else None
    if number and 10 <= number[0] <= 240 and low(words, at + number[1]) not in ("pm", "songs"):
        end = at + number[1]
        return TimeReading(
            number[0], end + phrase(words, end, "min", "mins", "minute", "minutes", "minutes each", "each", "s")
        )
    return None


LENGTHS: Final = {
    "an hour and a half": 90,
    "an hour and a quarter": 75,
    "three quarters of an hour": 45,
    "half an hour": 30,
    "an hour": 60,
    "one hour": 60,
    "1 hour": 60,
    "1 hr": 60,
    "two hours": 120,
    "2 hours": 120,
    "eine stunde": 60,
    "1 stunde": 60,
    "une heure": 60,
    "1 heure": 60,
    "une demi heure": 30,
    "una hora": 60,
    "1 hora": 60,
    "media hora": 30,
    "en time": 60,
    "1 time": 60,
    "en timme": 60,
    "un'ora": 60,
    "un ora": 60,
    "een uur": 60,
    "unora": 60,
    "mezzora": 30,
    "unora e mezza": 90,
    "une heure et demie": 90,
    "eineinhalb stunden": 90,
    "anderthalb stunden": 90,
    "eine halbe stunde": 30,
    "ne halbe stunde": 30,
    "ne stunde": 60,
    "eine dreiviertelstunde": 45,
    "dreiviertelstunde": 45,
    "trois quarts dheure": 45,
    "tre quarti dora": 45,
    "tres cuartos de hora": 45,
    "drie kwartier": 45,
    "een uurtje": 60,
    "een half uur": 30,
    "half uur": 30,
    "anderhalf uur": 90,
    "en halv time": 30,
    "en halvtimme": 30,
    "halvanden time": 90,
    "una hora y media": 90,
    "hora y media": 90,
    "una mezzora": 30,
    "trekvart": 45,
    "tre kvarter": 45,
}


_AFTER: Final = set_of("tops max maximum ish or about roughly with live")


def seconds_at(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read the seconds after minutes, and where they end: 20, and 5 seconds, and ten seconds."""
    begins = at + (low(words, at) in ("and", "und", "et"))
    number = counted(list(words), begins) if begins < len(words) else None
    if number is None or number[0] > 59:
        return None
    end = begins + number[1]
    says = low(words, end) in ("s", "sec", "secs", "second", "seconds", "sekunden", "secondes")
    ends = words[begins].kind == NUMBER and (
        end >= len(words) or words[end].kind not in (WORD, NUMBER) or words[end].low in _AFTER
    )
    return (number[0], end + says) if says or ends else None


_HALF: Final = phrases(
    "and a half minutes | and a half mins | and a half min | 1 / 2 minutes | 1 / 2 mins | minutes and a half | "
    "mins and a half | einhalb minuten | und eine halbe minute | minuten und eine halbe | minutes et demie | "
    "minutes et demi | min et demie | minutos y medio | minuti e mezzo | minutos e meio | en een half minuut | "
    "en een halve minuut | och en halv minut | och en halv minuter | og en halv minut | og et halvt minutt | "
    "og et halvt minutter | og en halv minutter | a pol minuty | i pol minuty"
)


def half_minute_at(words: Sequence[ReplyWord], at: int) -> int:
    """Return where the half minute after a number ends: 3 and a half minutes, trois minutes et demie; 0 for none."""
    if words[at : at + 1] and words[at].text == "½" and low(words, at + 1).startswith("min"):
        return at + 2
    many = phrase_of(words, at, _HALF)
    return at + many if many else 0
