"""The words of a reply: links, dates, times, meters, numbers, words and signs, each with its place in the line."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Final, NamedTuple

from companion.show.titles import folded

LINK: Final = "link"
CLOCK: Final = "clock"
FRACTION: Final = "fraction"
NUMBER: Final = "number"
WORD: Final = "word"
SIGN: Final = "sign"
SIGNS: Final = frozenset("♭♯#")
_WORDS: Final = re.compile(
    r"(?P<link>(?:https?://|www\.)\S+)|"
    r"(?P<clock>\d{1,2}(?:[:.]\d\d)?\s?[ap]\.m\.?(?!\w)|\d{1,2}:\d\d(?:\s?(?:am|pm|uhr|uur|h)\b)?|"
    r"\d{1,2}\.\d\d(?:\s?(?:pm|uhr|uur|h|u)\b)?(?!\d|\.(?!\s*$))|"
    r"\d{1,2}\.(?:00|15|[2-5][05])(?=\.\s+[^\W\d])|"  # at the end of a sentence; no date, which has no such month
    r"\d{1,2}\s?(?:pm|uhr)\b|\d{1,2}[hu](?:\d\d)?\b|\d{1,2}[m'’]\d\d\b)|"
    r"(?P<fraction>(?<![\d/])\d{1,2}/(?:2|4|8|16)(?![\d/]))|"
    r"(?P<number>\d{1,4})(?:(?P<ordinal>st|nd|rd|th)\b|['’]s\b)?|"
    r"(?P<word>[^\W\d_][^\W\d_'’♭♯#]{0,60}(?:['’♭♯#]{1,2}[^\W\d_]{0,20}){0,2})|"
    r"(?P<sign>->|=>|\.{2,60}|\?{1,9}|\S)",
    re.IGNORECASE,
)
_HALF_OF_DAY: Final = re.compile(r"([ap])\.m\.?$", re.IGNORECASE)
_UUR: Final = re.compile(r"\s?uur$", re.IGNORECASE)  # Dutch for o'clock
_BELGIAN: Final = re.compile(r"(?<=\d)u(?=\d\d$|$)", re.IGNORECASE)  # 17u30
COUNTED: Final = {
    folded(word): number
    for number, words in enumerate(
        (
            "one eins uno",
            "two zwei deux dos",
            "three drei trois tre tres",
            "four vier quatre quattro cuatro",
            "five fünf cinq cinque cinco",
            "six sechs sei seis",
            "seven sieben sept sette siete",
            "eight acht huit otto ocho",
            "nine neun neuf nove nueve",
            "ten zehn dix dieci diez",
            "eleven onze undici",
            "twelve zwölf douze dodici doce",
            "thirteen dreizehn",
            "fourteen vierzehn",
            "fifteen fünfzehn",
            "sixteen sechzehn",
            "seventeen siebzehn",
            "eighteen achtzehn",
            "nineteen neunzehn",
            "twenty zwanzig",
        ),
        start=1,
    )
    for word in words.split()
}
TENS: Final = {
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "sixty": 60,
    "seventy": 70,
    "eighty": 80,
    "ninety": 90,
}
ORDINALS: Final = {
    word: number
    for number, words in enumerate(
        (
            "first erste erster",
            "second zweite zweiter",
            "third dritte dritter",
            "fourth vierte vierter",
            "fifth",
            "sixth",
            "seventh",
            "eighth",
            "ninth",
            "tenth",
            "eleventh",
            "twelfth",
        ),
        start=1,
    )
    for word in words.split()
}


def set_of(words: str) -> frozenset[str]:
    """Return the words of a text as a set."""
    return frozenset(words.split())


# Many phrases by their first word. A long tuple of them would be hashed again at every word of a reply.
Phrases = Mapping[str, tuple[tuple[str, ...], ...]]


def phrases(text: str) -> Phrases:
    """Return the phrases that bars part."""
    return phrases_by_first_word(text.split("|"))


class ReplyWord(NamedTuple):
    """One word: as typed, for comparison, its place in the line, and its kind."""

    text: str
    low: str
    start: int
    end: int
    kind: str
    is_ordinal: bool = False


# Pictures that stand for words, as telephones offer them.
PICTURES: Final = {
    "🎹": " keys ",
    "🥁": " drums ",
    "🎸": " guitar ",
    "🎤": " singer ",
    "🎷": " sax ",
    "🎺": " trumpet ",
    "🎻": " violin ",
    "❌": " dropped ",
    "🚫": " dropped ",
    "🔗": " ",
    "👎": " not ",
    "✗": " not ",
    "✘": " not ",
    "≠": " not ",
    "¬": " not ",
    "≈": " about ",
    "🔟": "10 ",
    "\u20e3": " ",  # the frame of 1️⃣
}
_STRUCK: Final = re.compile(r"~~([^~]{1,40})~~")
_PICTURED: Final = str.maketrans(PICTURES)


def without_pictures(line: str) -> str:
    """Return a line with the words of its pictures.

    >>> without_pictures("3 Bb 🎹 starts")
    '3 Bb  keys  starts'
    """
    if _CROSS.search(line) and _TICK.search(line):  # which of two values each is about, nobody can be sure
        line = _TICK.sub(" ticked ", _CROSS.sub(" crossed ", line))
    if not _STARTING.search(line):
        line = (
            _PLAYER.sub(_player_shown, line)
            if len(set(found := _PLAYER.findall(line))) == len(found)
            else (_PLAYER.sub(" , ", line))
        )
    line = _SHOUTED.sub("", line)
    line = _NUMERO.sub("no ", _OF_QUESTION.sub("#", line))
    return _STRUCK.sub(r" not \1 , ", line.translate(_PICTURED))


# What is shouted in quotes ends no sentence: with "slower!!" at the end.
_SHOUTED: Final = re.compile(r"!{1,9}(?=[\"”“»]\s{0,3}[^\W\d_])")
# The number of a song, as a sign or as that of the question about it: n° 4, Q4.
_NUMERO: Final = re.compile(r"\b[Nn]°s?\s?(?=\d)")
_OF_QUESTION: Final = re.compile(r"\b[Qq](?=\d{1,2}\b)")


def _player_shown(found: re.Match[str]) -> str:
    """Return the player of a picture that nothing says to start: he may, or the picture is only an ornament."""
    return f" , {PICTURES[found[0]].strip()} maybe , "


# Pictures of players. One that is repeated in a line marks its parts.
_PLAYER: Final = re.compile("[🎹🥁🎸🎤🎷🎺🎻]")
_STARTING: Final = re.compile(
    r"\b(?:starts?|starting|begins?|beginning|intros?|opens?|counts?|kicks?|leads?|solo|alone|fäng[st]t?|beginn\w{0,3}|"
    r"commence\w{0,3}|empieza\w{0,2}|comienza|inizia\w{0,2}|comincia\w{0,2}|parte|börja\w{0,2}|begynder|begint)\b|"
    r"^\W{0,4}\d{1,3}\W{0,4}[🎹🥁🎸🎤🎷🎺🎻]\W{0,4}$",
    re.IGNORECASE,
)
_CROSS: Final = re.compile("[✘✗❌🚫👎]")
_TICK: Final = re.compile("[✔✓✅☑👍]")


def words_of(line: str) -> list[ReplyWord]:
    """Split a line into words.

    >>> [word.text for word in words_of("1Bb, 2 F#m 3:40")]
    ['1', 'Bb', ',', '2', 'F#m', '3:40']
    """
    found = []
    for match in _WORDS.finditer(line):
        kind = match.lastgroup if match.lastgroup != "ordinal" else NUMBER
        text = match["number"] if kind == NUMBER else match[0]
        text = _UUR.sub("", _HALF_OF_DAY.sub(r"\1m", text)) if kind == CLOCK else text
        text = _BELGIAN.sub("h", text) if kind == CLOCK else text
        low = folded(text) if kind == WORD and not set(text) & SIGNS else text.casefold()
        if kind == WORD and low == text.casefold() and not text.isascii():
            low = "".join(folded(one) if one.isalpha() else one for one in low)  # Fá#
        if low.endswith("s") and low[:-1] in COUNTED.keys() | _PLACED and text[-2:-1] in "'’":
            low = low[:-1]  # seventeen's in F, the opener's in G
        low = "?" if low.startswith("?") else low
        found.append(ReplyWord(text, low, match.start(), match.end(), kind or SIGN, bool(match["ordinal"])))
    return found


_PLACED: Final = set_of("opener closer first second third fourth fifth sixth seventh eighth ninth tenth")


def counted(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read a number in digits or words: (the number, how many words it takes).

    >>> counted(words_of("twenty one"), 0), counted(words_of("twenty-one"), 0)
    ((21, 2), (21, 3))
    """
    if at >= len(words):
        return None
    word = words[at]
    if word.kind == NUMBER:
        return int(word.text), 1
    if word.low in ("a", "one", "hundred") and (hundreds := _hundred(words, at)):
        return hundreds
    unit = at + 1 + (low(words, at + 1) == "-" and words[at].end == words[at + 1].start)
    if word.low in TENS and 0 < COUNTED.get(low(words, unit), 10) < 10:
        return TENS[word.low] + COUNTED[words[unit].low], unit + 1 - at
    if word.kind == WORD and word.low in COUNTED:
        return COUNTED[word.low], 1
    return (TENS[word.low], 1) if word.low in TENS else None


