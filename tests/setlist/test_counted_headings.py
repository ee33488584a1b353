"""Headings of a word that returns with the next number, and sets on one line (invented lists)."""

import pytest

from companion.setlist.list_reading import list_in


def sets_of(text: str) -> list[list[str]]:
    return [[song.title for song in one.songs] for one in list_in(text.encode(), "list.txt").show.sets]


LISTS = {
    "a word that returns with a numeral": (
        "I. kolo\n1. Moth C\n2. Weeds D\n\nII. kolo\n1. Tidal G\n2. Fog Bell A\n",
        [["Moth", "Weeds"], ["Tidal", "Fog Bell"]],
    ),
    "slashes behind it": (
        "1. blok Moth (C) / Weeds (G) / Fog Bell (A)\n2. blok Tidal (Es) / Dance, Dora, Dance (D)\n",
        [["Moth", "Weeds", "Fog Bell"], ["Tidal", "Dance, Dora, Dance"]],
    ),
    "commas, and an encore of one title": (
        "1. série: Moth, Weeds on a roof, Fog Bell\n2. série: Tidal, Jam Jar\npřídavek: Poslední vlak\n",
        [["Moth", "Weeds on a roof", "Fog Bell"], ["Tidal", "Jam Jar"], ["Poslední vlak"]],
    ),
    "arrows between titles without keys": (
        "set 1: Moth Parade > Weeds > Fog Bell\nset 2: Tidal Clock > Jam Jar > Orchard\n",
        [["Moth Parade", "Weeds", "Fog Bell"], ["Tidal Clock", "Jam Jar", "Orchard"]],
    ),
}


@pytest.mark.parametrize(("text", "sets"), LISTS.values(), ids=LISTS)
def test_a_word_beside_numbers_that_count_up_heads_sets(text: str, sets: list[list[str]]) -> None:
    assert sets_of(text) == sets


def test_a_word_that_counts_songs_heads_no_set() -> None:
    assert sets_of("Carol 1\nMoth Parade\nWeeds\nCarol 2\nTidal Clock\nFog Bell\n") != [
        ["Moth Parade", "Weeds"],
        ["Tidal Clock", "Fog Bell"],
    ]


def test_a_title_without_key_between_titles_with_keys_is_doubted() -> None:
    found = list_in(b"Set 1: Moth (C), Weeds (D), Hush now, Hugo (G), Fog Bell (A), Tidal (F)\n", "list.txt")
    assert any("a comma in it" in doubt.says for line in found.lines for doubt in line.doubts)
