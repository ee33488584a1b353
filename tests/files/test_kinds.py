"""What stands behind a key: each kind's texts, and for each that it refuses what to write instead."""

import datetime as dt
import enum
from typing import Any

import msgspec
import pytest
from files.written import faults_of, value
from hypothesis import given
from hypothesis import strategies as st

from companion.files import (
    Form,
    Reading,
    SourceFile,
    Text,
    ValueKind,
    choice,
    clock_time,
    date,
    length,
    number,
    whole,
    words,
    yes_no,
)


class One(msgspec.Struct, frozen=True):
    a: Any = None


class Ending(enum.Enum):
    COLD = "cold"
    VAMP_OUT = "vamp-out"
    NONE = "none"


def read(kind: ValueKind[Any], typed: str) -> object:
    reading = Reading()
    found = kind.read(value(f"a: {typed}"), reading)
    assert not reading.faults, reading.faults
    return found


BARS = whole(1, 400, "whole bars")
TEMPO = number(20, 400)
READ: list[tuple[ValueKind[Any], str, object]] = [
    (BARS, "8", 8),
    (BARS, "010", 10),  # YAML 1.1 would read 8
    (BARS, "'08'", 8),
    (BARS, "+16", 16),
    (TEMPO, "112", 112.0),
    (TEMPO, "112.50", 112.5),
    (TEMPO, "1e2", 100.0),
    (choice(Ending), "vamp-out", Ending.VAMP_OUT),
    (choice(Ending), '"none"', Ending.NONE),
    (yes_no(), "no", False),
    (yes_no(), '"no"', False),
    (yes_no(), "Yes", True),
    (yes_no(), "true", True),
    (date(), "2027-06-19", dt.date(2027, 6, 19)),
    (date(), '"2028-02-29"', dt.date(2028, 2, 29)),
    (clock_time(), "20:00", 1200),  # YAML 1.1 would read 1200 seconds or minutes alike
    (clock_time(), "8:05", 485),
    (clock_time(), "09:30", 570),
    (clock_time(), "24:30", 1470),  # half past midnight, of the same night
    (length(), "3:40", 220),
    (length(), "0:45", 45),
    (length(), "03:05", 185),
    (length(), "220", 220),
    (length(), "1:02:03", 3723),
    (words(), "on", "on"),
    (words(), "3:40", "3:40"),
    (words(), "Ночь ♭ 😀", "Ночь ♭ 😀"),
    (words(lines=True), '"a\\nb"', "a\nb"),
]


@pytest.mark.parametrize(("kind", "typed", "means"), READ)
def test_a_text_means_what_was_typed(kind: ValueKind[Any], typed: str, means: object) -> None:
    assert read(kind, typed) == means


@pytest.mark.parametrize("kind", [BARS, TEMPO, choice(Ending), yes_no(), date(), clock_time(), length(), words()])
def test_an_empty_value_means_unknown_and_is_not_a_fault(kind: ValueKind[Any]) -> None:
    assert read(kind, "") is None


REFUSED: list[tuple[ValueKind[Any], str, str, str]] = [
    # the kind, what was typed, what is wrong, what to write (with which it is read)
    (BARS, "0", "0 is out of range: whole bars, 1 to 400", "1"),
    (BARS, "401", "401 is out of range: whole bars, 1 to 400", "400"),
    (BARS, "16 bars", '"16 bars" is not whole bars, 1 to 400', "16"),
    (BARS, "8.0", '"8.0" is not whole bars, 1 to 400', "8"),
    (TEMPO, "1e3", "1e3 is out of range: a number, 20 to 400", "400"),
    (TEMPO, "112,5", '"112,5" is not a number, 20 to 400', "112.5"),
    (choice(Ending), "vampout", '"vampout" is not one of cold, vamp-out or none', "vamp-out"),
    (date(), "2027-6-9", '"2027-6-9" is not a date', "2027-06-09"),
    (date(), "19.6.2027", '"19.6.2027" is not a date', "2027-06-19"),
    (clock_time(), "8 pm", '"8 pm" is not a clock time', "20:00"),
    (clock_time(), "12 am", '"12 am" is not a clock time', "0:00"),
    (clock_time(), "20.30", '"20.30" is not a clock time', "20:30"),
    (clock_time(), "20", '"20" is not a clock time', "20:00"),
    (length(), "3:60", '"3:60" is not a length: seconds are 00 to 59', "4:00"),
    (length(), "3:4", '"3:4" is not a length: seconds are 00 to 59', "3:04"),
    (length(), "3m40", '"3m40" is not a length', "3:40"),
    (length(), "3.40", '"3.40" is not a length', "3:40"),
    (words(10), "twelve chars", "12 characters, at most 10 fit here", '"twelve ch…"'),
]


