"""The place that most lines of a list have for their key, as a second opinion on each line."""

import pytest

from companion.setlist import SetList
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_layout import key_places, learn_layout
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text
from companion.show import Song

SONGS = (
    ("Under the Ladder", "Wren", "Bb", 134),
    ("(You Are) My Street", "Kez", "E", 119),
    ("Garden", "Marla", "F", 70),
    ("Lantern Station", "Dan", "Dm", 77),
    ("Last Carousel", "Marla", "A", 162),
    ("Hold On, Ferry", "Ravi", "D", 166),
    ("A Kettle in G", "Bea", "C#m", 110),
)
# Fields in one bracket, or behind signs, in orders that leaders use (common practice, no source).
FORMS = ("{title} [{who}, {key}, {bpm}]", "{title} ({who}; {key}; {bpm})", "{title} - {who} [{key}]")


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


def songs(found: SetList) -> list[Song]:
    return [song for one in found.show.sets for song in one.songs]


@pytest.mark.parametrize("form", FORMS)
def test_the_key_is_found_where_most_lines_have_it(form: str) -> None:
    lines = [form.format(title=title, who=who, key=key, bpm=bpm) for title, who, key, bpm in SONGS]
    found = songs(read("\n".join(lines)))
    assert [str(song.key) for song in found] == [key for _, _, key, _ in SONGS]
    if "bpm" in form:
        assert [song.title for song in found] == [title for title, _, _, _ in SONGS]
        assert [song.tempo_bpm for song in found] == [bpm for _, _, _, bpm in SONGS]
        assert [song.notes for song in found] == [who for _, who, _, _ in SONGS]


def test_a_place_needs_several_different_keys() -> None:
    assert learn_layout(["Moth, A", "Weeds, A", "Oars, A", "Tidal, A"], Notation.LETTERS) is None
    assert learn_layout(["Moth, A", "Weeds, B", "Oars, C", "Tidal, A"], Notation.LETTERS) is not None


def test_a_letter_among_words_is_in_no_place() -> None:
    assert learn_layout(["Once A King", "Plan B Again", "Go D Now", "Oh C Me"], Notation.LETTERS) is None
    assert not list(key_places("Gone Before Dawn", Notation.LETTERS))


def test_a_keyed_line_among_the_songs_that_is_read_as_a_note_is_in_doubt() -> None:
    text = "1. Moth - G\n2. Weeds - Am\n3. Oars - C\n   (Tidal - D)\n4. Salt - F\n5. Rain - Bb"
    found = read(text)
    taken = {song.title for song in songs(found)}
    assert "Tidal" in taken or any(line.doubts for line in found.lines if "Tidal" in line.text)
