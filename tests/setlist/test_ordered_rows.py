"""Tables with a column that says in which order the songs are played (invented lists)."""

import pytest
from setlist.reading_texts import said

from companion.setlist import SetList
from companion.setlist.list_reading import list_in

ROWS = "Fog Bell,A,3\nJam Jar,D,\nMoth,Em,1\nTidal Clock,C,4\nWeeds,G,2\nZinc,F,\n"


def read(text: str) -> SetList:
    return list_in(text.encode(), "list.csv")


@pytest.mark.parametrize("name", ["Order Sat 12 Dec", "order", "Reihenfolge 12.12.", "Ordre samedi", "Running order"])
def test_a_column_of_places_orders_the_songs_and_leaves_those_without_one_out(name: str) -> None:
    found = read(f"Song,Key,{name}\n{ROWS}")
    assert said(found) == "First: Moth=Em; Weeds=G; Fog Bell=A; Tidal Clock=C"
    assert [one.text.split(",")[0] for one in found.set_aside] == ["Jam Jar", "Zinc"]
    assert any("2 songs without a place" in str(doubt) for doubt in found.doubts)
    assert not any(song.notes for song in found.show.sets[0].songs)


def test_a_column_of_places_that_already_are_in_order_is_not_asked_about() -> None:
    found = read("Order,Song,Key\n1,Moth,Em\n2,Weeds,G\n3,Fog Bell,A\n")
    assert said(found) == "First: Moth=Em; Weeds=G; Fog Bell=A"
    assert not found.doubts


def test_numbers_that_are_no_places_leave_the_table_as_it_is() -> None:
    found = read(f"Song,Key,Order\n{ROWS.replace(',3', ',214')}")
    assert [song.title for song in found.show.sets[0].songs][:2] == ["Fog Bell", "Jam Jar"]