@pytest.mark.parametrize(("kind", "typed", "problem", "write"), REFUSED)
def test_a_refused_text_comes_with_a_correct_one(kind: ValueKind[Any], typed: str, problem: str, write: str) -> None:
    form = Form(One, "a thing", {"a": kind})
    (fault,) = faults_of(f"a: {typed}", form)
    assert fault == f"1:{4 if 'characters' not in problem else 14}: {problem}. Write: {write}"
    assert faults_of(f"a: {write}", form) == []


@pytest.mark.parametrize(
    ("kind", "typed", "problem"),
    [
        (BARS, "many", '"many" is not whole bars, 1 to 400'),
        (BARS, "1_000", '"1_000" is not whole bars, 1 to 400'),
        (BARS, "٣", '"٣" is not whole bars, 1 to 400'),  # an Arabic-Indic three; int() would read it
        (TEMPO, "nan", '"nan" is not a number, 20 to 400'),
        (TEMPO, "inf", '"inf" is not a number, 20 to 400'),
        (TEMPO, "fast", '"fast" is not a number, 20 to 400'),
        (yes_no(), "maybe", '"maybe" is neither yes nor no'),
        (date(), "2027-02-30", "there is no day 2027-02-30"),
        (date(), "in June", '"in June" is not a date'),
        (date(), "3/4/2027", '"3/4/2027" is not a date'),  # whether March or April is a guess
        (clock_time(), "30:00", '"30:00" is not a clock time'),
        (clock_time(), "20:60", '"20:60" is not a clock time'),
        (length(), "0", "0 is out of range: a length is 0:01 to 2:00:00"),
        (length(), "2:00:01", "2:00:01 is out of range: a length is 0:01 to 2:00:00"),
        (length(), "long", '"long" is not a length'),
        (words(), '" "', "nothing but spaces"),
        (words(), '"a\\nb"', "one line belongs here"),
        (words(), '"a\\e[31mb"', "the control character U+001B"),  # it would colour a terminal
        (words(), "[a, b]", "a text belongs here, not a list"),
        (BARS, "{b: 1}", "whole bars, 1 to 400 belongs here, not a table"),
    ],
)
def test_a_refused_text_is_reported_with_what_belongs_there(kind: ValueKind[Any], typed: str, problem: str) -> None:
    (fault,) = faults_of(f"a: {typed}", Form(One, "a thing", {"a": kind}))
    place, _, told = fault.partition(": ")
    assert place.startswith("1:")
    assert told.startswith(f"{problem}. Write: ")


def test_a_fault_points_at_the_character_within_the_text() -> None:
    (fault,) = faults_of('a: "ab\\tcd"', Form(One, "a thing", {"a": words()}))
    assert fault.startswith("1:7: the control character U+0009")


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    for kind in (BARS, TEMPO, choice(Ending), yes_no(), date(), clock_time(), length(), words(20)):
        reading = Reading()
        kind.read(Text(text, SourceFile("a.yaml", text), 1, 1), reading)
        assert all(fault.problem for fault in reading.faults)
