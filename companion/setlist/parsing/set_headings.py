"""Headings of sets and lines for breaks, in the languages of Europe."""

import functools
import re

import msgspec

from companion.setlist.parsing.around_events import around_event
from companion.setlist.parsing.cells import clock_cell
from companion.setlist.parsing.conditions import is_condition
from companion.setlist.parsing.patterns import AND
from companion.setlist.parsing.words_for_music import without_word_for_music
from companion.setlist.tidy import lowered

# Ordinals and numbers, as they stand beside a word for a set (dictionaries of each language; no single source).
_WORDS_OF_NUMBERS = (
    """1st first one i erstes erster erste eins 1er 1ère 1re premier première primera primer primero 1ª 1º 1a 1o
    prima primo primeira primeiro eerste een één første ensimmäinen första ett et en pierwszy
    pierwsza jeden první prvni prvá prva un uno une um első""",
    """2nd second two ii zweites zweiter zweite zwei 2e 2ème deuxième deuxieme seconde deux segunda segundo 2ª 2º
    2a 2o segona segon seconda secondo due dos dois tweede twee anden andet andre to toinen andra två drugi druga dwa
    druhý druhá druhy druha dva második""",
    """3rd third three iii drittes dritter dritte drei 3e 3ème troisième trois tercera tercer tercero tres 3ª 3º 3a 3o
    terza terzo tre terceira terceiro três derde drie tredje kolmas trzeci trzecia trzy třetí treti tři""",
    """4th fourth four iv viertes vierter vierte vier 4e 4ème quatrième quatre cuarta cuarto cuatro 4ª 4º quarta
    quarto quattro quatro vierde fjerde fjärde neljäs czwarty czwarta cztery čtvrtý čtvrtá čtyři""",
    "5th fifth five v fünftes fünf 5e cinquième quinta quinto",
    "6th sixth six vi",
)
_ORDINALS = {word: number for number, words in enumerate(_WORDS_OF_NUMBERS, start=1) for word in words.split()}
_NAMES = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth")
_ORDINAL = "|".join(sorted(_ORDINALS, key=len, reverse=True)) + r"|\d{1,2}(?:st|nd|rd|th|\.º|\.ª|\.|ª|º|:a|:e|\))?"
_WORDS = (
    "set|sett|setti|sæt|saet|block|blok|bloque|bloco|teil|part|half|runde|ronda|satz|partie|parte|série|serie|seria|"
    "deel|del|helft|hälfte|haelfte|pase|část|cast|część|czesc|wejście|wejscie|manche|mi-temps|tempo|avdelning|avdeling|act|acte|acto|atto|"
    "bracket|session|spot|tanda|szett|rész|felvonás|partea|entrada|dio|sklop|dalis|daļa|bölüm|μέρος|часть|отделение|сет|"
    "частина"
)
_LONGEST_FIRST = "|".join(sorted(_WORDS.split("|"), key=len, reverse=True))  # setti 2 is no set I
_SET = re.compile(
    rf"^(?:(?:{_LONGEST_FIRST})\s*(?:list\s*)?(?:no\.?\s?|nr\.?\s?|n°\s?|nº\s?|#\s?|number\s)?[-:]?\s*({_ORDINAL}|[a-d])|"
    rf"(?:the\s+)?({_ORDINAL})\.?\s+(?:set|sett|setti|sæt|saet|block|blok|bloque|bloco|teil|(?<![.\d]\s)half|runde|ronda|"
    r"satz|"
    r"partie|parte|série|serie|seria|deel|del|helft|hälfte|haelfte|pase|část|cast|część|czesc|wejście|wejscie|manche|mi-temps|tempo|"
    r"avdelning|avdeling|act|acte|acto|atto|bracket|session|spot|tanda|bloc|part|szett|rész|felvonás|partea|entrada|dio|sklop|"
    r"dalis|daļa|bölüm|μέρος|часть|отделение|сет|частина|\d{2}\s?(?:mins?|minutes|min\.|'))"
    r")(?!\w|-[^\W\d])(.*)$",
    re.IGNORECASE,
)
_DATED = re.compile(r"^(?:set ?list \d{1,2}(?:[./-]\d|\.? [^\W\d_]{3})|\w{3,5} \d{2} ?(?:min|'))", re.IGNORECASE)
_LETTER_SET = re.compile(r"^(?:the )?([A-Da-d])[- ](?:LIST|SET|list|set|List|Set)(?!\w)(.*)$")
_LED_IN = re.compile(  # then the second set; and for the second half
    r"^(?:(?:so|and|then|now|for|ok|okay|"
    r"after (?:the |a )?(?:break|interval|pause|food|dinner|buffet|speeches|raffle)|"
    r"here(?:'s| is| comes)|on to|next|next up|finally)[\s,:]+){1,4}(\S.*?)"
    r"(?:\s+(?:is|are|goes|has|we (?:do|have|play)|will be))?$",
    re.IGNORECASE,
)
_SHORT = re.compile(r"^(?:(?:s\s?|pt\.?\s?)([1-6])|([1-6])(?:st|nd|rd|th))$", re.IGNORECASE)
_LONE_NUMBER = re.compile(r"^([1-6])[.):]?$")
_SHORT_WORDS = re.compile(r"^(?:the\s+)?(first|second|third|fourth)(?:\s+one)?$", re.IGNORECASE)
_ROMAN = ("", "I", "II", "III", "IV", "V", "VI")
_ENCORES = re.compile(
    r"^(encores?|enc\.?|zugaben?|rappels?|bis|bisy|na bis|ekstranumm?[er]{1,2}|extranummer|extra nummer|"
    r"přídav(?:ek|ky)|"
    r"pridav(?:ek|ky)|prídavok|toegift(?:en)?|ylimääräinen|propina)(?!\w)(?:\s*(\d))?(.*)$",
    re.IGNORECASE,
)
_NAMED_SET = re.compile(
    r"^((?:dance|dinner|acoustic|jazz|cocktail|drinks|reception|party|ceremony|late|early|opening|"
    r"closing|warm[- ]?up|main|quiet|last|ballroom|"
    r"evening|afternoon)(?:\s+\w+)?\s+set(?:\s\d(?![\d:.]))?)\b(.*)$",
    re.IGNORECASE,
)
# Words that head a part of an evening where they stand alone; a song may be called so too.
_SECTION = re.compile(
    r"^((?:early|late|afternoon|evening) (?:show|spot)|"
    r"bows?|curtain calls?|dinner|dancing|drinks|ceremony|reception|morning|evening|afternoon|lunchtime|"
    r"first dance|last dance|finale|if (?:there'?s |we have )?time|"
    r"if they(?:'re| are)? (?:want|ask|shout|call|still|stay|like)(?: for)?(?: (?:one )?more| another)?|"
    r"spares?|reserves?|e(?:x|ks)tras?|back[- ]?ups?|standby|stand-by|optional|alternates?|"
    r"exit(?: music)?|play[- ]?out|supper|lunch|buffet|"
    r"pre-?show|walk[- ]?in|walk[- ]?on|warm[- ]?up|late(?: night)?|after midnight|nach mitternacht|après minuit|"
    r"después de (?:la )?medianoche|dopo (?:la )?mezzanotte|depois da meia-noite|na middernacht|efter midn[ai]t+|"
    r"etter midnatt|po północy|po půlnoci|poslije ponoći|po polnoči|keskiyön jälkeen|party|acoustic|cocktails?|church|"
    r"background|foreground|overture|requests|in reserve|reserva|réserve|ersatz|reserven?|hochzeitstanz|eröffnungstanz|"
    r"openingsdans|ouverture du bal|première danse|primo ballo|primer baile|første dans|første vals|brudevals|"
    r"bröllopsvals|häävalssi|pierwszy taniec)"
    r"(?:\s+(?:music|songs|time|numbers|section|bit))?(?!\w)(.*)$",
    re.IGNORECASE,
)
_GREETED = re.compile(r"^\s?!+\s?[a-z]")
_IN_CASE = re.compile(
    r"^\s+(?:just )?(?:in case|if|for when|only if)\b.*$", re.IGNORECASE
)  # spares in case they want more
_ON_CONDITION = re.compile(  # encore if they want one
    r"^\s+(?:just )?(?:in case|for when|only if|"
    r"if [a-z]+|(?:falls|wenn|si|se|als|om|hvis|jeśli|pokud|jos|ako)\s[^\W\dA-ZÀ-Þ]\w*|s['’]ils?)\b.*$"
)
_NAMES_ON = re.compile(  # a comma and other words than a condition: a title may begin with a word for an encore
    r"^\s?,\s+(?!(?:if|when|in case|only|just|for|maybe|perhaps|time|on|as|falls|wenn|si|se|als|om)\b)[^\W\d]",
    re.IGNORECASE,
)
_GLUED = re.compile(r"^([1-6])(?=(?:set|half|part|teil|satz)\b)", re.IGNORECASE)  # 2set
BREAK_WORDS = (
    "break|interval|intermission|pause|umbaupause|interlude break|entr'?acte|paus|pauza|przerwa|přestávka|prestavka|"
    "prestávka|descanso|pausa|intervallo|intervalo|tauko|pauze|hlé"
)
_BREAK = re.compile(
    r"^\W*(?:(?:short|long|dinner|main|kurze|große)\s+)?(?:\d{1,3}\s*[- ]?(?:min(?:ute)?s?)?\.?\s*)?"
    rf"(?:{BREAK_WORDS})\b(?:\W*(?:of|von|"
    r"ca\.?)?\W*\d{1,3}\s*['′]?\s*(?:min(?:ute)?[sn]?)?\.?)?"
    r"(?:\W*\((?![A-H][b#♭♯]?m?\)?$)[^()]{1,30}\)?)?"
    r"(?:[\s:,–().-]|food|drinks|speeches|buffet|dinner|raffle|cake|till|until|bis|back at|"
    r"\d{1,3}(?!\d)|min(?:ute)?[sn]?|pm|to)*\W*$",
    re.IGNORECASE,
)
_BREAK_AND_MORE = re.compile(  # Interval - tea, raffle; Pause, es gibt Suppe; Interval and retiring collection
    rf"^(?:(?i:(?:short|long|main|kurze|große)\s)?(?i:{BREAK_WORDS})"
    rf"(?:\s?[:,;–—-]\s?|\s[–—-]\s)|(?i:interval|intermission|pause|pauze|pausa|paus|entracte)\s(?:{AND}|i)\s)"
    r"(?:\d{1,3}\s?min\w{0,5}[,.;\s]{1,3})?(?![a-h][b#♭♯]?m?$)[a-zà-ÿ][^()]{1,60}$"
)
_ENDS_IN_KEY = re.compile(r"[\s:(–—-][A-H][b#♭♯]?m?\)?$|\s[–—-]\s[a-h][b#♭♯]?m?$")
_PLAYED_BREAK = re.compile(r"^(?:entr'?acte|interlude|intermezzo|intermission music)\b", re.IGNORECASE)
_PROGRAMME = re.compile(
    r"^(?!(?:and|then|und|\W|\d)*$)(?:(?:speech|speeches|dinner|supper|lunch|buffet|food|meal|raffle|auction|cake|cutting|toasts?|photos?|reden|"
    r"essen|fireworks|bingo|prizes|and|then|und|\d{1,2}[:.]\d\d|\d{2} ?min|[,/&+]) ?){1,8}$",
    re.IGNORECASE,
)
_CLOCK_IN_FRONT = re.compile(
    r"^(\d{1,2}[:.h]\d{2}(?:\s*(?:am|pm|uhr|h)|[ap](?=\s))?|\d{1,2}(?:\s*(?:am|pm|uhr)|p(?=\s)))\s*[-–—:|]?\s+(?=\S)",
    re.IGNORECASE,
)
_HOURS = re.compile(r"^(\d{2})([0-5]\d)\s?([-–—])\s?(\d{2})([0-5]\d)(?=\s|$)")  # 1930-2015
_RANGE_IN_FRONT = re.compile(r"^(\d{1,2}[:.h]\d\d)\s?[-–—]\s?\d{1,2}[:.h]\d\d\s?(?:[-–—:|]\s)?\s*(?=\S)")
_FROM_TO = re.compile(
    r"(\d{1,2}(?:[:.]\d\d)?\s*(?:am|pm|uhr|h)?)\s*(?:-|–|—|to|bis|until|"
    r"till)\s*(\d{1,2}(?:[:.]\d\d)?\s*(?:am|pm|uhr|h)?)",
    re.IGNORECASE,
)
_TIME_OF_DAY = re.compile(r"(?<!\d)\d{1,2}(?:[:.h]\d\d(?!\d)|\s?(?:am|pm|uhr|h)\b)", re.IGNORECASE)
_BEFORE_TIME = re.compile(r"(?:\s?[-–—,@:])?\s?(?:\d{1,2}[:.h]\d\d|\d{1,2}\s?(?:am|pm|uhr|h)\b)", re.IGNORECASE)
_AT = re.compile(r"\b\d{1,2}(?:[:.]\d\d\s*(?:am|pm|uhr|h)?|\s*(?:am|pm|uhr)|h\d\d)", re.IGNORECASE)
_MINUTES = re.compile(r"\b(\d{1,3})\s*(?:min(?:ute)?[sn]?\b|['′’])", re.IGNORECASE)
_NUMBER_ALONE = re.compile(r"^#\s?([1-9])$")
_AROUND = re.compile(r"^[^\w(]+|[^\w)!?.]+$")
LONGEST = 80
MAX_REMEMBERED = 4096  # most texts whose heading is kept: a list asks for the same ones many times
MAX_WORDS_BESIDE = 6


