"""A key that a note behind the song's own wants instead."""

import pytest
from setlist.reading_texts import read


@pytest.mark.parametrize(
    "note", ["doch lieber in G, sagt Pia", "better in G", "liever in G", "plutôt en G", "hellre i G", "lepiej w G"]
)
def test_the_key_wanted_instead_is_used_in_doubt(note: str) -> None:
    found = read(f"Moth Parade in A ({note})\nWeeds Again in C\nOwl Walk in D\n")
    song = found.show.sets[0].songs[0]
    assert (song.title, str(song.key)) == ("Moth Parade", "G")
    assert found.lines[0].doubts


@pytest.mark.parametrize("note", ["solo better in the second half", "rather in a hurry", "bridge in G"])
def test_a_note_that_wants_no_other_key_leaves_it(note: str) -> None:
    song = read(f"Moth Parade in C ({note})\nWeeds Again in C\nOwl Walk in D\n").show.sets[0].songs[0]
    assert str(song.key) == "C"
