"""Numbers up to two hundred in words, in the languages of leaders: ninety six, achtundsechzig, quatre-vingt-douze."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.hour_words import HOURS, MINUTES_SAID, folded_words
from companion.leader.reply_words import COUNTED, NUMBER, TENS, WORD, ReplyWord, counted, low
from companion.show.titles import folded

_HUNDREDS: Final = ("hundert", "einhundert", "honderd", "hundra", "etthundra", "hundrede", "ethundrede", "hundre")
_HUNDRED: Final = folded_words("cent ciento cien cento cem hundert einhundert honderd hundra hundrede hundre sto sta")
_AND_UNITS: Final = ("y", "e", "et", "i", "a", "-", "og", "och")
_FRENCH_TENS: Final = (60, 80)  # soixante-douze
# Languages that write a number below a hundred as one word: its units, its tens from 20, and what joins them.
_UNITS_FIRST: Final = (
    (
        "ein zwei drei vier fünf sechs sieben acht neun",
        "zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig",
        "und",
    ),
    (
        "een twee drie vier vijf zes zeven acht negen",
        "twintig dertig veertig vijftig zestig zeventig tachtig negentig",
        "en",
    ),
    ("en to tre fire fem seks syv otte ni", "tyve tredive fyrre halvtreds tres halvfjerds firs halvfems", "og"),
)
_TENS_FIRST: Final = (
    ("ett två tre fyra fem sex sju åtta nio", "tjugo trettio fyrtio femtio sextio sjuttio åttio nittio"),
    ("en to tre fire fem seks sju åtte ni", "tjue tretti førti femti seksti sytti åtti nitti"),
    (
        "uno due tre quattro cinque sei sette otto nove",
        "venti trenta quaranta cinquanta sessanta settanta ottanta novanta",
    ),
)


def _compounds() -> Iterator[tuple[str, int]]:
    """Yield each number of one word with its value: achtundsechzig, zesennegentig, nittiosex, sessantotto."""
    for units, tens, joint in _UNITS_FIRST:
        for ten, tenth in enumerate(tens.split(), start=2):
            yield from ((f"{unit}{joint}{tenth}", 10 * ten + one) for one, unit in enumerate(units.split(), start=1))
    for units, tens in _TENS_FIRST:
        for ten, tenth in enumerate(tens.split(), start=2):
            yield tenth, 10 * ten
            for one, unit in enumerate(units.split(), start=1):
                yield f"{tenth}{unit}", 10 * ten + one
                yield f"{tenth[:-1]}{unit}", 10 * ten + one  # sessantotto


_COMPOUNDS: Final = {folded(word): number for word, number in _compounds()}


def number_said(words: Sequence[ReplyWord], at: int) -> tuple[int, int]:
    """Return a number and where its words end; 0 for none: 96, ninety six, one twelve, one oh four, ciento veinte."""
    if words[at].kind == NUMBER:
        return (0, at + 1) if words[at].is_ordinal else (int(words[at].text), at + 1)
    said = words[at].low
    if said == "one" and (more := _behind_one(words, at + 1)):
        return 100 + more[0], more[1]
    if (hundred := next((one for one in _HUNDREDS if said.startswith(one)), "")) and said != hundred:
        number = _in_one_word(
            said[len(hundred) :].removeprefix(
                "und",
            )
        )
        return (100 + number, at + 1) if number else (0, at + 1)
    if said in _HUNDRED:
        begins = at + 1 + (low(words, at + 1) in ("e", "y", "og", "och", "und", "en", "-"))
        number, end = _below_hundred(words, begins)
        number = number or _in_one_word(low(words, begins))
        return (100 + number, end) if number else (100, at + 1)
    if said.startswith("cento") and (number := _in_one_word(said.removeprefix("cento"))):
        return 100 + number, at + 1
    number, end = _below_hundred(words, at)
    if number:
        return number, end
    plain = counted(list(words), at)
    return (plain[0], at + plain[1]) if plain is not None else (0, at + 1)


def _below_hundred(words: Sequence[ReplyWord], at: int) -> tuple[int, int]:
    """Read a number below a hundred that is not English; 0 for none."""
    said = low(words, at)
    twenty = at + 1 + (low(words, at + 1) == "-")
    if said == "quatre" and low(words, twenty) in ("vingt", "vingts"):
        return _with_units(words, twenty, 80)
    if said in _COMPOUNDS and said not in MINUTES_SAID:
        return _COMPOUNDS[said], at + 1
    if said in MINUTES_SAID and said not in TENS:
        return _with_units(words, at, MINUTES_SAID[said])
    return 0, at + 1


def _with_units(words: Sequence[ReplyWord], at: int, tens: int) -> tuple[int, int]:
    """Read what follows the tens of a number: noventa y seis, quarenta e dois, soixante-douze, novanta sei."""
    begins = at + 1 + (low(words, at + 1) in _AND_UNITS)
    more = 0 if begins >= len(words) or tens % 10 else _in_one_word(low(words, begins))
    most = 20 if tens in _FRENCH_TENS else 10
    return (tens + more, begins + 1) if 0 < more < most else (tens, at + 1)


def _behind_one(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read what follows a hundred that is only "one": twelve, thirty two, oh four."""
    is_small = low(words, at) in ("oh", "o") and low(words, at + 1) in COUNTED
    number = counted(list(words), at + is_small) if at < len(words) and words[at].kind == WORD else None
    if number is None or not (is_small or 10 <= number[0] < 100):
        return None
    return number[0], at + is_small + number[1]


def _in_one_word(said: str) -> int:
    return MINUTES_SAID.get(said) or HOURS.get(said) or TENS.get(said) or COUNTED.get(said) or _COMPOUNDS.get(said) or 0