class SetHeading(msgspec.Struct, frozen=True):
    """A set's heading. ``starts_min`` since midnight; ``also`` is the rest of the line.

    ``is_word``: a word such as Dinner or Spare, which may also be a song; the lines around it decide.
    """

    name: str
    starts_min: int | None = None
    minutes: int | None = None
    also: str = ""
    is_word: bool = False


def bare(text: str) -> str:
    """Return a heading without the marks around it: ### SET 1 ###, == Set 1 ==, [Set 1], Set 1:, 🔥 Set 1 🔥."""
    text = re.sub(r"^[\s#=*_~>\[(•·|+-]+|[\s#=*_~\])|:+-]+$", "", text)
    return _AROUND.sub("", text) if text and not (text[0].isalnum() and text[-1].isalnum()) else text


def clock_in_front(text: str) -> tuple[int | None, str]:
    """Split a time of day off a line's front: (minutes since midnight, the rest)."""
    text = _HOURS.sub(r"\1:\2\3\4:\5", text)
    found = _RANGE_IN_FRONT.match(text) or _CLOCK_IN_FRONT.match(text)
    minutes = clock_cell(found[1]) if found else None
    return (minutes, text[found.end() :]) if found and minutes is not None else (None, text)


def read_set(text: str) -> SetHeading | None:
    """Read a heading: Set 1, SECOND SET (21:15, 45 min), 1. Set, Encore, ## Set II, 20:00 SET 1; None for others."""
    found = read_heading(text)
    return found if found and not found.is_word else None


