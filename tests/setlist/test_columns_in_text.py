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


@pytest.mark.parametrize("gap", ["   ", "  "])
def test_songs_whose_numbers_count_on_in_a_second_column_come_after_the_first(gap: str) -> None:
    left = ("1. Harpoon Avenue  G", "2. Old Rope  D", "3. Mister Magnet  C", "4. Sherbet  F")
    right = ("5. Umpire  Dm", "6. Vinegar Joan  C", "7. Yodel Yard  E", "8. Grit Bin  E")
    found = read("".join(f"{one:24}{gap}{other}\n" for one, other in zip(left, right, strict=True)))
    first, second = (
        "Harpoon Avenue=G; Old Rope=D; Mister Magnet=C; Sherbet=F",
        "Umpire=Dm; Vinegar Joan=C; Yodel Yard=E",
    )
    assert said(found) == f"First: {first}; {second}; Grit Bin=E"


def test_a_head_whose_parts_slashes_divide_is_no_song() -> None:
    songs = " 1  E    Rattlebone\n 2  A    Ditchwater ........ piano solo\n 3  G    Ticket Blues\n"
    found = read(f"DITCHWATER KINGS  //  The Railway, Sat 12 December  //  9pm sharp\n\nSET A (50 min)\n{songs}")
    assert said(found) == "Set A: Rattlebone=E; Ditchwater=A; Ticket Blues=G"
    assert found.show.sets[0].songs[1].notes == "piano solo"


def test_words_that_remarks_in_a_chat_share_make_no_headings_of_them() -> None:
    said_by = "[Wed 19:4{}] {}: {}\n"
    lines = ("gaz: peaches (Em)", "gaz: big ron (A)", "lou: love that one", "gaz: nine (C)", "gaz: skies (F)")
    talk = ("lou: which one", "gaz: revolver (Bm)", "gaz: weathercock (E)", "gaz: annie (G)")
    found = read("".join(said_by.format(at, *one.split(": ")) for at, one in enumerate((*lines, *talk))))
    assert len(found.show.sets) == 1


def test_keys_of_two_leaders_in_letters_and_syllables_are_all_read() -> None:
    songs = ("1/ Tram - Am", "2/ Vélo - do", "3/ Pains - sol", "4/ Moth - F", "5/ Dimanche - ré m", "6/ Weeds - Bb")
    found = read("\n".join(songs))
    assert said(found) == "First: Tram=Am; Vélo=C; Pains=G; Moth=F; Dimanche=Dm; Weeds=Bb"


def test_a_key_behind_a_narrow_gap_goes_to_the_column_of_the_keys() -> None:
    songs = """MOTH PARADE TONIGHT     F
WEEDS BY THE BRIDGE     Bb
TIDAL CLOCK   A
FOG BELL                E
JAM JAR                 Dm
"""
    assert said(read(songs)) == (
        "First: MOTH PARADE TONIGHT=F; WEEDS BY THE BRIDGE=Bb; TIDAL CLOCK=A; FOG BELL=E; JAM JAR=Dm"
    )


def test_a_last_table_of_one_song_has_the_columns_that_its_own_names_give() -> None:
    names = "No  Title           Key  BPM"
    found = read(
        f"SET 1\n{names}\n1   Moth Parade     Am   112\n2   Weeds           C    96\n3   Tidal Clock     Eb   108\n\n"
        f"SET 2\n{names}\n4   Fog Bell        F    120\n5   Jam Jar         Gm   100\n6   Zinc            D    99\n\n"
        "ENCORE\nNo  Title  Key  BPM\n7   Kite   Am   118\n"
    )
    assert said(found) == (
        "First: Moth Parade=Am; Weeds=C; Tidal Clock=Eb | Second: Fog Bell=F; Jam Jar=Gm; Zinc=D | Encore: Kite=Am"
    )
