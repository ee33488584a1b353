"""Keys of several songs in small letters: "the first four are in e g a and e minor", "1 and 2 in d and a"."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import HOURS, folded_words
from companion.leader.key_words import FLATS, MAJOR, MINOR, SHARPS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import COUNTED, NUMBER, SIGN, ReplyWord, low, set_of, words_of

LEAST_BARE: Final = 3  # letters with nothing between them; "in a g" may be another word
_SMALL_KEY: Final = re.compile(r"[a-h][b#♭♯]?")
_IN: Final = set_of("in are is en i em")
_JOINS: Final = set_of(", and & + und et y then / och og plus")
_MODES: Final = (MINOR | MAJOR | FLATS | SHARPS) - set_of("b # ♭ ♯ es is m mi")


def with_small_keys(words: list[ReplyWord]) -> list[ReplyWord]:
    """Write small letters that are keys as capitals, so that "a" is no article: keys in a row, "ten is a and fades"."""
    for at in range(1, len(words)):
        if is_lone_key(words, at):
            words[at] = words[at]._replace(text="A")
    at = 1
    while at < len(words):
        places, end = _run(words, at) if words[at - 1].low in _IN and words[at].text.islower() else ([], at)
        for place in places:
            words[place] = words[place]._replace(text=words[place].text[:1].upper() + words[place].text[1:])
        at = max(end, at + 1)
    return words


def is_lone_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "a" is a key, since what follows it can follow no article: number ten is a with the guitar."""
    if words[at].low != "a" or at + 1 >= len(words):
        return False
    is_after = low(words, at - 1) in _IS or (_is_number(words[at - 1]) and low(words, at - 2) in _CALLED)
    return is_after and low(words, at + 1) in _AFTER_NO_ARTICLE


def _is_number(word: ReplyWord) -> bool:
    return word.kind == NUMBER or word.low in COUNTED or word.low in HOURS


def with_small_rows(lines: Sequence[ReplyLine]) -> list[ReplyLine]:
    """Write as capitals the letters of lines that have nothing but keys in small letters: "keys: d e c g em a"."""
    return [line._replace(text=_capitals(line.text)) if _is_row(line) else line for line in lines]


def _is_row(line: ReplyLine) -> bool:
    words = [one.text for one in words_of(line.text) if one.kind != SIGN]
    is_row = len(words) >= LEAST_BARE and all(_ROW_KEY.fullmatch(one) for one in words)
    return is_row and not line.is_quoted and line.field in ("", "key")


def _capitals(text: str) -> str:
    return _LETTER.sub(lambda found: found[0].upper(), text)


_ROW_KEY: Final = re.compile(r"[a-h][b#♭♯]?m?")
_LETTER: Final = re.compile(r"\b[a-h]")


def _run(words: Sequence[ReplyWord], at: int) -> tuple[list[int], int]:
    """Return the places of the small keys that stand in a row from here, and where the row ends."""
    places: list[int] = []
    has_join = False
    end = at
    while end < len(words):
        if _SMALL_KEY.fullmatch(words[end].text):
            places.append(end)
            end += 1 + (low(words, end + 1) in _MODES)
        elif places and words[end].low in _JOINS and end + 1 < len(words) and _SMALL_KEY.fullmatch(words[end + 1].text):
            has_join, end = True, end + 1
        else:
            break
    ends = end >= len(words) or words[end].kind in (SIGN, NUMBER) or words[end].low in _JOINS | _AFTER
    is_row = len(places) > 1 and (has_join or len(places) >= LEAST_BARE)
    return (places if is_row and ends else [], end)


_IS: Final = set_of("is that's thats it's its ist ist's är er")
_CALLED: Final = folded_words("number song tune track nummer lied stuk liedje stück låt spår sang")
# Words that stand behind no English article; those of the languages whose "a" is none.
_AFTER_NO_ARTICLE: Final = set_of(
    "with and but then number because from until till unless instead not we you they it that which mit und aber dann "
    "nummer bis statt nicht wir met en maar dan tot niet we wij med och men sedan så till inte vi og til ikke"
)
_AFTER: Final = set_of("number song the first second third last next so but with thanks please cheers oh um uh")
