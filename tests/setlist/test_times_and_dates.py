"""Cells that hold a length, a tempo, a meter, a time of day or a date: the limits on both sides, and what is none."""

import datetime as dt

import pytest

from companion.setlist.parsing.cells import (
    any_date_in,
    clock_cell,
    date_in,
    length_cell,
    meter_cell,
    says_evening,
    tempo_cell,
)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("2:00:00", 120),  # as a spreadsheet shows two minutes
        ("1:30:15", 5415),
        ("0:03:40", 220),
        ("120:00", 7200),
        ("120:01", None),
        ("0:01", 1),
        ("0:00", None),
        ("3'40\"", 220),
        ("4 min", 240),
        ("3m40", 220),
        ("220 s", 220),
        ("3.40", None),
        ("220", None),
    ],
)
def test_lengths_lie_between_a_second_and_two_hours(text: str, seconds: int | None) -> None:
    assert length_cell(text) == seconds


@pytest.mark.parametrize(("text", "tempo"), [("112", None), ("@112", 112.0), ("112 bpm", 112.0), ("♩=88,5", 88.5)])
def test_a_tempo_needs_its_sign(text: str, tempo: float | None) -> None:
    assert tempo_cell(text) == tempo
    assert tempo_cell("112", named=True) == 112.0


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("20:00", 1200),
        ("8pm", 1200),
        ("12am", 0),
        ("12pm", 720),
        ("12.30 a.m.", 30),
        ("1pm", 780),
        ("13pm", None),
        ("0am", None),
        ("20h30", 1230),
        ("20 Uhr", 1200),
        ("20", None),
        ("29:59", 1799),
        ("30:00", None),
        ("doors 8pm", None),
    ],
)
def test_a_time_of_day_needs_more_than_a_number(text: str, minutes: int | None) -> None:
    assert clock_cell(text) == minutes


@pytest.mark.parametrize(
    ("text", "is_evening"),
    [
        ("doors 7", True),
        ("doors 8", True),
        ("doors 9", False),
        ("doors 0", False),
        ("load in 12:30", False),
        ("load in 13:00", True),
        ("curfew 23", True),
        ("curfew 24", False),
        ("on at 11pm", True),
        ("on at 8am", False),
        ("room 2.014", False),
    ],
)
def test_a_line_of_the_day_says_evening(text: str, *, is_evening: bool) -> None:
    assert says_evening(text) is is_evening


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("Sat 2027-06-19", dt.date(2027, 6, 19)),
        ("19.6.2027", dt.date(2027, 6, 19)),
        ("19.6.27", dt.date(2027, 6, 19)),
        ("19/6/27", dt.date(2027, 6, 19)),
        ("6/19/2027", dt.date(2027, 6, 19)),
        ("6/6/2027", dt.date(2027, 6, 6)),
        ("5/6/2027", None),
        ("12/13/27", dt.date(2027, 12, 13)),
        ("31.2.2027", None),
        ("19th of June 2027", dt.date(2027, 6, 19)),
        ("June 19, 2027", dt.date(2027, 6, 19)),
        ("19 Blarch 2027", None),
        ("moved from 12.6.2027 to 19.6.2027", dt.date(2027, 6, 19)),
    ],
)
def test_a_date_with_its_year_is_found(text: str, day: dt.date | None) -> None:
    found = date_in(text)
    assert (found and found[0]) == day
    if found:
        begin, end = found[1]
        assert date_in(text[begin:end]) == (day, (0, end - begin)), "the span holds the date, whole"


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("list of 19 June", dt.date(1, 6, 19)),
        ("list of June 19th", dt.date(1, 6, 19)),
        ("list 19.6.", dt.date(1, 6, 19)),
        ("list 19/6/27", dt.date(2027, 6, 19)),
        ("list 6/19", dt.date(1, 6, 19)),
        ("list 19-6-2027", dt.date(2027, 6, 19)),
        ("songs of 2026", dt.date(2026, 1, 1)),
        ("list 31/2", None),
        ("list", None),
    ],
)
def test_lists_are_sorted_by_any_day_that_they_name(text: str, day: dt.date | None) -> None:
    assert any_date_in(text) == day


@pytest.mark.parametrize(
    ("text", "meter"), [("6/8", "6/8"), ("(3/4 time)", "3/4"), ("4/4 feel", "4/4"), ("C", None), ("4/5", None)]
)
def test_a_meter_is_two_numbers_that_a_meter_can_have(text: str, meter: str | None) -> None:
    found = meter_cell(text)
    assert (str(found) if found else None) == meter
