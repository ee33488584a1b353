"""The lines above a list that name the gig, and the half of the day that its times are in.

Written by hand, as band leaders write them. Common practice, no source; the weekdays are those of the calendar.
"""

import datetime as dt

import pytest

from companion.setlist import SetList, read_list
from companion.setlist.parsing.gig_lines import band_line, gig_line

pytestmark = pytest.mark.usefixtures("reads_here")

SENT = dt.date(2026, 11, 28)
SONGS = "Pepper Lane - C\nCold Radiator - G\nSalt Parade - D\n"


def read(text: str) -> SetList:
    return read_list("message.txt", raw=text.encode())


@pytest.mark.parametrize(
    ("text", "title", "venue", "date"),
    [
        ("Tiller & Sons xmas do, Lowside Hall, Mon 7 December", "Tiller & Sons xmas do", "Lowside Hall", "2026-12-07"),
        (
            "Hi! Next one if you can - Cragmoor Golf Club, Sat 19 December, 2 x 45, starts 8pm",
            "Cragmoor Golf Club",
            "Cragmoor Golf Club",
            "2026-12-19",
        ),
        ("Sat 2nd Jan - Harvest Ball - The Corn Exchange", "Harvest Ball", "The Corn Exchange", "2027-01-02"),
        ("Sat 2nd Jan, Hollow Oak. 8.30 pm, two sets", "Hollow Oak", None, "2027-01-02"),
        ("Sat 2nd Jan, St. Odo's Dance", "St. Odo's Dance", None, "2027-01-02"),
        ("Village Fete, 3 July 2027", "Village Fete", None, "2027-07-03"),
        ("Village Fete, Friday 4 December 2026", "Village Fete", None, "2026-12-04"),
    ],
)
def test_a_line_with_a_day_names_the_gig(text: str, title: str, venue: str | None, date: str) -> None:
    found = gig_line(text, SENT)
    assert found is not None
    assert (found.title, found.venue, str(found.date)) == (title, venue, date)


def test_a_day_whose_weekday_is_another_has_no_year() -> None:
    found = gig_line("Village Fete, Sunday 7 December", SENT)
    assert found is not None
    assert found.date is None


def test_a_day_without_weekday_and_year_has_a_date_only_where_the_message_has() -> None:
    text = "Village Fete, 7 December"
    assert [found and found.date for found in (gig_line(text, None), gig_line(text, SENT))] == [
        None,
        dt.date(2026, 12, 7),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "see you on Mon 7 December, load in at 5",
        "Mon 7 December",
        "Pepper Lane - C",
        "December Song, G",
        "speeches 7 December, then we play",
        "x" * 500 + ", Mon 7 December",
    ],
)
def test_other_lines_name_no_gig(text: str) -> None:
    assert gig_line(text, SENT) is None


@pytest.mark.parametrize(
    ("text", "band"),
    [
        ("The Tin Whistle Seven (7 of us, dont ask)", "The Tin Whistle Seven"),
        ("Bodo Pratt Quartet", "Bodo Pratt Quartet"),
        ("the usual suspects", None),
        ("Bring a Stand", None),
    ],
)
def test_a_line_names_a_band(text: str, band: str | None) -> None:
    assert band_line(text) == band


def test_a_first_message_names_gig_house_day_and_band() -> None:
    listed = read(
        "[28/11/2026, 21:14] Bodo Pratt: Hiya, thanks SO much for stepping in!! here's Monday week\n"
        "Tiller & Sons xmas do, Lowside Hall, Mon 7 December\n"
        f"The Tin Whistle Seven (7 of us, dont ask)\n\nSET 1 (8.00 - 45 mins)\n{SONGS}"
    )
    show = listed.show
    assert (show.title, show.band, show.venue, show.date) == (
        "Tiller & Sons xmas do",
        "The Tin Whistle Seven",
        "Lowside Hall",
        dt.date(2026, 12, 7),
    )
    assert len(listed.titles) == 3
    assert "Tiller" not in (show.notes or "")


def test_what_a_line_says_besides_the_gig_stays_in_the_notes() -> None:
    listed = read(f"Village Fete, Lowside Hall, Mon 7 December, 2 x 45, starts 8pm\nSet 1\n{SONGS}")
    assert "2 x 45, starts 8pm" in (listed.show.notes or "")


@pytest.mark.parametrize(
    ("headings", "starts"),
    [
        (("SET 1 (8.00 - 45 mins)", "SET 2 9.45", "SET 3 10.45"), (1200, 1305, 1365)),
        (("Set 1", "Set 2 9.15", "Set 3 12.15"), (None, 1275, 1455)),
        (("Set 1 11.00", "Set 2 12.15", "Set 3 1.30"), (660, 735, 810)),
        (("Set 1 9am", "Set 2 10.15", "Set 3 11.30"), (540, 615, 690)),
        (("Sunday brunch\n\nSet 1 8.30", "Set 2 10.45", "Set 3 11.45"), (510, 645, 705)),
        (("Set 1 9.30", "Set 2 10.45", "Set 3 11.45"), (570, 645, 705)),
        (("Set 1 20:00", "Set 2 21:15", "Set 3 22:30"), (1200, 1275, 1350)),
    ],
)
def test_an_early_hour_is_of_the_evening_unless_the_list_names_a_morning(
    headings: tuple[str, ...], starts: tuple[int | None, ...]
) -> None:
    songs = ("Pepper Lane\nCold Radiator\n", "Salt Parade\nUmbrella Hour\n", "Slow Ferry\nPaper Crown\n")
    listed = read("\n".join(f"{heading}\n{titles}" for heading, titles in zip(headings, songs, strict=True)))
    assert tuple(one.starts_min for one in listed.show.sets) == starts