@functools.lru_cache(MAX_REMEMBERED)
def read_heading(text: str) -> SetHeading | None:
    """Read a heading of any kind, words such as Dinner included."""
    if found := _NUMBER_ALONE.match(text.strip()):
        return SetHeading(_NAMES[int(found[1])] if int(found[1]) < len(_NAMES) else f"Set {found[1]}")
    if not text or len(text) > LONGEST:
        return None
    text = _HOURS.sub(r"\1:\2\3\4:\5", text)
    if (ranged := _FROM_TO.match(text)) and (heading := _ranged(text, ranged)):
        return heading
    if found := _FROM_TO.fullmatch(bare(text)):
        return _times("", found[0])
    starts_min, plain = clock_in_front(bare(text))
    plain = _GLUED.sub(r"\1. ", bare(plain))
    if not plain:
        return None
    if found := _LED_IN.match(plain):
        led, part = _SET.match(found[1]), _SECTION.match(found[1].removeprefix("the ").rstrip("!. "))
        if led and not led[3].strip():
            plain = found[1]
        elif part and not part[2]:
            plain = part[0]  # then the party!!
    if found := _LETTER_SET.match(plain):
        heading = _times(f"Set {found[1].upper()}", found[2])
    elif (found := _SET.match(plain)) and not _DATED.match(plain):
        said = (found[1] or found[2]).lower()
        number = _number(said)
        name = _NAMES[number] if isinstance(number, int) and 0 < number < len(_NAMES) else f"Set {number}"
        sure = bool(found[1]) and said.isdecimal() and plain[:3].lower() == "set"
        heading = _times(name, found[3], sure=sure)
    elif found := _ENCORES.match(plain):
        heading = _times(
            "Encore" + (f" {found[2]}" if found[2] else ""),
            _ON_CONDITION.sub("", found[3].lower() if found[3].isupper() else found[3]),
        )
        if heading and heading.also and _NAMES_ON.match(found[3]):
            heading = msgspec.structs.replace(heading, is_word=True)  # Encore, Eleanor
    elif found := _NAMED_SET.match(plain):
        heading = _times(_capital(found[1]), found[2])
    elif (found := _SECTION.match(plain)) and _GREETED.match(found[2]):
        return None  # morning! so excited
    elif (found := _SECTION.match(plain)) and (
        heading := _times(_capital(found[1]), _IN_CASE.sub("", found[2]), sure=text.rstrip().endswith("):"))
    ):
        heading = msgspec.structs.replace(heading, is_word=True)
    elif (around := around_event(plain)) and (heading := _times(*around)):
        heading = msgspec.structs.replace(heading, is_word=True)  # before tea
    elif is_condition(text):
        heading = SetHeading(_capital(plain), is_word=True)
    else:
        heading = None
    heading = heading or _numbered_music(plain)
    if heading and starts_min is not None and heading.starts_min is None:
        heading = msgspec.structs.replace(heading, starts_min=starts_min)
    return heading


