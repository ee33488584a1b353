"""Keys that a line takes back and replaces (invented lists)."""

import pytest
from setlist.reading_texts import read

LIST = "1. Moth Parade - C\n2. Owl Lane{}\n3. Kite - Em\n4. Fog Bell - F\n5. Tidal - D"


@pytest.mark.parametrize(
    "written",
    [
        " - G no wait, A",
        " (G) - sorry, A now",
        " - G (no, actually A)",
        " G, no A",
        " - G -- oops it's A",
        " g no wait its a now",
        " - G, nein, doch A",
        " - G... pardon, c'est A",
    ],
)
def test_the_second_key_is_taken_in_doubt_and_the_words_are_kept(written: str) -> None:
    found = read(LIST.format(written))
    song = found.show.sets[0].songs[1]
    assert (song.title, str(song.key)) == ("Owl Lane", "A")
    assert "G" in (song.notes or "").upper()
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Is 'Owl Lane' in A?"]


@pytest.mark.parametrize("written", [" - G, no solo", " - G then A", " No Way - G", " - G (not A)", ", Actually - G"])
def test_other_words_around_a_key_correct_nothing(written: str) -> None:
    found = read(LIST.format(written))
    assert not [doubt for line in found.lines for doubt in line.doubts if "corrects" in doubt.says]
