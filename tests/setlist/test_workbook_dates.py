"""Dates and times in workbooks: days counted as ECMA-376 says (part 1, 18.17.4.1); another library agrees."""

import datetime as dt

import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900, from_excel

from companion.setlist.readers.workbook_shared import Workbook

DATE, LASTS = 1, 2  # cell styles: one that makes a number a date, one that makes it a duration


def value(text: str, style: int = DATE, *, from_1904: bool = False) -> object:
    """Return what a cell holds, in a workbook that counts from 1900 or from 1904."""
    book = Workbook.__new__(Workbook)  # without a file
    book.from_1904, book.dates, book.elapsed = from_1904, {DATE}, {LASTS}
    return book.value("n", style, text)


@pytest.mark.parametrize(
    ("number", "means"),
    [
        ("45658", dt.datetime(2025, 1, 1)),  # noqa: DTZ001 - cells have no time zone
        ("46361.875", dt.datetime(2026, 12, 5, 21)),  # noqa: DTZ001 - same
        ("1", dt.datetime(1900, 1, 1)),  # noqa: DTZ001 - same; the first day
        ("59", dt.datetime(1900, 2, 28)),  # noqa: DTZ001 - same; 60 is a day that did not exist
        ("61", dt.datetime(1900, 3, 1)),  # noqa: DTZ001 - same
        ("0.5", dt.time(12)),
        ("0.152777777777778", dt.time(3, 40)),
    ],
)
def test_a_number_is_a_date_a_time_or_both(number: str, means: object) -> None:
    assert value(number) == means == from_excel(float(number), CALENDAR_WINDOWS_1900)


@pytest.mark.parametrize(
    ("number", "means"),
    [("44196", dt.datetime(2025, 1, 1)), ("0.5", dt.time(12))],  # noqa: DTZ001 - same
)
def test_some_workbooks_count_from_1904(number: str, means: object) -> None:
    assert value(number, from_1904=True) == means == from_excel(float(number), CALENDAR_MAC_1904)


def test_a_duration_may_pass_a_day() -> None:
    assert value("1.5", LASTS) == dt.timedelta(hours=36)
