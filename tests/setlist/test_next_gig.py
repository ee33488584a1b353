"""Which of several lists in a file is read by default: the one for the next gig."""

import datetime as dt

import pytest
from setlist.reading_texts import read

TODAY = dt.datetime.now().astimezone().date()
SONGS = ("Moth - G\nWeeds - C\nTidal Clock - F\n", "Fog Bell - A\nLate Tram - E\nMoth - G\n")


def two_lists(first: int, second: int, pattern: str = "%a %d %b %Y") -> str:
    """Two lists under their days, so many days from today."""
    days = [(TODAY + dt.timedelta(days=ahead)).strftime(pattern) for ahead in (first, second)]
    return f"{days[0]}, The Goat\n{SONGS[0]}\n{days[1]}, Cliff Club\n{SONGS[1]}"


@pytest.mark.parametrize("pattern", ["%a %d %b %Y", "%a %d %b"])
@pytest.mark.parametrize(
    ("first", "second", "read_first"),
    [(4, 13, True), (13, 4, False), (-20, 6, False), (6, -20, True), (-40, -9, False)],
)
def test_the_list_of_the_next_gig_is_read_or_the_last_where_all_are_past(
    first: int, second: int, pattern: str, *, read_first: bool
) -> None:
    found = read(two_lists(first, second, pattern))
    assert found.titles == (["Moth", "Weeds", "Tidal Clock"] if read_first else ["Fog Bell", "Late Tram", "Moth"])
    assert len(found.choices) == 2


@pytest.mark.parametrize("words", ["you're only on this one", "this one is yours", "you are playing this"])
def test_words_that_name_the_players_gig_decide_before_its_day(words: str) -> None:
    found = read(two_lists(4, 13).replace("Cliff Club", f"Cliff Club ({words})"))
    assert found.titles == ["Fog Bell", "Late Tram", "Moth"]
