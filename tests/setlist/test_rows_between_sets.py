"""Rows of an evening between the songs of a table or an indented list: meals, times, words apart (invented lists)."""

import pytest
from setlist.reading_texts import said

from companion.setlist import LineKind
from companion.setlist.list_reading import list_in

HEADED_BY_TIMES = (
    "Teil 1,19:30\n1,Moth Parade,D\n2,Weeds,F\nTeil 2,20:30\n3,Tidal Clock,Am\n4,Kite,G,Klavier vorne\n"
    "Sternenhimmel,22:15\n5,Jam Jar,Es\n6,Fog Bell,C\n"
)
TIMED = "Time,Song,Key\n20:30,Moth Parade,G\n20:34,Weeds,Em\n20:38,Tidal Clock,A\n20:42,Supper Queen,C\n20:46,{event}\n"
TIMED += "21:30,Kite,D\n21:34,Jam Jar,F\n21:38,Fog Bell,Bm\n"
CAPITALS = (
    "FIRST HALF\nMOTH PARADE        C\nTIDAL CLOCK        F\nKITE               G\n\n{between}\n\n"
    "SECOND HALF\nJAM JAR            D\nFOG BELL           E\nWEEDS              C\n\n{below}\n"
)


def test_headings_with_times_leave_the_column_of_numbers_one_and_head_their_songs() -> None:
    found = list_in(HEADED_BY_TIMES.encode(), "list.csv")
    assert said(found) == (
        "First: Moth Parade=D; Weeds=F | Second: Tidal Clock=Am; Kite=G | Sternenhimmel: Jam Jar=Eb; Fog Bell=C"
    )
    assert any(line.doubts for line in found.lines if line.took is LineKind.SET)


@pytest.mark.parametrize("event", ["BUFFET + SECRET SANTA", "Raffle with Uncle Norm", "Curry night"])
def test_a_meal_among_timed_songs_with_keys_ends_the_set_in_doubt(event: str) -> None:
    found = list_in(TIMED.format(event=event).encode(), "list.csv")
    assert said(found) == (
        "First: Moth Parade=G; Weeds=Em; Tidal Clock=A; Supper Queen=C | Second: Kite=D; Jam Jar=F; Fog Bell=Bm"
    )
    assert [bool(line.doubts) for line in found.lines if line.took is LineKind.BREAK] == [True]


@pytest.mark.parametrize("between", ["RAFFLE / PIE AND PEAS", "AUNTIE BERYL SPEAKS"])
@pytest.mark.parametrize("below", ["NO ANTHEM NEEDED. NO HATS.", "BRING YOUR OWN STAND"])
def test_words_apart_without_a_key_are_no_songs_where_all_songs_have_one(between: str, below: str) -> None:
    found = list_in(CAPITALS.format(between=between, below=below).encode(), "list.txt")
    assert said(found) == "First: MOTH PARADE=C; TIDAL CLOCK=F; KITE=G | Second: JAM JAR=D; FOG BELL=E; WEEDS=C"


def test_a_word_less_deep_than_the_songs_is_none_of_them() -> None:
    text = (
        "Dansen 1\n Moth Parade - G\n Weeds - A\n Kite - Em\nBittergarnituur\nDansen 2\n Jam Jar - E\n Fog Bell - D\n"
    )
    found = list_in(text.encode(), "list.txt")
    assert said(found) == "First: Moth Parade=G; Weeds=A; Kite=Em | Second: Jam Jar=E; Fog Bell=D"
    assert any(line.doubts for line in found.lines if line.text == "Bittergarnituur")


@pytest.mark.parametrize("note", ["laatste refrein a capella, niet spelen!", "last verse, not playing", "bridge: out"])
def test_a_part_that_is_not_played_takes_no_song_out(note: str) -> None:
    found = list_in(f"Moth Parade - G\nWeeds - A\nKite - Em - {note}\nJam Jar - D\n".encode(), "list.txt")
    assert said(found) == "First: Moth Parade=G; Weeds=A; Kite=Em; Jam Jar=D"


@pytest.mark.parametrize("word", ["SPARES", "EXTRAS", "ENCORES"])
def test_a_word_in_capitals_heads_the_songs_below_it_in_a_table(word: str) -> None:
    rows = "1,Moth Parade (A),\n2,Weeds (E),just keys\n3,Kite (Dm),\n4,Fog Bell (G),riff\n,{word},\n,Jam Jar (C),\n"
    found = list_in(rows.format(word=word).encode(), "list.csv")
    assert [len(one.songs) for one in found.show.sets] == [4, 1]
