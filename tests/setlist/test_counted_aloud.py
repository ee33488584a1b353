"""Lists that were dictated: the songs are counted in words, and the key follows the title as people say it."""

import pytest
from setlist.reading_texts import read, said

DICTATED = {
    "English": (
        (
            "typed up from my voice note (Jo)\n\nSo first one is Moth Parade, that's in E.\nNumber two Weeds, A.\n"
            "Number three Fog Bell, D minor, starts with the organ alone.\nFour, Tidal Clock, that's G.\n"
            "Five we do Late Tram, key of C, no stop.\nSix, Brassneck, B flat.\nAnd last one's Old Canal, in E again."
        ),
        "First: Moth Parade=E; Weeds=A; Fog Bell=Dm; Tidal Clock=G; Late Tram=C; Brassneck=Bb; Old Canal=E",
    ),
    "ordinals": (
        (
            "First up, Moth Parade, that's E flat.\nSecond, Weeds, in G.\nThird one's Fog Bell, A minor, no drums.\n"
            "Fourth, Tidal Clock, C.\nFifth is Late Tram in D.\nLast one, Old Canal Road, G again."
        ),
        "First: Moth Parade=Eb; Weeds=G; Fog Bell=Am; Tidal Clock=C; Late Tram=D; Old Canal Road=G",
    ),
    "German": (
        (
            "Also erstes Lied ist Nebelglocke, in C.\nNummer zwei Alte Schleuse, G-Dur.\n"
            "Drei, Letzte Bahn, das ist in A-Moll, ruhig.\nVier, Kanal im Winter, F.\n"
            "Fünf spielen wir Mottenzug, in D.\nUnd das letzte ist Messing, in G."
        ),
        "First: Nebelglocke=C; Alte Schleuse=G; Letzte Bahn=Am; Kanal im Winter=F; Mottenzug=D; Messing=G",
    ),
    "French": (
        (
            "Alors, première chanson c'est Le phare éteint, en ré mineur.\nNuméro deux, Vélo rouge, sol.\n"
            "Trois, Bruine, c'est en la mineur, piano seul.\nQuatre, Minuit moins dix, do.\n"
            "Cinq, La clé perdue, en fa.\nEt la dernière c'est Tram du soir, en sol."
        ),
        "First: Le phare éteint=Dm; Vélo rouge=G; Bruine=Am; Minuit moins dix=C; La clé perdue=F; Tram du soir=G",
    ),
    "one paragraph": (
        (
            "Memo from Ken: first one is Moth Parade in E. Number two is Weeds, that's A. Three, Fog Bell, D minor, "
            "organ first. Four, Late Tram, G. Five, Brassneck, B flat, and the last one's Old Canal in E."
        ),
        "First: Moth Parade=E; Weeds=A; Fog Bell=Dm; Late Tram=G; Brassneck=Bb; Old Canal=E",
    ),
}


@pytest.mark.parametrize("how", DICTATED)
def test_a_dictated_list_is_read_without_the_words_that_count(how: str) -> None:
    text, songs = DICTATED[how]
    assert said(read(text)) == songs


def test_what_a_dictated_line_says_behind_the_key_is_a_note() -> None:
    songs = read(DICTATED["English"][0]).show.sets[0].songs
    assert [songs[2].notes, songs[4].notes] == ["starts with the organ alone", "no stop"]


def test_titles_that_begin_with_numbers_count_nothing() -> None:
    found = read(
        "First Light (D)\nSecond Hand Sue (G)\nThird Rail, Em\nOne, Two, Kick (A)\nFour Winds (C)\nSix Feet (F)"
    )
    assert said(found) == (
        "First: First Light=D; Second Hand Sue=G; Third Rail=Em; One, Two, Kick=A; Four Winds=C; Six Feet=F"
    )


def test_the_initial_of_the_writer_is_no_key_that_tells_the_notation() -> None:
    found = read("1. Moth Parade (G)\n2. Weeds (E)\n3. Fog Bell (Bm)\n4. Tidal Clock (D)\n5. Late Tram (Em)\n\nH.\n")
    assert said(found) == "First: Moth Parade=G; Weeds=E; Fog Bell=Bm; Tidal Clock=D; Late Tram=Em"


def test_a_list_that_says_next_before_each_title_keeps_what_is_said_behind_its_keys() -> None:
    found = read(
        "(memo written out by my phone)\n\nfirst one is Moth Parade in G\nnext is Weeds in D\n"
        "next is Fog Bell in E minor\nnext is Wet Little Tram in B flat and you do the horn thing on the keys\n"
        "next is Tidal Clock in C\nnext is Brassneck in A\nnext is Kites Are for Geese in F\n"
        "and last is Old Canal in D\n\nokay bye bye\n"
    )
    assert [str(song.key) for song in found.show.sets[0].songs] == ["G", "D", "Em", "Bb", "C", "A", "F", "D"]
