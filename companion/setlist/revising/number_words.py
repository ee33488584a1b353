"""Numbers in titles, so that 99 Umbrellas and Ninety-Nine Umbrellas compare as one."""

import functools
from typing import Final

MAX_SPELT: Final = 4096  # titles whose spelling is kept
_UNIT_WORDS: Final = (
    "zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|"
    "eighteen|nineteen"
)
_TEN_WORDS: Final = "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"
_UNITS: Final = {word: number for number, word in enumerate(_UNIT_WORDS.split("|"))}
_OTHER_LANGUAGES: Final = (  # from 2 to 10, folded; dictionaries of each language, no single source
    "zwei deux dos due dois duas twee tva dwa dve kaksi",
    "drei trois tres tre drie trzy tri kolme",
    "vier quatre cuatro quattro quatro fyra fire cztery ctyri nelja",
    "funf cinq cinco cinque vijf fem piec pet viisi",
    "sechs seis zes seks szesc sest kuusi",
    "sieben sept siete sette sete zeven sju syv siedem sedm seitseman",
    "acht huit ocho otto oito atta otte osiem osm kahdeksan",
    "neun neuf nueve nove negen nio dziewiec devet yhdeksan",
    "zehn dix diez dieci dez tien tio dziesiec deset kymmenen",
)
_UNITS_ELSEWHERE: Final = {
    word: number for number, words in enumerate(_OTHER_LANGUAGES, start=2) for word in words.split()
}
_TENS: Final = {word: number for number, word in enumerate(_TEN_WORDS.split("|"), start=2)}


def with_digits(folded_title: str) -> str:
    """Return a folded title with its number words as digits.

    >>> with_digits("ninety nine umbrellas"), with_digits("one more of twenty")
    ('99 umbrellas', '1 more of 20')
    """
    made: list[str] = []
    words = folded_title.split()
    at = 0
    while at < len(words):
        tens, unit = _TENS.get(words[at]), _UNITS.get(words[at + 1], 0) if at + 1 < len(words) else 0
        if tens is not None:
            goes_on = 0 < unit < 10
            made.append(str(tens * 10 + (unit if goes_on else 0)))
            at += 2 if goes_on else 1
            continue
        number = _UNITS.get(words[at], _UNITS_ELSEWHERE.get(words[at]))
        made.append(words[at] if number is None else str(number))
        at += 1
    return " ".join(made)


@functools.lru_cache(MAX_SPELT)
def with_one_spelling(folded_title: str) -> str:
    """Return a folded title with digits for number words, and "and" for its short forms.

    >>> with_one_spelling("rock n roll for two") == with_one_spelling("rock and roll for 2")
    True
    """
    words = with_digits(folded_title).split()
    inner = range(1, len(words) - 1)
    return " ".join(
        "and" if at in inner and word in ("n", "plus", "und", "et", "y", "och", "og") else word
        for at, word in enumerate(words)
    )
