"""Rows of a table that count up with one word head its sets."""

import pytest

from companion.setlist.list_reading import list_in


@pytest.mark.parametrize("word", ["Tanzrunde", "Spielblock", "Danseblokk", "Dance"])
def test_a_word_that_counts_up_heads_sets(word: str) -> None:
    songs = (("Moth", "F"), ("Owl", "Bb"), ("Tram", "Eb"))
    rows = "".join(
        f"{word} {at},,\n" + "".join(f"{title} {name},{key},\n" for title, key in songs)
        for at, name in enumerate(("Parade", "Walk", "Home"), start=1)
    )
    found = list_in(f"Titel,Tonart,Hinweis\n{rows}".encode(), "list.csv")
    assert [len(one.songs) for one in found.show.sets] == [3, 3, 3]
    assert not found.in_doubt


def test_a_title_with_a_number_heads_no_set() -> None:
    found = list_in(b"Title,Key\nMoth Parade,C\nCarol 1,\nOwl Walk,D\nCarol 2,\nLate Tram,G\nFog Bell,A\n", "list.csv")
    assert len(found.show.sets) == 1
