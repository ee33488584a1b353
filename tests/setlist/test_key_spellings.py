"""Keys in the spelling of other languages (dictionaries of each; invented titles)."""

import pytest

from companion.setlist import Notation
from companion.setlist.list_reading import list_in
from companion.setlist.parsing.key_cells import plain_key

SPELT = {
    "Fis mi": "F#m",  # Czech and Slovak
    "Ami": "Am",
    "a mol": "Am",
    "C-dúr": "C",  # Hungarian
    "fisz-moll": "F#m",
    "Esz-dúr": "Eb",
    "D-dúrban": "D",
    "Asz": "Ab",
    "D-duuri": "D",  # Finnish
    "fis-molli": "F#m",
    "Do majör": "C",  # Turkish
    "C fwyaf": "C",  # Welsh
    "A leiaf": "Am",
}


@pytest.mark.parametrize(("written", "key"), SPELT.items())
def test_a_key_is_read_in_the_spelling_of_its_language(written: str, key: str) -> None:
    assert str(plain_key(written)) == key


def test_a_czech_h_minor_needs_a_list_that_names_its_keys_in_german() -> None:
    assert str(plain_key("Hmi", notation=Notation.GERMAN)) == "Bm"
    assert plain_key("Hmi") is None


def test_keys_apart_from_their_ending_and_a_legend_of_notes_are_read() -> None:
    found = list_in("Toner (H = B)\n\nMølle - H\nUkrudt - Hm\nTidevand - Fis m\nKlokke - Es\n".encode(), "list.txt")
    assert [(song.title, str(song.key)) for song in found.show.sets[0].songs] == [
        ("Mølle", "B"),
        ("Ukrudt", "Bm"),
        ("Tidevand", "F#m"),
        ("Klokke", "Eb"),
    ]
