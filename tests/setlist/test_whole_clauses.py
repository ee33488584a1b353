"""A note whose clause holds the key stays whole."""

import pytest
from setlist.reading_texts import read


@pytest.mark.parametrize(
    ("line", "key", "notes"),
    [
        ("Salt Parade - Ab, capo for Jo but you're in Ab", "Ab", "Ab, capo for Jo but you're in Ab"),
        ("Salt Parade - G, singer wants it in G", "G", "G, singer wants it in G"),
        ("Salt Parade - in A this time", "A", "in A this time"),
        ("Salt Parade (in A this time)", "A", "in A this time"),
        ("Salt Parade - back in E", "E", "back in E"),
        ("Salt Parade - wieder in D", "D", None),  # which says no more than the key
        ("Salt Parade - slow in E", "E", "slow"),
        ("Salt Parade - E, slow", "E", "slow"),
        ("Salt Parade in E", "E", None),
    ],
)
def test_a_note_holds_its_whole_clause(line: str, key: str, notes: str | None) -> None:
    song = read(f"1 Moth - C\n2 Weeds (G)\n3 Late Tram - F\n4 {line}\n").show.sets[0].songs[-1]
    assert (song.title, str(song.key), song.notes) == ("Salt Parade", key, notes)