def _hundred(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read a hundred, a hundred and twenty, one hundred and five."""
    end = at + (words[at].low != "hundred")
    if low(words, end) != "hundred":
        return None
    rest = end + 1 + (low(words, end + 1) == "and")
    more = counted(words, rest) if rest < len(words) and words[rest].kind == WORD else None
    if more is None or more[0] > 99:
        return 100, end + 1 - at
    return 100 + more[0], rest + more[1] - at


def low(words: Sequence[ReplyWord], at: int) -> str:
    """Return a word for comparison, or "" past the end."""
    return words[at].low if 0 <= at < len(words) else ""


def phrase(words: Sequence[ReplyWord], at: int, *choices: str) -> int:
    """Return the number of words of the longest of these phrases that begins here, or 0."""
    said = low(words, at)
    return _longest(words, at, _by_first_word(choices).get(said, ())) if said else 0


def phrase_of(words: Sequence[ReplyWord], at: int, many: Phrases) -> int:
    """Return the number of words of the longest of many phrases that begins here, or 0."""
    starting = many.get(low(words, at))
    return _longest(words, at, starting) if starting else 0


def _longest(words: Sequence[ReplyWord], at: int, choices: Sequence[tuple[str, ...]]) -> int:
    best = 0
    for parts in choices:
        if len(parts) > best and tuple(word.low for word in words[at : at + len(parts)]) == parts:
            best = len(parts)
    return best


@cache
def _by_first_word(choices: tuple[str, ...]) -> Phrases:
    return phrases_by_first_word(choices)


def phrases_by_first_word(choices: Iterable[str]) -> Phrases:
    """Return phrases by their first word, so that few are compared."""
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for choice in choices:
        parts = tuple(choice.split())
        found[parts[0]] = (*found.get(parts[0], ()), parts)
    return found
