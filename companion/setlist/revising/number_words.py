"""Numbers in titles, so that 99 Umbrellas and Ninety-Nine Umbrellas compare as one."""

from typing import Final

_UNIT_WORDS: Final = (
    "zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|"
    "eighteen|nineteen"
)
_TEN_WORDS: Final = "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"
_UNITS: Final = {word: number for number, word in enumerate(_UNIT_WORDS.split("|"))}
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
        number = _UNITS.get(words[at])
        made.append(words[at] if number is None else str(number))
        at += 1
    return " ".join(made)
