"""Numbers in forms of their own that count the songs: ii. Moth; E1 Weeds, after the numbers of a set."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.text_lines import TextLine

FEWEST: Final = 2  # lines that count up from 1
_ONES: Final = ("", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix")
_ROMAN: Final = (*_ONES, *(f"x{one}" for one in _ONES))
_ROMAN_NUMBER: Final = re.compile(r"^\(?([ivx]{1,5})[.)]\s+(?=\S)", re.IGNORECASE)
_LETTER_NUMBER: Final = re.compile(r"^(E|Enc|Z|R|X|S|B|T)\.?\s?([1-9])[.):]?\s+(?:[-–—]\s)?(?=\S)")
_CAPITAL: Final = re.compile(r"^\(?([A-Z])(?:[).]|\s?:)\s+(?=\S)")
FEWEST_CAPITALS: Final = 4
_CODE: Final = re.compile(r"^([A-Za-z]{1,4})[.-]?\s?(\d{1,3})[.):]?\s+(?:[-–—]\s)?(?=\S)")
_LONE: Final = re.compile(r"^(\d{1,2})[.)]?$")
FEWEST_LONE: Final = 3
FEWEST_CODES: Final = 4
MAX_CODES: Final = 0.6  # share of the lines
_NAMES: Final = {"E": "Encore", "ENC": "Encore", "Z": "Encore", "R": "Reserve"}


def without_odd_numbers(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take such numbers off where they count up from 1, and name the set that a letter stands for."""
    return _without_letters(_without_capitals(_without_codes(_without_roman(_without_lone(lines)))))


def _without_lone(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Assign each number that has a line of its own to the title below it, where numbers and titles take turns."""
    found = [_LONE.match(line.whole) for line in lines]
    at_lone = [at for at, one in enumerate(found) if one]
    numbers = [int(one[1]) for one in found if one]
    take_turns = all(below - above == 2 for above, below in itertools.pairwise(at_lone))
    if len(numbers) < FEWEST_LONE or not _counts_up(numbers) or not take_turns or at_lone[-1] + 1 >= len(lines):
        return lines
    made = list(lines)
    for at, number in zip(at_lone, numbers, strict=True):
        made[at] = msgspec.structs.replace(lines[at], text="", whole="")
        made[at + 1] = msgspec.structs.replace(lines[at + 1], number=number)
    return made


def _without_roman(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    found = [_ROMAN_NUMBER.match(line.whole) for line in lines]
    numbers = [_ROMAN.index(one[1].lower()) if one and one[1].lower() in _ROMAN else None for one in found]
    counted = [number for number in numbers if number is not None]
    if len(counted) <= FEWEST or not _counts_up(counted):
        return lines
    made = []
    for line, one, number in zip(lines, found, numbers, strict=True):
        text = line.whole[one.end() :] if one and number is not None else line.text
        made.append(line if number is None else msgspec.structs.replace(line, text=text, number=number))
    return made


def _without_capitals(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take letters off that count the songs as numbers do: A) Moth, B) Weeds, C) Kite."""
    found = [_CAPITAL.match(line.text) if line.number is None else None for line in lines]
    numbers = [ord(one[1]) - ord("A") + 1 for one in found if one]
    if len(numbers) < FEWEST_CAPITALS or not _counts_up(numbers):
        return lines
    return [
        msgspec.structs.replace(line, text=line.text[one.end() :], number=ord(one[1]) - ord("A") + 1) if one else line
        for line, one in zip(lines, found, strict=True)
    ]


def _without_codes(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Take numbers after the same letters off, where most lines have them and they count up: Q01 Moth, Q02 Weeds."""
    found = [_CODE.match(line.text) for line in lines]
    codes = [one for one in found if one]
    filled = sum(bool(line.text) and not line.message.is_envelope for line in lines)
    letters = {one[1].lower() for one in codes}
    if len(codes) < max(FEWEST_CODES, MAX_CODES * filled) or len(letters) > 1:
        return lines
    if not _counts_up([int(one[2]) for one in codes]) or _are_titles(codes):
        return lines
    return [
        msgspec.structs.replace(line, text=line.text[one.end() :], number=int(one[2])) if one else line
        for line, one in zip(lines, found, strict=True)
    ]


def _are_titles(codes: Sequence[re.Match[str]]) -> bool:
    """Return whether little but a key follows most of them: Moth 1 - Bb, Moth 2 (G)."""
    behind = [one.string[one.end() :].split()[0].strip("()[]:,;") for one in codes]
    return 2 * sum(plain_key(word) is not None for word in behind) > len(codes)


def _without_letters(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    found = [_LETTER_NUMBER.match(line.text) for line in lines]
    numbers: dict[str, list[int]] = {}
    for one in found:
        if one:
            numbers.setdefault(one[1], []).append(int(one[2]))
    good = {letter for letter, counted in numbers.items() if len(counted) >= FEWEST and _counts_up(counted)}
    made = []
    for line, one in zip(lines, found, strict=True):
        if one and one[1] in good:
            name = _NAMES.get(one[1].upper(), "")
            text = line.text[one.end() :]
            line = msgspec.structs.replace(line, text=text, number=int(one[2]), set_name=name)  # noqa: PLW2901
        made.append(line)
    return made


def _counts_up(numbers: Sequence[int]) -> bool:
    """Return whether each number follows the one before, or begins again at 1."""
    return numbers[0] == 1 and all(number in (1, before + 1) for before, number in itertools.pairwise(numbers))
