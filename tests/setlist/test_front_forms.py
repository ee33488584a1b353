"""What stands in front of titles, and two keys on one line (invented lists, what is expected written first)."""

import pytest
from setlist.reading_texts import read, said

CASES = {
    "a key and a colon before every title": (
        "Em: Dance, Moth, Dance\nG: Weeds\nAm: Tidal Clock\nBm: Hello Again, Heron\nE: Jam Jar",
        "First: Dance, Moth, Dance=Em; Weeds=G; Tidal Clock=Am; Hello Again, Heron=Bm; Jam Jar=E",
    ),
    "several songs behind each key": (
        "G: Moth, Weeds\nA: Tidal Clock, Jam Jar\nC: Fog Bell, Kite",
        "First: Moth=G; Weeds=G; Tidal Clock=A; Jam Jar=A; Fog Bell=C; Kite=C",
    ),
    "letters of singers that the list explains": (
        (
            "D = Dee, T = Tam, both = both\n\nD   Moth Parade  Bb\nT   Weeds  Dm\n"
            "both Tidal Clock  C\nT   Jam Jar  E\nD   Lock In  Ab"
        ),
        "First: Moth Parade=Bb; Weeds=Dm; Tidal Clock=C; Jam Jar=E; Lock In=Ab",
    ),
    "a singer's name in small letters": (
        (
            "Kai: Moth Parade - A\nLis: Weeds - A\nLis: Tidal Clock - Em\n"
            "alle: Takk, Margit - C\nKai: Jam Jar - E\nLis: Kite - G"
        ),
        "First: Moth Parade=A; Weeds=A; Tidal Clock=Em; Takk, Margit=C; Jam Jar=E; Kite=G",
    ),
    "small words before a title": (
        "opener House Lights A\nMoth Parade D\nTidal Clock Gm\nFog Bell C\ncloser Jam Jar F",
        "First: House Lights=A; Moth Parade=D; Tidal Clock=Gm; Fog Bell=C; Jam Jar=F",
    ),
    "small words of a title": (
        "Moth Parade D\nthe Tidal Clock Gm\nFog Bell C\nJam Jar F\nWeeds Em",
        "First: Moth Parade=D; the Tidal Clock=Gm; Fog Bell=C; Jam Jar=F; Weeds=Em",
    ),
    "a title with a number and a word for it": (
        "1. Moth Parade (Ab)\n2. Number 12 Tram (B)\n3. Weeds (D)",
        "First: Moth Parade=Ab; Number 12 Tram=B; Weeds=D",
    ),
    "the record's key and ours": (
        "Moth Parade - orig Ab, we do F\nWeeds - orig G, we do G\nTidal Clock - orig C, we do Bb",
        "First: Moth Parade=F; Weeds=G; Tidal Clock=Bb",
    ),
    "a word in place of a key": (
        "Moth Parade - D\nHedge Trimmer - orig\nWeeds - Am\nTidal Clock - G\nSpanner - orig",
        "First: Moth Parade=D; Hedge Trimmer; Weeds=Am; Tidal Clock=G; Spanner",
    ),
    "a German key before a remark": (
        "Moth - C - harmonika\nWeeds - Ami - klarinet\nTidal Clock - B - Honza\nJam Jar - Hmi - stop",
        "First: Moth=C; Weeds=Am; Tidal Clock=Bb; Jam Jar=Bm",
    ),
    "a loud word behind a key": (
        "Moth G\nWeeds Bm\nTidal Clock Gm NEW!\nFog Bell A\nKite Bb",
        "First: Moth=G; Weeds=Bm; Tidal Clock=Gm; Fog Bell=A; Kite=Bb",
    ),
    "a break between single dashes": (
        "moth g\nweeds d\ntidal clock am\n- - - tea - - -\nfog bell f\nkite bb",
        "First: moth=G; weeds=D; tidal clock=Am | Second: fog bell=F; kite=Bb",
    ),
    "by in a title": (
        "1. Moth by The Lanterns - G\n2. Stood by the Clock by Ann Ames - E\n3. Weeds by Ann Ames - D",
        "First: Moth=G; Stood by the Clock=E; Weeds=D",
    ),
    "a role before a title that begins like a key": (
        "First dance - As If by Accident (E)\nMoth Parade (A)\nWeeds (G)\nTidal Clock (Em)",
        "First: As If by Accident=E; Moth Parade=A; Weeds=G; Tidal Clock=Em",
    ),
    "a date behind the list's name": (
        "Set list 28/11\n\n1. Moth - G\n2. Weeds - C",
        "First: Moth=G; Weeds=C",
    ),
    "talk in small letters between titles": (
        (
            "[27/11/2026, 23:40:51] Mads: Turn Off the Light\n[27/11/2026, 23:40:58] Mads: Overdraft\n"
            "[27/11/2026, 23:41:04] Mads: Sorry About the Sofa\n[27/11/2026, 23:41:15] Jonah: not sofa again\n"
            "[27/11/2026, 23:41:20] Mads: Ghosted\n[27/11/2026, 23:42:02] Jonah: banger"
        ),
        "First: Turn Off the Light; Overdraft; Sorry About the Sofa; Ghosted",
    ),
    "a key in talk": (
        (
            "27.11.2026 17:42 - Kai: Moth E\n27.11.2026 17:42 - Kai: Weeds Am\n27.11.2026 17:43 - Ben: is it in d?\n"
            "27.11.2026 17:43 - Kai: nope c\n27.11.2026 17:44 - Kai: Tidal Clock G\n27.11.2026 17:45 - Kai: Fog Bell A"
        ),
        "First: Moth=E; Weeds=Am; Tidal Clock=G; Fog Bell=A",
    ),
    "words of a sentence are no artists": (
        "Moth: Bb, I play, you hold\nWeeds: Am, tambourine, do not shake it\nTidal Clock: G, twelve bars, not more",
        "First: Moth=Bb; Weeds=Am; Tidal Clock=G",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_a_list_with_such_fronts_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_who_sings_and_what_a_song_is_for_are_kept_as_notes() -> None:
    songs = read(CASES["small words before a title"][0]).show.sets[0].songs
    assert [song.notes for song in songs] == ["opener", None, None, None, "closer"]
    sung = read(CASES["a singer's name in small letters"][0]).show.sets[0].songs
    assert [song.notes for song in sung] == ["Kai", "Lis", "Lis", "alle", "Kai", "Lis"]


def test_small_words_before_a_title_are_in_doubt() -> None:
    found = read(CASES["small words before a title"][0])
    assert [bool(line.doubts) for line in found.lines] == [True, False, False, False, True]


def test_the_record_s_key_is_kept_beside_ours() -> None:
    songs = read(CASES["the record's key and ours"][0]).show.sets[0].songs
    assert [str(song.record_key) for song in songs] == ["Ab", "G", "C"]
