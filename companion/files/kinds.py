"""Kinds of single values: whole numbers, words, dates, clock times, lengths, yes or no.

A kind reads a node into a value, or notes a fault and returns None. An empty value also reads as None: it is not known
yet, which is not a fault. The same kind describes itself as JSON Schema.
"""

import datetime as dt
import enum
import functools
import re
from collections.abc import Callable, Mapping
from typing import Any, Generic, NamedTuple, TypeVar

from companion.files.file_reading import Reading
from companion.files.nearest import nearest_or_all, shown
from companion.files.nodes import Items, Node, Text

T = TypeVar("T")
WordT = TypeVar("WordT", bound=enum.Enum)
Schema = dict[str, Any]

KEPT = 4096  # cached texts of one kind: a show says "Chorus" and "8" a thousand times


class InvalidValue(ValueError):  # noqa: N818  it becomes a Fault once it has a place
    """A text of the wrong kind. ``column`` counts from 0 in the text, to the character at fault."""

    def __init__(self, problem: str, write: str = "", column: int = 0) -> None:
        self.problem = problem
        self.write = write
        self.column = column
        super().__init__(problem)


class ValueKind(Generic[T]):
    """The kind of a key's value. ``description`` names it in a fault: a whole number, a date such as 2027-06-19."""

    description = ""

    def into(self, name: str) -> "Field":
        """Put the value into the struct's field ``name`` instead of the one named like the key."""
        return Field(name, self)

    def read(self, node: Node, reading: Reading) -> T | None:
        """Return the value; None if it is empty or a fault was noted."""
        raise NotImplementedError

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Return the JSON Schema 2020-12 of the value; named parts go into ``parts``."""
        raise NotImplementedError


class Field(NamedTuple):
    """A kind, and the struct field for its value."""

    name: str
    kind: ValueKind[Any]


class Scalar(ValueKind[T]):
    """A text that ``convert`` reads. It refuses a text by raising ``refused``, with column, problem and write."""

    def __init__(
        self, convert: Callable[[str], T], schema: Schema, description: str, refused: type[ValueError] = InvalidValue
    ) -> None:
        self._convert = functools.lru_cache(KEPT)(convert)
        self._schema = schema
        self.description = description
        self._refused = refused

    def read(self, node: Node, reading: Reading) -> T | None:
        """Return the value of a text."""
        if type(node) is not Text:
            wrote = "a list" if type(node) is Items else "a table"
            reading.fault(node, f"{self.description} belongs here, not {wrote}", self.description)
            return None
        if not node.text and not node.style:
            return None
        try:
            return self._convert(node.text)
        except self._refused as no:
            refusal: Any = no
            reading.fault(node, refusal.problem, refusal.write, refusal.column)
            return None

    def schema(self, parts: dict[str, Schema]) -> Schema:  # noqa: ARG002  every kind has this signature
        """Return the given schema."""
        return self._schema


def plain(types: str | list[str] = "string", **more: object) -> Schema:
    """Return the schema of a scalar: these types, or empty (null to a YAML editor)."""
    listed = [types] if isinstance(types, str) else types
    return {"type": [*listed, "null"], **more}


def words(longest: int = 200, *, lines: bool = False, description: str = "a text") -> Scalar[str]:
    """Read text as typed, on one line unless ``lines``. Control characters are refused: they would reach a terminal."""

    def convert(text: str) -> str:
        if len(text) > longest:
            raise InvalidValue(f"{len(text)} characters, at most {longest} fit here", shown(text, longest), longest)
        if not text.isprintable():
            for column, letter in enumerate(text):
                if letter == "\n" and not lines:
                    raise InvalidValue("one line belongs here", shown(text, longest), column)
                if not letter.isprintable() and letter != "\n" and _is_control(letter):
                    raise InvalidValue(f"the control character U+{ord(letter):04X}", "the text without it", column)
        if not text.strip():
            raise InvalidValue("nothing but spaces", "a text, or leave it out")
        return text

    schema = plain(["string", "number", "boolean"], maxLength=longest)
    return Scalar(convert, schema, description)


def _is_control(letter: str) -> bool:
    return letter < " " or "\x7f" <= letter <= "\x9f" or letter in "\u2028\u2029"


def whole(least: int, most: int, what: str = "a whole number") -> Scalar[int]:
    """Read a whole number; leading zeros are allowed: ``010`` is ten."""
    return whole_words(least, most, what, {})


def whole_words(least: int, most: int, what: str, others: Mapping[str, int]) -> Scalar[int]:
    """Read a whole number, or one of a few words for numbers."""
    description = f"{what}, {least} to {most}"

    def convert(text: str) -> int:
        found = _WHOLE.fullmatch(text)
        if found and len(text) <= 12:
            number = int(text)
            if least <= number <= most:
                return number
            raise InvalidValue(f"{text} is out of range: {description}", str(min(max(number, least), most)))
        if text in others:
            return others[text]
        digits = re.search(_DIGITS, text[:40])
        fits = digits and least <= int(digits[0]) <= most
        raise InvalidValue(f"{shown(text)} is not {description}", digits[0] if digits and fits else description)

    schema = plain(["integer", "string"] if others else "integer", minimum=least, maximum=most)
    if others:
        schema["pattern"] = f"^({'|'.join(map(re.escape, others))})$"
    return Scalar(convert, schema, description)


# Patterns for faults are compiled when there is one.
_WHOLE = re.compile(r"[+-]?[0-9]+$")
_DIGITS = r"-?[0-9]{1,9}"
_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?$")


def number(least: float, most: float, what: str = "a number") -> Scalar[float]:
    """Read a number, with a decimal point if needed."""
    description = f"{what}, {least:g} to {most:g}"

    def convert(text: str) -> float:
        if _NUMBER.fullmatch(text) and len(text) <= 40:
            value = float(text)
            if least <= value <= most:
                return value
            raise InvalidValue(f"{text} is out of range: {description}", f"{min(max(value, least), most):g}")
        with_point = text.replace(",", ".")
        raise InvalidValue(
            f"{shown(text)} is not {description}", with_point if _NUMBER.fullmatch(with_point) else description
        )

    return Scalar(convert, plain("number", minimum=least, maximum=most), description)


def choice(of: type[WordT]) -> Scalar[WordT]:
    """Read one of an enum's words."""
    known = {str(member.value): member for member in of}
    description = nearest_or_all("", known)

    def convert(text: str) -> WordT:
        try:
            return known[text]
        except KeyError:
            raise InvalidValue(f"{shown(text)} is not one of {description}", nearest_or_all(text, known)) from None

    return Scalar(convert, {"enum": [*known, None]}, description)