def _numbered_music(plain: str) -> SetHeading | None:
    """Read the number of a set beside a word for music: Musik Teil 1."""
    number = without_word_for_music(plain)
    found = read_set(number) if number != plain else None
    return found if found and not found.also else None


def _ranged(text: str, ranged: re.Match[str]) -> SetHeading | None:
    """Read a heading after its times: 20:00 - 20:45 Set 1."""
    rest = bare(text[ranged.end() :])
    times, heading = _times("", ranged[0]), read_heading(rest) if rest else None
    if heading is None or times is None or times.starts_min is None:
        return None
    return msgspec.structs.replace(heading, starts_min=times.starts_min, minutes=heading.minutes or times.minutes)


def short_heading(text: str) -> tuple[str, int] | None:
    """Read a heading that stands for itself: (its form, its number) of 2nd, S2, II, second, 2."""
    plain = bare(text).rstrip(".")
    if plain in _ROMAN[1:]:
        return "roman", _ROMAN.index(plain)
    if found := _LONE_NUMBER.match(text.strip()):
        return "number", int(found[1])
    if found := _SHORT.match(plain):
        return ("letter", int(found[1])) if found[1] else ("ordinal", int(found[2]))
    return ("word", _ORDINALS[lowered(found[1])]) if (found := _SHORT_WORDS.match(plain)) else None


