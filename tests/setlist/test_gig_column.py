"""One table for several gigs, and songs that stand in a list twice."""

import pytest
from setlist.reading_texts import read as read_text
from setlist.reading_texts import said

from companion.setlist import SetList
from companion.setlist.list_reading import list_in

SONGS = ("Moth,G", "Weeds,C", "Tidal Clock,F", "Fog Bell,A", "Late Tram,E", "Moth,D")


def read(name: str, *gigs: str) -> SetList:
    rows = "".join(f"{gig},{song}\n" for gig, song in zip(gigs, SONGS, strict=True))
    return list_in(f"{name},Song,Key\n{rows}".encode(), "list.csv")


@pytest.mark.parametrize(
    ("name", "gigs"),
    [("Where", ("Sat 14 Nov 2020 - Goat", "Sat 5 Dec 2020 - Cliff Club")), ("Gig", ("The Goat", "Cliff Club"))],
)
def test_a_column_that_names_gigs_holds_a_list_for_each(name: str, gigs: tuple[str, str]) -> None:
    found = read(name, *[gigs[0]] * 3, *[gigs[1]] * 3)
    first, second = ["Moth", "Weeds", "Tidal Clock"], ["Fog Bell", "Late Tram", "Moth"]
    assert found.titles == (second if "2020" in gigs[1] else first)  # of two gigs that are past, the later
    assert found.choices == gigs
    assert found.doubts[0].question


def test_a_column_of_days_on_which_songs_were_played_is_no_column_of_gigs() -> None:
    found = read("Last played", "14 Nov 2020", "5 Dec 2020", "14 Nov 2020", "5 Dec 2020", "1 May 2020", "5 Dec 2020")
    assert len(found.titles) == 6


def test_a_list_in_which_many_songs_stand_twice_is_doubted_as_a_whole() -> None:
    songs = "Moth - G\nWeeds - C\nTidal Clock - F\nLate Tram - E\n"
    found = read_text(f"{songs}Fog Bell - A\n{songs}")
    assert any("4 songs are in it twice" in str(doubt) for doubt in found.doubts)
    assert not any("twice" in str(doubt) for doubt in read_text(f"{songs}Fog Bell - A\nMoth - G\n").doubts)


def test_a_head_with_a_long_remark_in_a_bracket_begins_the_new_list() -> None:
    old, new = "Moth - G\nWeeds - C\nTidal Clock - F\n", "Weeds - C\nMoth - A\nFog Bell - D\n"
    remark = "(agreed with Robin over a very long supper at his place)"
    found = read_text(
        f"Draft 1 (ignore once you've read the next!)\n{old}\n\nFINAL for Fri 11 December {remark}\n{new}"
    )
    assert said(found) == "First: Weeds=C; Moth=A; Fog Bell=D"
