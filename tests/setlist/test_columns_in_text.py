"""Columns that a text makes with spaces: numbers without a name, sets side by side, notes behind an arrow, breaks."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.parsing.set_headings import is_break

DUTCH = """SET 1                     toon   duur
01  Gracht in de mist     Am     3:40
02  Alle dagen dinsdag    C      4:05
03  Natte sokken          E      2:55
                        totaal  10:40

SET 2                     toon   duur
04  Honderd kilometer     Em     4:10
05  Regen op zink         Cm     5:00
06  Tot ziens             C      4:15
"""
TWO_SETS = """ROAD SOCIAL  -  SATURDAY 12 DECEMBER  -  THE DRAUGHTSMEN

SET ONE 20:30                       SET TWO 21:45
-------------                       -------------
1  Drawing Board           A        1  Splott Market           G
2  Taff Embankment         Dm       2  Ruled in Pencil         Am
3  Scale One to Fifty      G        3  Tiger Bay Tigers        C
4  Rain Delay              F        4  Penarth Is Not Enough   E
"""


def test_numbers_whose_column_has_no_name_are_no_titles() -> None:
    first, second = (
        "Gracht in de mist=Am; Alle dagen dinsdag=C; Natte sokken=E",
        "Honderd kilometer=Em; Regen op zink=Cm",
    )
    assert said(read(DUTCH)) == f"First: {first} | Second: {second}; Tot ziens=C"


def test_sets_side_by_side_have_columns_though_a_title_and_a_rule_cross_them() -> None:
    first, second = "Drawing Board=A; Taff Embankment=Dm", "Splott Market=G; Ruled in Pencil=Am; Tiger Bay Tigers=C"
    found = read(TWO_SETS)
    assert said(found) == (
        f"First: {first}; Scale One to Fifty=G; Rain Delay=F | Second: {second}; Penarth Is Not Enough=E"
    )
    assert [one.starts_min for one in found.show.sets] == [20 * 60 + 30, 21 * 60 + 45]


@pytest.mark.parametrize("arrow", ["→", "->", "-->", "=>"])
@pytest.mark.parametrize("key", ["(la mineur)", "(A minor)", "(Am)"])
def test_what_an_arrow_points_at_behind_the_key_is_a_note(arrow: str, key: str) -> None:
    found = read(f"Le Tram (ré mineur)\nCafé froid (sol)\nLa fille {key} {arrow} intro clavier seul\nLa Saône (do)\n")
    song = found.show.sets[0].songs[2]
    assert (song.title, str(song.key), song.notes) == ("La fille", "Am", "intro clavier seul")


@pytest.mark.parametrize(
    "line",
    [
        "Interval - tea, Welsh cakes, raffle",
        "Interval and retiring collection",
        "Pauze, er is koffie",
        "Pause - es gibt Kuchen",
    ],
)
def test_a_break_may_say_what_happens_in_it(line: str) -> None:
    assert is_break(line)
    found = read(f"7.05 Moth - G\n7.10 Weeds - D minor\n7.40 {line}\n8.10 Fog Bell - C\n8.15 Late Tram - E\n")
    assert [len(one.songs) for one in found.show.sets] == [2, 2]


@pytest.mark.parametrize(
    "title", ["Intermission Blues", "Pause for Thought", "Break - Moth Parade - G", "break - moth - g"]
)
def test_a_title_that_begins_like_a_break_is_none(title: str) -> None:
    assert not is_break(title)
