"""Days as players type them."""

import datetime as dt

import pytest

from companion.errors import CompanionError
from companion.planning.typed_days import TypedDays
from companion.show.practice_time import read_days_off, read_rehearsals

TODAY = dt.date(2026, 11, 28)  # a Saturday
SHOW = dt.date(2026, 12, 12)
DAYS = TypedDays(TODAY, SHOW)


@pytest.mark.parametrize(
    "typed",
    [
        *(
            "9 Dec",
            "9 dec 26",
            "9 December",
            "9th December 2026",
            "the 9th of December",
            "Dec 9",
            "Dec. 9",
            "Dec 9, 2026",
        ),
        *("Wed 9 Dec", "Wednesday, 9 December", "on 9 Dec", "9. Dezember", "9 décembre", "le 9 décembre"),
        *("9.12.", "9.12", "9.12.26", "09.12.2026", "2026-12-09", "2026/12/9", "9-12", " 9 Dec "),
        *("9/12", "12/9"),  # the other reading is after the show
    ],
)
def test_a_day_is_read_in_the_ways_in_which_people_write_one(typed: str) -> None:
    assert read_rehearsals(DAYS.days(typed, weekdays=False)) == (dt.date(2026, 12, 9),)


@pytest.mark.parametrize(
    ("typed", "days"),
    [
        ("sun, 9 Dec", (6, dt.date(2026, 12, 9))),
        ("weekend and 30 Nov", (5, 6, dt.date(2026, 11, 30))),
        ("sun mon", (6, 0)),
        ("2026-12-09 2026-12-10", (dt.date(2026, 12, 9), dt.date(2026, 12, 10))),
        ("3.12.; Dec 4, 2026, 5 Dec", (dt.date(2026, 12, 3), dt.date(2026, 12, 4), dt.date(2026, 12, 5))),
        ("none", ()),
        ("", ()),
    ],
)
def test_days_off_are_days_of_every_week_and_dates_together(typed: str, days: tuple[int | dt.date, ...]) -> None:
    assert read_days_off(DAYS.days(typed, weekdays=True)) == days


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("9", '"9" is not a date.'),
        ("9th", "9th has no month."),
        ("31 Feb", '"31 Feb" is not a date.'),
        ("3/12, 5/6", "5 June 2027"),
        ("Tue 9 Dec", "9 December 2026 is a Wednesday."),
        ("9-11 Dec", "it names several days."),
        ("9 Nov", "9 November 2027 is after the show."),
        ("2/4/2027", '"2/4/2027" may be 4 February 2027 or 2 April 2027.'),
        ("December 26", "26 December 2026 is after the show."),
    ],
)
def test_what_is_no_day_or_two_is_refused_with_days_before_this_show(typed: str, says: str) -> None:
    with pytest.raises(CompanionError) as refused:
        DAYS.days(typed, weekdays=False)
    assert says in str(refused.value)
    assert str(refused.value).endswith("Write: 9 December 2026, 11 December 2026")


@pytest.mark.parametrize("date", [SHOW, TODAY, TODAY + dt.timedelta(1), TODAY - dt.timedelta(9), None])
def test_the_advice_can_be_typed_for_any_show(date: dt.date | None) -> None:
    days = TypedDays(TODAY, date)
    assert all(
        TODAY <= day <= (date or dt.date.max) or date == TODAY - dt.timedelta(9)
        for day in read_rehearsals(days.days(days.examples, weekdays=False))
    )


def test_the_day_of_a_show_may_be_any() -> None:
    assert TypedDays(TODAY).day("19 June") == dt.date(2027, 6, 19)
    assert TypedDays(TODAY).day("19 June 2026") == dt.date(2026, 6, 19)
    with pytest.raises(
        CompanionError, match=r"5/6.* may be 5 June 2027 or 6 May 2027|may be 6 May 2027 or 5 June 2027"
    ):
        TypedDays(TODAY).day("5/6")
