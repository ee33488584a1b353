"""Songs taken out in words of their own, songs behind an encore's label, and evenings that go on after midnight."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.list_reading import list_in

SONGS = "Moth Parade - C\nWeeds Again - G\nOwl Walk - A\nLate Tram - D\n"


@pytest.mark.parametrize(
    "line",
    [
        "en Weeds Again kan eruit, te lang",
        "Weeds Again kann raus",
        "Weeds Again can go out, too long",
        "og Weeds Again skal ud",
        "Weeds Again puede salir fuera",
    ],
)
def test_a_song_that_can_go_is_taken_out_in_doubt(line: str) -> None:
    found = read(f"{SONGS}\n{line}\n")
    assert said(found) == "First: Moth Parade=C; Owl Walk=A; Late Tram=D"
    assert found.in_doubt


@pytest.mark.parametrize("line", ["Fog Bell - E - not learnt yet, skip it", "Fog Bell - E (skip it)"])
def test_a_song_to_skip_is_set_aside(line: str) -> None:
    assert said(read(f"{SONGS}{line}\n")) == "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=D"


@pytest.mark.parametrize("label", ["encore", "bis", "zugabe", "toegift", "rappel"])
@pytest.mark.parametrize("song", ["Fog Bell - E", "Fog Bell (E)"])
def test_a_small_label_of_an_encore_holds_its_song(label: str, song: str) -> None:
    assert said(read(f"{SONGS}\n{label}: {song}\n")).endswith(" | Encore: Fog Bell=E")


@pytest.mark.parametrize(
    "words", ["Nach Mitternacht", "Dopo mezzanotte", "Après minuit", "Efter midnatt", "Efter midnat", "Po północy"]
)
def test_a_set_begins_after_midnight(words: str) -> None:
    found = read(f"21.00\n{SONGS}\n{words}\nFog Bell - E\nWet Paint - F\nKettle - G\n")
    assert [len(one.songs) for one in found.show.sets] == [4, 3]


@pytest.mark.parametrize("names", ["Volgorde;Nummer;Toonsoort;Status\n", ""])
def test_a_cell_takes_its_song_out_whatever_its_column_was_taken_for(names: str) -> None:
    rows = "1;Moth Parade;G;\n2;Owl Walk;Em;zachtjes\n3;Fog Bell;D;VERVALT\n4;Late Tram;C;eind: lang\n5;Wet Paint;A;\n"
    found = list_in((names + rows).encode(), "list.csv")
    assert [song.title for one in found.show.sets for song in one.songs] == [
        "Moth Parade",
        "Owl Walk",
        "Late Tram",
        "Wet Paint",
    ]
