"""Keys as a telephone spells their letters: "gee major", "bee flat", "is in ay"."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.key_words import FLATS, MAJOR, MINOR, SHARPS, SPOKEN
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import ReplyWord, low, set_of, words_of

# These are other words too, so they count only before "major" and the like.
_SOUNDS_LIKE: Final = {**SPOKEN, "jee": "G", "gee": "G", "ef": "F", "see": "C", "sea": "C", "be": "B", "aye": "A"}
_SIGNS: Final = (MINOR | MAJOR | FLATS | SHARPS) - set_of("m b # is es min maj dur moll molle")
_BEFORE: Final = set_of("in is to key of from now stays")
_AFTER: Final = set_of("and then but number song track the for please now not or")
LEAST: Final = 2  # letters in a line, so that none of them is a name


def spelled_letters(lines: Sequence[ReplyLine], titles: Sequence[str]) -> list[ReplyLine]:
    """Write the letter of each key that is spelled as it sounds; words of titles stay as they are."""
    within = {word for title in titles for word in title.split()}
    return [line if line.is_quoted else line._replace(text=_with_letters(line.text, within)) for line in lines]


def _with_letters(text: str, titled: set[str]) -> str:
    words = words_of(text)
    if not any(word.low in _SOUNDS_LIKE for word in words):
        return text
    signed = [at for at, word in enumerate(words) if _is_signed(words, at) and word.low not in titled]
    alone = [at for at, word in enumerate(words) if _is_alone(words, at) and word.low not in titled]
    places = signed + alone if len(signed) + len(alone) >= LEAST else signed
    for at in sorted(places, reverse=True):
        text = text[: words[at].start] + _SOUNDS_LIKE[words[at].low] + text[words[at].end :]
    return text


def _is_signed(words: Sequence[ReplyWord], at: int) -> bool:
    return words[at].low in _SOUNDS_LIKE and low(words, at + 1) in _SIGNS


def _is_alone(words: Sequence[ReplyWord], at: int) -> bool:
    follows = low(words, at + 1)
    ends = not follows or not re.match(r"\w", follows) or follows in _AFTER or follows in _NUMBERS
    return words[at].text in SPOKEN and low(words, at - 1) in _BEFORE and ends


_NUMBERS: Final = set_of("one two three four five six seven eight nine ten eleven twelve")
