"""Lines right below a list, without an empty line, that change a song of it are no notes on its last song."""

import pytest
from setlist.reading_texts import read, said

SONGS = "Moth Parade - C\nWeeds Again - G\nOwl Walk - A\nLate Tram - D\nFog Bell - E\n"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("drop Weeds Again", "Moth Parade=C; Owl Walk=A; Late Tram=D; Fog Bell=E"),
        ("swap Owl Walk and Late Tram", "Moth Parade=C; Weeds Again=G; Late Tram=D; Owl Walk=A; Fog Bell=E"),
        ("oh and do Moth Parade in D", "Moth Parade=D; Weeds Again=G; Owl Walk=A; Late Tram=D; Fog Bell=E"),
    ],
)
@pytest.mark.parametrize("gap", ["", "\n"])
def test_a_line_below_the_list_changes_the_song_that_it_names(line: str, expected: str, gap: str) -> None:
    found = read(f"{SONGS}{gap}{line}\n")
    assert said(found) == f"First: {expected}"
    assert found.show.sets[0].songs[-1].notes is None
    assert found.in_doubt


@pytest.mark.parametrize("line", ["drop out in the bridge", "swap to organ for the solo", "move to the front"])
def test_a_line_that_names_no_other_song_stays_a_note(line: str) -> None:
    assert read(f"{SONGS}{line}\n").show.sets[0].songs[-1].notes == line
