"""Headings of sets that only their place and look tell from songs, in words that nobody listed (invented lists)."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist import LineKind

SURE = {
    "the numbers begin again": (
        "Zonsondergang\n1. Moth (C)\n2. Weeds (G)\n3. Jam Jar (A)\nVuurwerk\n1. Tidal Clock (D)\n2. Fog Bell (F)",
        "Zonsondergang: Moth=C; Weeds=G; Jam Jar=A | Vuurwerk: Tidal Clock=D; Fog Bell=F",
    ),
    "a meal among the words of the evening": (
        "Cena\n1. Moth Parade (C)\n2. Weeds (G)\n3. Jam Jar (A)\n\nFesta\n1. Tidal Clock (D)\n2. Fog Bell (F)",
        "Cena: Moth Parade=C; Weeds=G; Jam Jar=A | Festa: Tidal Clock=D; Fog Bell=F",
    ),
    "a time of day and stars around it": (
        (
            "*Giardino (trio, 18.30)*\n• Moth – C\n• Weeds – G\n\n*Fiaccole (22.30 till they drop)*\n"
            "• Tidal Clock – D\n• Fog Bell – F\n• Jam Jar – A"
        ),
        "Giardino: Moth=C; Weeds=G | Fiaccole: Tidal Clock=D; Fog Bell=F; Jam Jar=A",
    ),
    "capital letters and songs further in": (
        "OVERTURE\n  Moth  C\nPRODUCTION\n  Mr. Weeds Is Out  G\n  Tidal Clock  D\n  Fog Bell  F\nBOWS\n  Jam Jar  A",
        "Overture: Moth=C | Production: Mr. Weeds Is Out=G; Tidal Clock=D; Fog Bell=F | Bows: Jam Jar=A",
    ),
    "two words above two blocks": (
        "Lou\n\nVin d'honneur\nMoth - Am\nWeeds - F\n\nRepas\nKite - G\nJam Jar - D\n\nBal\nTidal - E\nFog Bell - A",
        "Vin d'honneur: Moth=Am; Weeds=F | Repas: Kite=G; Jam Jar=D | Bal: Tidal=E; Fog Bell=A",
    ),
    "a reception and a dance": (
        "Hallo,\n\nSektempfang\nMoth - C\nWeeds - F\n\nTanz\nKite - E\nJam Jar - D\nTidal - Am\n\nGruß\nUwe",
        "Sektempfang: Moth=C; Weeds=F | Tanz: Kite=E; Jam Jar=D; Tidal=Am",
    ),
    "two brackets": (
        "(outside, if dry)\nMoth C\nWeeds F\nKite Bb\n\n(inside)\nTidal E\nFog Bell A\nJam Jar D",
        "outside, if dry: Moth=C; Weeds=F; Kite=Bb | inside: Tidal=E; Fog Bell=A; Jam Jar=D",
    ),
    "two pictures": (
        "🌅 Sundown\nMoth (G)\nWeeds (C)\nKite (Am)\n🔥 Bonfire\nTidal (D)\nFog Bell (E)",
        "Sundown: Moth=G; Weeds=C; Kite=Am | Bonfire: Tidal=D; Fog Bell=E",
    ),
    "bold words above bullets": (
        "**Garden**\n- Moth - G\n- Weeds - D\n\n**Barn**\n- Kite - A\n- Fog Bell - E\n- Tidal - Am",
        "Garden: Moth=G; Weeds=D | Barn: Kite=A; Fog Bell=E; Tidal=Am",
    ),
    "words that are also remarks": (
        "Choir\nMoth (C)\nWeeds (G)\nKite (F)\n\nStaff band\nFog Bell (E)\nTidal (A)\nJam Jar (D)",
        "Choir: Moth=C; Weeds=G; Kite=F | Staff band: Fog Bell=E; Tidal=A; Jam Jar=D",
    ),
    "bare titles below words, one of which is known": (
        "Monday in the yard\n\nEarly\nMoth Parade\nWeeds and Wire\nTidal Clock\n\nLate\nFog Bell\nJam Jar\nSlow Ferry",
        "Early: Moth Parade; Weeds and Wire; Tidal Clock | Late: Fog Bell; Jam Jar; Slow Ferry",
    ),
}


@pytest.mark.parametrize("name", SURE)
def test_a_line_that_stands_and_looks_unlike_the_songs_is_a_heading(name: str) -> None:
    assert said(read(SURE[name][0])) == SURE[name][1]


def test_a_set_keeps_the_time_and_the_words_in_its_brackets() -> None:
    found = read(SURE["a time of day and stars around it"][0])
    assert [one.starts_min for one in found.show.sets] == [18 * 60 + 30, 22 * 60 + 30]
    assert "trio" in (found.show.notes or "")
    assert "till they drop" in (found.show.notes or "")


def test_few_signs_make_a_heading_in_doubt() -> None:
    found = read("Set 1\nMoth Parade (C)\nWeeds (G)\nJam Jar (A)\n\nBraseros:\nTidal Clock (D)\nFog Bell (F)")
    assert said(found) == "First: Moth Parade=C; Weeds=G; Jam Jar=A | Braseros: Tidal Clock=D; Fog Bell=F"
    doubted = [line.text for line in found.lines if line.doubts]
    assert doubted == ["Braseros:"]


NONE = {
    "a meal between two blocks": "1 Mo (C)\n2 Weed (G)\n\nPloughman's supper\n\n3 Tidal (D)\n4 Fog Bell (F)\n5 Jam (A)",
    "a remark with a number behind it": "1. Moth Parade (C)\n2. Weeds (G)\nslow waltz\n3. Jam Jar (A)\n4. Fog Bell (F)",
    "the raffle between two blocks": "Moth (C)\nWeeds (G)\n\nRaffle\n\nTidal Clock (D)\nFog Bell (F)\nJam Jar (A)",
    "a question": "1. Moth (C)\n2. Weeds (G)\n3. Jam Jar (A)\n\nIs that all right with you?\n\n4. Fog Bell (F)",
    "one song that lacks its key": "Moth (C)\nWeeds (G)\nSlow Ferry\nJam Jar (A)\nTidal Clock (D)\nFog Bell (F)",
}


@pytest.mark.parametrize("name", NONE)
def test_other_lines_without_a_key_are_no_headings(name: str) -> None:
    assert LineKind.SET not in [line.took for line in read(NONE[name]).lines]


def test_bullets_mark_the_songs_of_one_set_though_numbers_mark_those_of_another() -> None:
    found = read(
        "VORSPIEL\n1. Moth – C\n2. Weeds – G\n3. Jam Jar – A\n4. Kite – Dm\n"
        "NACHSPIEL\n- Tidal Clock – D\n- Fog Bell – F\n- Tram – Bb\n- Owl – Am\n"
    )
    assert said(found) == (
        "Vorspiel: Moth=C; Weeds=G; Jam Jar=A; Kite=Dm | Nachspiel: Tidal Clock=D; Fog Bell=F; Tram=Bb; Owl=Am"
    )
    assert not [doubt for line in found.lines for doubt in line.doubts if line.took is LineKind.SONG]


def test_a_heading_on_a_condition_may_say_more_in_its_bracket() -> None:
    found = read(
        "1. Moth (C)\n2. Weeds (G)\n3. Kite (A)\n\nEncore:\nJam Jar (F)\n\n"
        "If time (hardly, the vicar has a long speech to give):\nTidal Clock (D)\nFog Bell (F)"
    )
    assert said(found) == "First: Moth=C; Weeds=G; Kite=A | Encore: Jam Jar=F | If time: Tidal Clock=D; Fog Bell=F"


@pytest.mark.parametrize("line", ["Then tea and buns, and after tea", "Kaffee im Saal, und nach dem Kaffee"])
def test_a_meal_after_which_the_songs_go_on_is_a_break(line: str) -> None:
    found = read(f"Moth in C\nWeeds in G\nKite in A\n\n{line}\n\nTidal Clock in D\nFog Bell in F\nJam Jar in C")
    assert said(found) == "First: Moth=C; Weeds=G; Kite=A | Second: Tidal Clock=D; Fog Bell=F; Jam Jar=C"


def test_a_framed_line_with_commas_is_asked_about() -> None:
    songs = "Moth (C)\nWeeds (G)\nTidal Clock (D)\n"
    found = read(f"{songs}*** VICAR SPEAKS, TOAST, CANDLES ***\nFog Bell (F)\nJam Jar (A)\n\nIF TIME:\nZinc (E)\n")
    asked = [doubt.question for line in found.lines for doubt in line.doubts]
    assert any("candles" in (question or "").lower() for question in asked)
