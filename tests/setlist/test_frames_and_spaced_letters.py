"""Signs that open and close around titles, and headings with a space between their letters."""

import pytest
from setlist.reading_texts import read, said


@pytest.mark.parametrize(("opens", "closes"), [(">> ", " <<"), (">", "<"), ("<< ", " >>"), (">>>", "<<<")])
def test_signs_that_close_again_are_no_quotation(opens: str, closes: str) -> None:
    songs = (("Moth Parade", "Em"), ("Weeds Again", "Gm"), ("Owl Walk", "C"), ("Late Tram", "Dm"))
    text = "".join(f"{opens}{title}{closes}  {key}  112bpm\n     clav\n" for title, key in songs)
    found = read(f"Friday at the mill\n\n{text}")
    assert said(found) == "First: Moth Parade=Em; Weeds Again=Gm; Owl Walk=C; Late Tram=Dm"
    assert {song.notes for song in found.show.sets[0].songs} == {"clav"}


def test_a_quoted_list_stays_quoted() -> None:
    found = read("> Moth Parade - C\n> Weeds Again -> G\n> Owl Walk - D\n")
    assert [row.text for row in found.lines] == ["> Moth Parade - C", "> Weeds Again -> G", "> Owl Walk - D"]
    assert len(found.show.sets[0].songs) == 3


@pytest.mark.parametrize(
    "heads", [("=== S E T   A ===", "=== S E T   B ==="), ("S E T 1", "S E T 2"), ("P A R T  I", "P A R T  II")]
)
def test_letters_apart_are_a_word(heads: tuple[str, str]) -> None:
    found = read(f"{heads[0]}\nMoth Parade - C\nWeeds Again - G\n\n{heads[1]}\nOwl Walk - D\nLate Tram - A\n")
    assert [len(one.songs) for one in found.show.sets] == [2, 2]
    assert not found.in_doubt
