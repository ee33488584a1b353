"""Of several days in one line, the right one lands, or one with a doubt."""

import pytest
from leader.reply_shape import PIER, TODAY

from companion.leader.answers import read_answers

# The line, the day that lands, and whether it is certain.
LINES = [
    ("gig moved from 28 Nov to 5 Dec", "2026-12-05", True),
    ("28 Nov is now 5 Dec", "2026-12-05", True),
    ("28 Nov -> 5 Dec", "2026-12-05", True),
    ("Sat 5 Dec, not 28 Nov", "2026-12-05", True),
    ("not 28 Nov but 5 Dec", "2026-12-05", True),
    ("it's the 5th not the 6th of Dec", "2026-12-05", False),
    ("28 Nov to 5 Dec", "2026-11-28", False),
    ("28 Nov or 5 Dec", "2026-11-28", False),
    ("5 or 6 December", "2026-12-06", False),
    ("rehearsal 3 Dec, gig 5 Dec", "2026-12-05", False),
    ("Sat 5 and Sun 6 Dec", "2026-12-06", False),
]


@pytest.mark.parametrize(("line", "day", "is_certain"), LINES)
def test_of_several_days_the_right_one_lands_or_one_with_a_doubt(line: str, day: str, *, is_certain: bool) -> None:
    found = [one for one in read_answers(line, PIER, today=TODAY).found if one.field == "date"]
    assert [(one.value, not one.doubt) for one in found] == [(day, is_certain)]


@pytest.mark.parametrize("named", ["Lördag", "lordag", "lørdag", "sábado", "sabato", "samstag"])
def test_a_weekday_is_read_in_other_languages_with_and_without_its_marks(named: str) -> None:
    (found,) = [one for one in read_answers(f"{named} 20/2/27", PIER, today=TODAY).found if one.field == "date"]
    assert (found.value, found.doubt) == ("2027-02-20", "")


def test_a_weekday_that_is_not_that_of_the_date_is_a_doubt() -> None:
    (found,) = [one for one in read_answers("söndag 20/2/27", PIER, today=TODAY).found if one.field == "date"]
    assert (found.value, found.doubt) == ("2027-02-20", "20 February 2027 is a Saturday")


# Months by CLDR 44 (the genitive where it is said after a day), days of the week as they stand after "on"; from memory.
@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("Dissabte 12 de desembre del 2026", "2026-12-12"),
        ("subota 19. prosinca", "2026-12-19"),
        ("v soboto 19. decembra", "2026-12-19"),
        ("lauantaina 19. joulukuuta", "2026-12-19"),
        ("szombaton, december 12.", "2026-12-12"),
        ("w sobotę 12 grudnia", "2026-12-12"),
        ("v neděli 13. prosince", "2026-12-13"),
        ("sexta-feira, 11 de dezembro", "2026-12-11"),
        ("It's St Stephen's night", "2026-12-26"),
        ("first Thursday in February (the 4th)", "2027-02-04"),
        ("last Friday of January", "2027-01-29"),
    ],
)
def test_a_day_is_read_in_other_languages_and_as_it_is_counted(line: str, day: str) -> None:
    found = [one.value for one in read_answers(line, PIER, today=TODAY).found if one.field == "date"]
    assert found == [day]


@pytest.mark.parametrize("line", ["Submitted: 27/11/2026 18:04", "W dniu 26.11.2026 o 09:12 pisałeś:"])
def test_the_time_stamp_of_a_form_or_a_mail_is_no_day_of_the_show(line: str) -> None:
    assert not read_answers(f"{line}\nMoth is G", PIER, today=TODAY).found[1:]
