"""Columns of songs with their own keys, senders with a time alone, numbers of books (invented lists)."""

import pytest
from setlist.reading_texts import read, said

CASES = {
    "columns of songs, each with its key": (
        (
            "Aperitivo                Dopo cena\nMoth Parade (G)          Kite (F)\n"
            "Weeds (D)                Fog Bell (Em)\n"
            "Tidal Clock (C)          Jam Jar (Bb)\nSlow Ferry (A)           Oil (D)"
        ),
        (
            "Aperitivo: Moth Parade=G; Weeds=D; Tidal Clock=C; Slow Ferry=A | "
            "Dopo cena: Kite=F; Fog Bell=Em; Jam Jar=Bb; Oil=D"
        ),
    ),
    "senders with a time alone": (
        (
            "Kai, 19.02\nher er listen\n\nKai, 19.04\nfirst set\nMoth G\nWeeds D\nTidal Clock Em\n\n"
            "Kai, 19.06\nsecond set\nFog Bell F\nKite Bb\nJam Jar C"
        ),
        "First: Moth=G; Weeds=D; Tidal Clock=Em | Second: Fog Bell=F; Kite=Bb; Jam Jar=C",
    ),
    "titles with their lengths": (
        "Moth 3:40\nWeeds 4:05\nTidal Clock 2:58\nFog Bell 3:12",
        "First: Moth; Weeds; Tidal Clock; Fog Bell",
    ),
    "numbers of a book in front": (
        (
            "MORNING 10.30\n112  Moth in the Loft          Eb\n47   Lamp of the Valley        F\n"
            "260  Weeds by the Wall         G\n9    Small Tide                Dm\n\n"
            "EVENING 6.00\n301  Kite at Noon              F\n"
            "88   Over the Hills            Gm\n15   Garden Light              D"
        ),
        (
            "Morning: Moth in the Loft=Eb; Lamp of the Valley=F; Weeds by the Wall=G; Small Tide=Dm | "
            "Evening: Kite at Noon=F; Over the Hills=Gm; Garden Light=D"
        ),
    ),
    "a line that names what stands below": (
        "dalok (hangnem, tempó)\n\nMoth; D; 132\nWeeds; Gm; 60\nTidal Clock; A; 148\nKite; E; 120\nFog Bell; Ab; 92",
        "First: Moth=D; Weeds=Gm; Tidal Clock=A; Kite=E; Fog Bell=Ab",
    ),
    "a comma in a title of a row": (
        (
            "Set 1: Moth (G), Weeds (D), Tidal Clock (Em)\n"
            "Set 2: Kite (F), Turn It Down, Knud (Bb), Jam Jar (Gm), Fog Bell (G)"
        ),
        "First: Moth=G; Weeds=D; Tidal Clock=Em | Second: Kite=F; Turn It Down, Knud=Bb; Jam Jar=Gm; Fog Bell=G",
    ),
    "one song in each row behind what it is for": (
        (
            "Ingång: Moth – D\nPsalm 1: Weeds i hallen – G – alla verser\nEfter dopet: Tidal Clock – F – Ki sjunger\n"
            "Utgång: Kite – C"
        ),
        "First: Moth=D; Weeds i hallen=G; Tidal Clock=F; Kite=C",
    ),
    "a title that ends as a key in syllables": (
        (
            "1º PASE\n* bloque pasodobres\nMoth novo, Re m\nPonte do Weeds, Sol\n* bloque cumbias\n"
            "A curmá de Kite, La m\nPementos ao sol, La m\nVai, vai, Oil, Do\n\n2º PASE\n* bloque merengues\n"
            "Non me pises, Mi m\nCatro netas e un clock, Si b"
        ),
        (
            "First: Moth novo=Dm; Ponte do Weeds=G; A curmá de Kite=Am; Pementos ao sol=Am; Vai, vai, Oil=C | "
            "Second: Non me pises=Em; Catro netas e un clock=Bb"
        ),
    ),
    "a loud key": (
        "moth Em\nweeds of the pond Dm\ntidal clock F\nkite C!!\nfog bell G",
        "First: moth=Em; weeds of the pond=Dm; tidal clock=F; kite=C; fog bell=G",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_such_a_list_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_a_title_with_a_comma_in_a_row_is_in_doubt() -> None:
    doubts = [doubt for line in read(CASES["a comma in a title of a row"][0]).lines for doubt in line.doubts]
    assert [doubt.question for doubt in doubts] == ["Is 'Turn It Down, Knud' one title?"]


def test_a_key_that_its_writer_only_believes_is_in_doubt() -> None:
    found = read("- Moth (A)\n- Weeds (D)\n- Tidal Clock (G i think)\n- Fog Bell (Em)")
    assert [bool(line.doubts) for line in found.lines] == [False, False, True, False]


def test_a_remark_in_small_letters_behind_a_title_is_in_doubt_among_titles_alone() -> None:
    found = read("Parking Prince\nFlat White Lies\nKids on the Pier (jo sings)\nTurn Off the Light\nTap In, Tap Out")
    assert [bool(line.doubts) for line in found.lines] == [False, False, True, False, False]
