"""Songs in messages that people type in passing: numbers without points, talk by numbers, brackets with sentences."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.list_reading import list_in


def test_numbers_without_points_part_the_songs_of_a_message() -> None:
    found = read(
        "Ok on my break. Friday: 1 Ferry Timetable in G 2 Wet Plimsolls in Am 3 Cardigan in E (no keys in the intro) "
        "4 Borrowed Umbrella in C 5 Sherbet in D. That is 45 mins. Bring a lamp."
    )
    assert said(found) == "First: Ferry Timetable=G; Wet Plimsolls=Am; Cardigan=E; Borrowed Umbrella=C; Sherbet=D"


def test_numbers_in_talk_part_nothing() -> None:
    text = "Ferry Timetable in G\nWe need 1 mic 2 stands 3 leads 4 chairs please\nCardigan in E\nSherbet in D"
    assert read(text).titles == ["Ferry Timetable", "Cardigan", "Sherbet"]


def test_a_title_that_begins_as_a_greeting_does_stands_in_a_row_of_titles() -> None:
    found = read("Its just: Moth Parade, Two Left Boots, Hello Mister Plumber, Shed Roof, Wobbly Stool, Fog Bell.")
    assert found.titles[2] == "Hello Mister Plumber"
    assert len(found.titles) == 6


def test_talk_takes_a_song_out_by_its_number() -> None:
    found = read("1. Moth (C)\n2. Weeds (D)\n3. Tidal Clock (G)\n4. Kite (A)\n\n- number 3 is OUT, too long\n")
    assert said(found) == "First: Moth=C; Weeds=D; Kite=A"
    assert [line.text for line in found.lines if line.doubts] == ["3. Tidal Clock (G)"]


def test_a_number_that_two_sets_have_names_no_song() -> None:
    found = read("Set 1\n1. Moth (C)\n2. Weeds (D)\n\nSet 2\n1. Kite (A)\n2. Fog Bell (E)\n\nnumber 2 is out\n")
    assert found.titles == ["Moth", "Weeds", "Kite", "Fog Bell"]


@pytest.mark.parametrize("word", ["actually", "though", "eigentlich"])
def test_a_small_word_behind_a_key_leaves_it_one(word: str) -> None:
    found = read(
        f"1 Moth Parade - Eb\n2 Weeds - D\n3 Kite - G\n\ncan we do Moth Parade in D {word}, my throat is sore\n"
    )
    assert str(found.show.sets[0].songs[0].key) == "D"
    assert found.in_doubt


def test_a_song_about_wanting_is_no_talk() -> None:
    found = read("Hello Old Stove  C\nI Only Want To Dance With Bert  G\nSimply The Scarf  F\nKite  A\n")
    assert said(found) == "First: Hello Old Stove=C; I Only Want To Dance With Bert=G; Simply The Scarf=F; Kite=A"


def test_a_sentence_in_brackets_leaves_a_title_its_key() -> None:
    found = read("Hello Old Stove  C\nHarbour Medley (3 songs as one, I'll bring you a chart)  F\nScarf  F\nKite  A\n")
    assert len(found.titles) == 4


def test_a_new_sentence_behind_a_bracketed_key_is_a_note() -> None:
    found = read("Moth Parade (E)\nHard Hat Hank (C). Hank's got a piano break, 24 bars\nWeeds (G)\nKite (D)\n")
    assert said(found) == "First: Moth Parade=E; Hard Hat Hank=C; Weeds=G; Kite=D"


def test_an_initial_is_no_key_where_the_key_stands_apart() -> None:
    found = read("BORN TO WEED   E\nJONNY B. EARLY   A\nALL SHORN   Bb\nSWEET SHED   D\n")
    assert said(found) == "First: BORN TO WEED=E; JONNY B. EARLY=A; ALL SHORN=Bb; SWEET SHED=D"


def test_a_comma_ends_the_title_of_a_song_without_a_key_where_it_does_so_in_the_others() -> None:
    found = read("The Hatter's Jig, in G\nSnow On The Barn, in D\nSeven Oars, please rest\nThe Drover, in A minor\n")
    assert said(found) == "First: The Hatter's Jig=G; Snow On The Barn=D; Seven Oars; The Drover=Am"
    assert [line.song for line in found.lines if line.doubts] == [3]


@pytest.mark.parametrize("legend", ["(singer: song - key)", "(Titel / Tonart)", "[no, title, key]"])
def test_words_that_say_what_stands_where_are_no_song(legend: str) -> None:
    found = read(f"{legend}\n\nMoth Parade - G\nWeeds - Am\nKite - E\n")
    assert found.titles == ["Moth Parade", "Weeds", "Kite"]


def test_background_and_foreground_head_sets() -> None:
    found = read("Background\n Moth. C\n Weeds. G\n Kite. F\n\nForeground\n Fog Bell. A\n Shed. Bm\n Stool. E\n")
    assert [each.name for each in found.show.sets] == ["Background", "Foreground"]


def test_the_message_of_a_service_is_no_song() -> None:
    found = read("WORSHIP\nMoth - G\nWeeds - D\n\nMESSAGE (30 min)\n\nRESPONSE\nKite - A\nFog Bell - E\n")
    assert found.titles == ["Moth", "Weeds", "Kite", "Fog Bell"]


def test_a_column_named_in_and_out_says_what_is_played() -> None:
    rows = "Song,Key,In/Out\nMoth,D,in\nWeeds,G,OUT\nKite,A,in\n"
    assert list_in(rows.encode(), "list.csv").titles == ["Moth", "Kite"]
