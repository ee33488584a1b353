"""A picture between a title and its key is a note, no part of the title."""

import pytest
from setlist.reading_texts import read


@pytest.mark.parametrize(
    "line",
    ["Moth Parade 🎹 Bb", "Moth Parade 🎹 (Bb)", "Moth Parade 🎹 - Bb", "1. Moth Parade 🎄🎹 in Bb"],
)
def test_a_picture_before_the_key_is_a_note(line: str) -> None:
    song = read(f"{line}\nWeeds Again - C\nOwl Walk - D\n").show.sets[0].songs[0]
    assert (song.title, str(song.key)) == ("Moth Parade", "Bb")
    assert "🎹" in (song.notes or "")