def named_by_number(number: int) -> SetHeading:
    """Return the heading of a set that only has a number."""
    return SetHeading(_NAMES[number])


def times_in(text: str) -> bool:
    """Return whether the line says from when to when, or how long: COCKTAIL HOUR (6-7PM)."""
    found = _FROM_TO.search(text)
    return bool(found and any(sign.isalpha() or sign in ":." for sign in found[0])) or bool(_MINUTES.search(text))


def heading_of(text: str) -> SetHeading:
    """Return any words as the heading of a set, with their times."""
    plain = bare(text)
    found = _FROM_TO.search(plain)
    name = _AROUND.sub("", plain[: found.start()] if found else plain).rstrip(" ([-–—:,/|") or plain
    read = _times(name, plain[found.start() :]) if found else None
    return msgspec.structs.replace(read, name=_capital(name) if name.isupper() else name) if read else SetHeading(name)


def heading_in(text: str) -> SetHeading:
    """Return any words as a heading: its name in front of a bracket, its times, and what else the bracket says."""
    name, opened, inside = bare(text).partition(" (")
    inside = inside.rstrip(" )")
    said = f"{name} {inside}" if opened else name
    times = heading_of(said) if times_in(said) else None
    found = _TIME_OF_DAY.search(said)
    starts = clock_in_front(f"{found[0]} x")[0] if found and times is None else None
    name = _BEFORE_TIME.split(name, maxsplit=1)[0].strip() or name
    name = _capital(name) if name.isupper() else name
    also = "" if clock_cell(inside) is not None else inside
    return msgspec.structs.replace(times or SetHeading(name, starts), name=name, also=also)


def heading_at(text: str) -> SetHeading:
    """Return any words as a heading, its time in front or behind: 17:30 Thé dansant, Late Bar (22:30)."""
    minutes, words = clock_in_front(text)
    heading = heading_in(words)
    return heading if minutes is None else msgspec.structs.replace(heading, starts_min=minutes)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:].lower()


def _number(said: str) -> int | str:
    if said in _ORDINALS:
        return _ORDINALS[said]
    digits = re.match(r"\d+", said)
    return int(digits[0]) if digits else said.upper()


def number_said(said: str) -> int | None:
    """Return the number that a word, a numeral or digits say: 2, II, 2nd, druhá; None for others."""
    number = _number(said.lower())
    return number if isinstance(number, int) else None