YES_OR_NO = {"yes": True, "true": True, "no": False, "false": False}


def yes_no() -> Scalar[bool]:
    """Read yes or no, quoted or not."""

    def convert(text: str) -> bool:
        try:
            return YES_OR_NO[text.lower()]
        except KeyError:
            raise InvalidValue(f"{shown(text)} is neither yes nor no", "yes or no") from None

    return Scalar(convert, {"enum": [True, False, *YES_OR_NO, None]}, "yes or no")


def date() -> Scalar[dt.date]:
    """Read a day: 2027-06-19."""
    schema = plain(pattern="^[0-9]{4}-[0-9]{2}-[0-9]{2}$", format="date")
    return Scalar(_date, schema, "a date such as 2027-06-19")


_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})$")
_YEAR_FIRST = r"([0-9]{4})[-./]([0-9]{1,2})[-./]([0-9]{1,2})"
_DAY_FIRST = r"([0-9]{1,2})[.]\s*([0-9]{1,2})[.]\s*([0-9]{4})"  # 3/4/2027 is ambiguous, 3.4.2027 is not


def _date(text: str) -> dt.date:
    found = _DATE.fullmatch(text)
    try:
        if found:
            return dt.date(int(found[1]), int(found[2]), int(found[3]))
    except ValueError:
        raise InvalidValue(f"there is no day {text}", "a day that exists, such as 2027-06-19") from None
    if found := re.match(_YEAR_FIRST, text):
        write = f"{found[1]}-{int(found[2]):02}-{int(found[3]):02}"
    elif found := re.match(_DAY_FIRST, text):
        write = f"{found[3]}-{int(found[2]):02}-{int(found[1]):02}"
    else:
        write = "year-month-day, such as 2027-06-19"
    raise InvalidValue(f"{shown(text)} is not a date", write)


def clock_time() -> Scalar[int]:
    """Read a clock time as minutes since midnight: 20:00 is 1200. Times after midnight continue: 24:30 to 29:59."""
    schema = {"type": ["string", "integer", "null"], "pattern": "^[0-2]?[0-9]:[0-5][0-9]$"}
    return Scalar(_clock_time, schema, "a time such as 20:00")


_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})$")
_LOOSE_CLOCK = r"(?i)\s*([0-9]{1,2})(?:[.:hH]?([0-9]{2}))?\s*(?:h|uhr)?\s*([ap])?\.?m?\.?\s*$"


def _clock_time(text: str) -> int:
    found = _CLOCK.fullmatch(text)
    if found and int(found[1]) < 30 and int(found[2]) < 60:
        return int(found[1]) * 60 + int(found[2])
    loose = re.match(_LOOSE_CLOCK, text)
    write = "hours:minutes, such as 20:00"
    if loose and int(loose[1]) < 30 and int(loose[2] or 0) < 60:
        hours = int(loose[1])
        if loose[3] and hours <= 12:
            hours = hours % 12 + (12 if loose[3] in "pP" else 0)
        write = f"{hours}:{loose[2] or '00'}"
    raise InvalidValue(f"{shown(text)} is not a clock time", write)


LONGEST_S = 2 * 60 * 60


def length() -> Scalar[int]:
    """Read a length in seconds: 3:40 is 220, 0:45 is 45, 1:02:03 is 3723, a bare 220 is 220."""
    schema = {"type": ["string", "integer", "null"], "pattern": "^[0-9]+(:[0-5][0-9]){0,2}$"}
    return Scalar(_length, schema, "a length such as 3:40")


_LENGTH = re.compile(r"(?:(?:([0-9]{1,2}):)?([0-9]{1,2}):)?([0-9]{1,5})$")
_LOOSE_LENGTH = r"\s*([0-9]{1,2})\s*(?:[.,'´’]|m|min)\.?\s*([0-9]{2})\s*(?:s|sec|\"|″)?\s*$"


def _length(text: str) -> int:
    found = _LENGTH.fullmatch(text)
    if found:
        seconds = int(found[3])
        if found[2] and (seconds > 59 or len(found[3]) != 2):
            minutes = int(found[2]) + seconds // 60
            raise InvalidValue(f"{shown(text)} is not a length: seconds are 00 to 59", f"{minutes}:{seconds % 60:02}")
        total = int(found[1] or 0) * 3600 + int(found[2] or 0) * 60 + seconds
        if 0 < total <= LONGEST_S:
            return total
        raise InvalidValue(f"{text} is out of range: a length is 0:01 to 2:00:00", "minutes:seconds, such as 3:40")
    loose = re.match(_LOOSE_LENGTH, text)
    write = f"{loose[1]}:{loose[2]}" if loose else "minutes:seconds, such as 3:40"
    raise InvalidValue(f"{shown(text)} is not a length", write)
