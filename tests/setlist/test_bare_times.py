"""Programmes whose times have no colon: 1930 Dinner, 2115 Dancing."""

import pytest
from setlist.reading_texts import read, said

PROGRAMME = """1700{gap}Load in
1930{gap}DINNER
Paper Moons (G)
Old Tin Drum (C)
Lantern Street (Am)
2045{gap}SPEECHES
2115{gap}DANCING
Hey Marigold (E)
Brassneck (D)
"""


@pytest.mark.parametrize("gap", [" ", "  ", "hrs ", " - ", "\t"])
def test_times_of_four_digits_head_the_sets_of_a_programme(gap: str) -> None:
    found = read(PROGRAMME.format(gap=gap))
    assert (
        said(found) == "Dinner: Paper Moons=G; Old Tin Drum=C; Lantern Street=Am | Dancing: Hey Marigold=E; Brassneck=D"
    )
    assert [one.starts_min for one in found.show.sets] == [19 * 60 + 30, 21 * 60 + 15]


def test_a_programme_without_keys_has_its_sets_too() -> None:
    found = read("1930 Dinner\nPaper Moons\nOld Tin Drum\n2115 Dancing\nLate Tram\nBrassneck\n0030 Last dance\nMoth\n")
    assert said(found) == "Dinner: Paper Moons; Old Tin Drum | Dancing: Late Tram; Brassneck | Last dance: Moth"


@pytest.mark.parametrize(
    "titles", ["1958 in the Rain (G)\nPaper Moons (C)\n", "2015 Blues (G)\n1910 Rag (D)\nMoth (C)\n"]
)
def test_a_year_that_begins_a_title_is_no_time(titles: str) -> None:
    found = read(f"{titles}Old Tin Drum (C)\nLantern Street (Am)\n")
    assert [one.split(" (")[0] for one in titles.splitlines()] == found.titles[: titles.count("\n")]


def test_times_with_a_point_are_times_where_many_lines_begin_with_them() -> None:
    found = read(
        "TEA DANCE   Wed 16 Dec\n\n2.00   Pomander   F\n2.06   Quickstep   C\n2.12   Veleta   G\n2.18   Tango   Dm"
    )
    assert said(found).endswith("Pomander=F; Quickstep=C; Veleta=G; Tango=Dm")


def test_digits_with_a_point_that_count_on_by_one_are_no_times() -> None:
    found = read("1.01 Pomander (F)\n1.02 Quickstep (C)\n1.03 Veleta (G)\n1.04 Tango (Dm)")
    assert said(found).endswith("Pomander=F; Quickstep=C; Veleta=G; Tango=Dm")
