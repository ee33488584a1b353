"""Lines broken inside a bracket, titles that fill their column, names of columns with dashes, rows without keys."""

import pytest
from setlist.reading_texts import read, said


@pytest.mark.parametrize(
    ("text", "notes"),
    [
        ("D - Postbox Tango (organ\nstabs)\nC - Harbour Lamps", "organ stabs"),
        ("1. Postbox Tango - D (long solo,\n   then keys)\n2. Harbour Lamps - C", "long solo, then keys"),
        ("Postbox Tango (fast,\nwatch Bo), D\nHarbour Lamps, C", "fast, watch Bo"),
    ],
)
def test_a_line_that_ends_inside_a_bracket_goes_on_below(text: str, notes: str) -> None:
    found = read(text)
    assert said(found) == "First: Postbox Tango=D; Harbour Lamps=C"
    assert found.show.sets[0].songs[0].notes == notes


def test_a_face_opens_no_bracket() -> None:
    found = read("Postbox Tango - D :(\nHarbour Lamps - C :)\nSlow Ferry - G")
    assert said(found) == "First: Postbox Tango=D; Harbour Lamps=C; Slow Ferry=G"


def test_a_title_as_long_as_its_column_has_its_key_behind_one_space() -> None:
    found = read(
        "Harbour Lamps         G\nSparks                D\nNine Wet Umbrellas Up E\nA Title That Runs Past It All B\n"
        "Slow Ferry            Em\nTram Home             C    organ\nLamps Across Avenue A D"
    )
    assert said(found) == (
        "First: Harbour Lamps=G; Sparks=D; Nine Wet Umbrellas Up=E; A Title That Runs Past It All=B; Slow Ferry=Em; "
        "Tram Home=C; Lamps Across Avenue A=D"
    )


@pytest.mark.parametrize(
    "names", ["song – (who it's by) – key", "title / key / who counts in", "Lied | Tonart | wer fängt an"]
)
def test_names_of_columns_with_signs_between_them_are_no_song(names: str) -> None:
    sign = next(sign for sign in "–/|" if sign in names)
    found = read(f"DUCK BAND – Fri 18 Dec\n{names}\n\nSet 1\nPostbox Tango {sign} D\nHarbour Lamps {sign} C")
    assert said(found) == "First: Postbox Tango=D; Harbour Lamps=C"


@pytest.mark.parametrize("row", ["postbox / slow ferry / tram home / wet paint / owl walk / eleven swans"])
@pytest.mark.parametrize(
    "talk",
    [
        "keys: same as record except slow ferry down to c, and wet paint which is e minor now",
        "slow ferry in C please, wet paint's in Em now, rest as always",
    ],
)
def test_keys_below_a_row_of_titles_are_keys_of_these(row: str, talk: str) -> None:
    assert said(read(f"thurs house gig\n\n{row}\n\n{talk}")) == (
        "First: postbox; slow ferry=C; tram home; wet paint=Em; owl walk; eleven swans"
    )


@pytest.mark.parametrize(
    ("bracket", "key", "notes"),
    [
        ("DROP D / D MINOR", "Dm", "DROP D"),
        ("C minor / half step down", "Cm", "half step down"),
        ("slow / Dm", "Dm", "slow"),
    ],
)
def test_a_slash_in_a_bracket_parts_the_key_from_words(bracket: str, key: str, notes: str) -> None:
    song = read(f"Postbox Tango ({bracket})\nHarbour Lamps (C)\nSlow Ferry (G)").show.sets[0].songs[0]
    assert (song.title, str(song.key), song.notes) == ("Postbox Tango", key, notes)
