"""The crib sheet's first chord: what the hands play."""

import pytest

from companion.music import read_key
from companion.paper.crib_sheet import crib_leaves, first_chord
from companion.paper.leaves import Paper, Words
from companion.show import Section, Set, Show, Song


@pytest.mark.parametrize(
    ("chords", "fingered_in", "section_key", "shown"),
    [
        ("1 | 4", None, None, "B♭"),
        ("1 | 4", "C", None, "C"),  # the keyboard is tuned a tone down: the hands are in C
        ("Bb | Eb", "C", None, "C"),
        ("Eb/G | Bb", "C", None, "F/A"),
        ("1 | 4", "C", "C", "D"),  # the first section is a tone up, and so are the hands
        ("N.C. | 1", "C", None, "N.C."),
        ("?? ~~", "C", None, ""),
    ],
)
def test_the_crib_sheets_first_chord_is_in_the_key_of_the_hands(
    chords: str, fingered_in: str | None, section_key: str | None, shown: str
) -> None:
    section = Section("Intro", 4, chords=chords, key=read_key(section_key) if section_key else None)
    hands = read_key(fingered_in) if fingered_in else None
    song = Song("Moth", key=read_key("Bb"), fingered_in=hands, road_map=(section,))
    assert first_chord(song) == shown


def test_the_crib_sheets_first_chord_follows_the_key() -> None:
    song = Song("Moth", key=read_key("G"), chords_in=read_key("A"), road_map=(Section("Intro", 2, chords="A/C# | D"),))
    assert first_chord(song) == "G/B"
    show = Show("S", sets=(Set("One", songs=(song,)),))
    (leaf,) = crib_leaves(show, Paper.A4)
    assert "G/B (the chords are written in A)" in " ".join(mark.text for mark in leaf.marks if isinstance(mark, Words))
