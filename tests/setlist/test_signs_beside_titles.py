"""Signs that stand beside titles in a whole list: tempos in brackets, pictures, a word in front of what is cut."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.parsing.key_cells import plain_key

CASES = {
    "pictures before a key in brackets": (
        "1. moth parade 🌙 (am)\n2. weeds 🌿 (d)\n3. tidal clock (g)\n4. fog bell 🔔 (c)",
        "First: moth parade=Am; weeds=D; tidal clock=G; fog bell=C",
    ),
    "pictures before a slash and a dash": (
        "1. Moth Parade 🎺 / A\n2. Weeds / D\n3. Tidal Clock 🎹🎹 / Gm\n4. Fog Bell / C",
        "First: Moth Parade=A; Weeds=D; Tidal Clock=Gm; Fog Bell=C",
    ),
    "waves as bullets": (
        "~ Moth Parade .. Am\n~ Weeds .. D\n~ Tidal Clock (live) .. Gm\n~ Fog Bell .. C",
        "First: Moth Parade=Am; Weeds=D; Tidal Clock (live)=Gm; Fog Bell=C",
    ),
    "a loud word and a dash before a song": (
        "Moth Parade - A\nWeeds - D\nSKIP - Tidal Clock - Gm\nFog Bell - C\nRAUS - Jam Jar - F",
        "First: Moth Parade=A; Weeds=D; Fog Bell=C",
    ),
    "titles that are such a word": (
        "Moth Parade - A\nOut - D\nCut - Gm\nFog Bell - C\nOUT - F",
        "First: Moth Parade=A; Out=D; Cut=Gm; Fog Bell=C; OUT=F",
    ),
    "a condition with a capital letter": (
        "Set 1\nMoth (A)\nWeeds (D)\nFog Bell (C)\n\nIf the hall stays full:\nJam Jar (F)",
        "First: Moth=A; Weeds=D; Fog Bell=C | If the hall stays full: Jam Jar=F",
    ),
    "a line for each day of a chat": (
        (
            "20:11 Ann: list for the 5th\n20:11 Ann: Moth Parade - G\n20:12 Ann: Weeds - D\n20:12 Ann: Fog Bell - Em\n"
            "20:15 Owen: lovely\nFri 27 Nov\n09:02 Ann: Weeds is in E now"
        ),
        "First: Moth Parade=G; Weeds=E; Fog Bell=Em",
    ),
    "a reason that names another key": (
        "tonight its\nmoth parade, E flat because of the horns dont let ned tell you F\nthen weeds, G\nand fog bell, C",
        "First: moth parade=Eb; weeds=G; fog bell=C",
    ),
    "a title that begins as a reason does": (
        "moth in C, because of weeds in D, fog bell in G and jam jar in A",
        "First: moth=C; because of weeds=D; fog bell=G; jam jar=A",
    ),
    "a slash before the key and words on other keys behind it": (
        "moth parade / A / hold the low E, no drums\nweeds / D\nfog bell / Gm / up to A, then out\njam jar / C",
        "First: moth parade=A; weeds=D; fog bell=Gm; jam jar=C",
    ),
    "a capo in place of a key behind a slash": (
        "moth parade / A\nlarks over land / capo 2, shapes in G\nweeds / D\nfair wind for us / C?\nfog bell / Gm",
        "First: moth parade=A; larks over land=A; weeds=D; fair wind for us=C; fog bell=Gm",
    ),
    "somebody who is still typing": (
        (
            "20:11 Ann: moth parade (G)\n20:12 Ann: weeds (D)\n20:12 Bo: all of it?\n20:12 Ann: ja, warte mal\n"
            "20:13 Ann: fog bell (Em)"
        ),
        "First: moth parade=G; weeds=D; fog bell=Em",
    ),
    "a number before what happens between songs": (
        "1 Moth Parade  A\n2 Weeds  E\n3 (cake, then speeches)\n4 Fog Bell  G\n5 Jam Jar  C\n6 Tidal Clock  Bb",
        "First: Moth Parade=A; Weeds=E; Fog Bell=G; Jam Jar=C; Tidal Clock=Bb",
    ),
    "a song that a message puts last": (
        (
            "20:11 Ann: Moth Parade (G)\n20:12 Ann: Weeds (D)\n20:12 Ann: Jam Jar (F)\n20:13 Bo: is that all\n"
            "20:14 Ann: ok. Fog Bell Em to finish\n20:15 Bo: ta"
        ),
        "First: Moth Parade=G; Weeds=D; Jam Jar=F; Fog Bell=Em",
    ),
    "the last song of a list in small letters": (
        "cold toast (Am)\nvelvet crane (C)\nhalfway up (D)\nand paper moth (A) to finish",
        "First: cold toast=Am; velvet crane=C; halfway up=D; paper moth=A",
    ),
    "small words before a key": (
        "moth parade its in G\nweeds thats in D\nfog bell in C",
        "First: moth parade=G; weeds=D; fog bell=C",
    ),
    "a total behind its time": (
        "nr,length,title,key\n1,3:20,Moth Parade,E\n2,4:01,Weeds,A\n3,2:47,Fog Bell,C\n,10:08,total,\n",
        "First: Moth Parade=E; Weeds=A; Fog Bell=C",
    ),
    "Dutch words for major and minor": (
        "1. Moth - e klein\n2. Weeds - B groot\n3. Tidal Clock - fis klein\n4. Het Huis, Bes groot",
        "First: Moth=Em; Weeds=B; Tidal Clock=F#m; Het Huis=Bb",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_such_signs_are_no_part_of_a_title(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_numbers_in_brackets_behind_most_titles_are_tempos_and_words_behind_them_remarks() -> None:
    found = read(
        "Slot A\n* A - Moth Parade (120)\n* D - Weeds (96)\n* Gm - Tidal Clock (144) wait for Ann\n* C - Fog Bell (88)"
    )
    songs = found.show.sets[0].songs
    assert [song.title for song in songs] == ["Moth Parade", "Weeds", "Tidal Clock", "Fog Bell"]
    assert [song.tempo_bpm for song in songs] == [120, 96, 144, 88]
    assert [song.notes for song in songs] == [None, None, "wait for Ann", None]


def test_one_number_in_brackets_stays_in_its_title() -> None:
    assert said(read("Moth Parade (99) A\nWeeds D\nFog Bell C")) == "First: Moth Parade (99)=A; Weeds=D; Fog Bell=C"


@pytest.mark.parametrize(("written", "key"), {"e kleine terts": "Em", "F majeur": "F", "A minore": "Am"}.items())
def test_other_languages_words_are_read_behind_letters(written: str, key: str) -> None:
    assert str(plain_key(written)) == key