def _times(name: str, rest: str, *, sure: bool = False) -> SetHeading | None:
    """Read times out of the rest of a heading; None if the rest makes it a title: Encore for Nobody."""
    starts, minutes, said = None, None, rest
    if found := _FROM_TO.search(rest):
        first, last = found[1].strip(), found[2].strip()
        half = re.search(r"am|pm|uhr", last, re.IGNORECASE)
        starts, ends = clock_cell(first) or clock_cell(first + (half[0] if half else ":00")), clock_cell(last)
        ends = clock_cell(f"{last}:00") if ends is None and clock_cell(first) is not None else ends
        if starts is not None and ends is not None:
            minutes = (ends - starts) % 1440
            rest = rest[: found.start()] + rest[found.end() :]
        else:
            starts = None
    if starts is None and (found := _AT.search(rest)):
        starts = clock_cell(found[0])
        rest = rest[: found.start()] + rest[found.end() :] if starts is not None else rest
    if found := _MINUTES.search(rest):
        minutes = minutes or int(found[1])
        rest = rest[: found.start()] + rest[found.end() :]
    parted = not said.strip() or said.lstrip()[0] in "(:[–—-|,;=/@!" or said.lstrip()[0].isdecimal()
    also = re.sub(
        r"^[\W_]+|[\s,;:(\[–—|/!-]+$",
        "",
        re.sub(r"\b(?:ca|approx|start(?:s|ing)?|at|um|from|ab|kl|klo|ore|alle)\b\.?", "", rest),
    ).strip()
    in_brackets = sure and said.strip()[:1] == "(" and (said.strip()[-1:] == ")" or ")" not in said)
    if (len(also.split()) > MAX_WORDS_BESIDE and not in_brackets) or (also and not parted and not sure):
        return None  # "Second Set of Keys" and "Encore for Nobody" are titles
    also = also if any(letter.isalpha() for letter in also) else ""
    if also.count("(") < also.count(")"):
        also = also.rstrip(")")
    return SetHeading(name, starts, minutes if minutes and minutes <= 600 else None, also)


_GOES_ON_AFTER = re.compile(  # then tea and cake, and after tea; Kaffee, und nach dem Kaffee
    r"^[^,:;]{3,40},\s(?:(?:and|then|und|dann|et|puis|en|og|och)\s){0,2}"
    r"(?:after|nach|après|na|efter|etter)\s(?:the\s|dem\s|der\s|le\s|la\s|de\s)?"
    r"(?:tea|coffee|cake|break|interval|supper|dinner|lunch|food|meal|raffle|bingo|speeches|kaffee|kuchen|pause|essen|"
    r"café|repas|koffie|thee|pauze|kaffe|fika|paus|maden|maten)(?:\s(?:we|wir|on|vi)(?:\s[a-zà-ÿ]+){0,3})?\s?[:.…]*$",
    re.IGNORECASE,
)
_THEN = re.compile(  # dann Pause 20 min, dann
    r"^(?:(?:and|then|dann|und|danach|puis|ensuite|luego|después|y|poi|e|depois|dan|en|sen|så|og|och|a|then a)\s){1,2}"
    rf"|[,\s]+(?:(?:{AND})\s)?"
    r"(?:then|dann|danach|puis|ensuite|luego|después|poi|depois|dan|sen|så|derefter)\s?:?$",
    re.IGNORECASE,
)


def is_break(text: str) -> bool:
    """Return whether the line is a break between sets."""
    said = bare(clock_in_front(bare(text))[1])
    return bool(
        _BREAK.match(said)
        or _GOES_ON_AFTER.match(said)
        or _is_break_with_more(said)
        or (_THEN.search(said) and _BREAK.match(bare(_THEN.sub("", said))))
    )


def _is_break_with_more(said: str) -> bool:
    """Return whether the line names a break and, in small letters, what happens in it."""
    return bool(_BREAK_AND_MORE.match(said)) and not _ENDS_IN_KEY.search(said)


def is_music_too(text: str) -> bool:
    """Return whether a word for a break is also a piece of music: Entr'acte, Intermezzo."""
    return bool(_PLAYED_BREAK.match(bare(text)))


def is_without_music(text: str) -> bool:
    """Return whether the line may be a part of the evening without music: Supper, Speeches, raffle."""
    return bool(_PROGRAMME.match(bare(clock_in_front(bare(text))[1])))
