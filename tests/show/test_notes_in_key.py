"""Notes that name keys, once the song is in another one."""

from pathlib import Path

import pytest

from companion.music import read_key
from companion.show import read_show
from companion.show.notes_in_key import notes_written_in


@pytest.mark.parametrize(
    "notes",
    [
        "-> D last chorus",
        "up to D for the end",
        "last time in D",
        "Bb on the bridge",
        "D major from the bridge on",
        "letzter Refrain nach Es",
        "finale en Ré",
        "F#m at the end",
    ],
)
def test_a_note_that_names_a_key_says_that_it_was_written_in_the_old_one(notes: str) -> None:
    assert notes_written_in(notes, read_key("C"), read_key("A")) == f"{notes} (written in C)"


@pytest.mark.parametrize(
    "notes",
    [
        "A long solo",
        "Am Ende langsamer",
        "to Dora's mother",
        "A part twice, then B part",
        "the record is in E",  # whatever the band plays
        "in Dover they clapped",
    ],
)
def test_a_note_that_names_no_key_of_the_song_stays(notes: str) -> None:
    assert notes_written_in(notes, read_key("C"), read_key("A")) == notes


def test_each_clause_is_marked_once_and_not_in_the_key_it_was_written_in() -> None:
    notes = "Jon starts; up to D\nsax to E; cold"
    moved = notes_written_in(notes, read_key("C"), read_key("A"))
    assert moved == "Jon starts; up to D (written in C)\nsax to E (written in C); cold"
    assert notes_written_in(moved, read_key("A"), read_key("F")) == moved
    assert notes_written_in(moved, read_key("A"), read_key("C")) == notes
    assert notes_written_in(notes, read_key("C"), read_key("C")) == notes
    assert notes_written_in(None, read_key("C"), read_key("A")) is None


@pytest.mark.parametrize(
    ("of_song", "seen"),
    [
        ("", "up to D"),
        ("    key: A\n", "up to D (written in C)"),
        ("    key: A\n    notes: up to B\n", "up to B"),  # the show's own words are of its own key
    ],
)
def test_the_notes_of_a_songbook_belong_to_its_key(tmp_path: Path, of_song: str, seen: str) -> None:
    (tmp_path / "songbook.yaml").write_text("moth: {title: Moth, key: C, notes: up to D}\n", encoding="utf-8")
    show = tmp_path / "supper.yaml"
    show.write_text(f"show: Supper\nsongs:\n  - use: songbook.yaml#moth\n{of_song}", encoding="utf-8")
    assert read_show(show).show.sets[0].songs[0].notes == seen
