"""Titles that words of talk lead to, and keys with small words in front of them."""

import pytest
from setlist.reading_texts import read, said

SONGS = "Postbox Tango Bb\nNine Wet Umbrellas Gm\nHarbour Lamps C\nSlow Ferry D\n"
READ = "First: Postbox Tango=Bb; Nine Wet Umbrellas=Gm; Harbour Lamps=C; Slow Ferry=D"


@pytest.mark.parametrize(
    ("line", "note"),
    [
        ("then Tram Home G to finish, drummer counts it in", "drummer counts it in"),
        ("and finally Tram Home G to close", None),
        ("and we finish w Tram Home in G", None),
        ("we end with Tram Home (G)", "we end with"),
        ("dann Tram Home G zum Schluss", None),
        ("et pour finir Tram Home G", None),
    ],
)
def test_a_last_song_in_words_of_talk_is_a_song_in_doubt(line: str, note: str | None) -> None:
    found = read(SONGS + line)
    assert said(found) == f"{READ}; Tram Home=G"
    last = found.show.sets[0].songs[-1]
    assert last.notes == note
    assert [len(one.doubts) for one in found.lines] == [0, 0, 0, 0, 1]


@pytest.mark.parametrize(
    ("form", "key"), [(", also {}", "A"), (", also in {}", "A"), (" - still {}", "A"), (" (again {})", "A")]
)
def test_a_key_that_is_there_again_is_a_key(form: str, key: str) -> None:
    assert said(read(SONGS.replace(" Gm", form.format(key)))) == READ.replace("=Gm", f"={key}")


def test_a_title_may_end_or_begin_with_again() -> None:
    found = read("Postbox Tango in Bb\nNever Again in G\nStill in D\nHarbour Lamps in C")
    assert said(found) == "First: Postbox Tango=Bb; Never Again=G; Still=D; Harbour Lamps=C"


@pytest.mark.parametrize(
    ("cell", "key", "notes", "doubts"),
    [("F7 blues", "F", "blues", 0), ("Dm7", "Dm", "Dm7", 1), ("Bb9 funk", "Bb", "funk", 0)],
)
def test_a_chord_of_the_key_names_the_key(cell: str, key: str, notes: str, doubts: int) -> None:
    found = read(f"Postbox Tango - Bb\nSlow Ferry - {cell}\nHarbour Lamps - C")
    song = found.show.sets[0].songs[1]
    assert (song.title, str(song.key), song.notes, len(found.lines[1].doubts)) == ("Slow Ferry", key, notes, doubts)


def test_a_word_that_begins_many_lines_and_says_what_comes_when_is_of_no_title() -> None:
    found = read(
        "Start with Pewter - Dm\nThen Second Tram - G\nThen Loaf - C\nThen Fog Bell - A\nand finish with Oars - E"
    )
    assert said(found) == "First: Pewter=Dm; Second Tram=G; Loaf=C; Fog Bell=A; Oars=E"


def test_a_title_among_others_may_begin_with_such_a_word() -> None:
    assert said(read("Pewter - Dm\nThen Came Rain - G\nOars - C\nFog Bell - A")).startswith(
        "First: Pewter=Dm; Then Came Rain=G"
    )


def test_an_arrow_to_the_key_is_of_no_title() -> None:
    assert said(read("1. Pewter -> G\n2. Oars -> Dm (solo)\n3. Fog Bell → A")) == "First: Pewter=G; Oars=Dm; Fog Bell=A"


def test_points_between_a_title_and_its_key_are_of_neither() -> None:
    found = read("1/ Pewter..A\n2/ Oars..D (big organ)\n3/ Fog Bell..Em\n4/ Wait...And See - G")
    assert said(found) == "First: Pewter=A; Oars=D; Fog Bell=Em; Wait...And See=G"
