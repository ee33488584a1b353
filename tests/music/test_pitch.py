"""Pitches: their place on the line of fifths, their spelling, and how the stage shows them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.strategies import pitches

from companion.music import NotMusic, Pitch
from companion.music.pitch import pitch_at


def read_pitch(text: str) -> Pitch:
    pitch, end = pitch_at(text, 0)
    assert end == len(text)
    return pitch


@pytest.mark.parametrize(
    ("text", "letter", "accidental", "semitone"),  # any theory book
    [
        ("C", "C", 0, 0),
        ("Bb", "B", -1, 10),
        ("B♭", "B", -1, 10),
        ("F#", "F", 1, 6),
        ("F♯", "F", 1, 6),
        ("Gb", "G", -1, 6),
        ("Cb", "C", -1, 11),
        ("E#", "E", 1, 5),
        ("Bbb", "B", -2, 9),
        ("B𝄫", "B", -2, 9),
        ("F##", "F", 2, 7),
        ("F𝄪", "F", 2, 7),
        ("B#", "B", 1, 0),
    ],
)
def test_a_pitch_keeps_its_spelling(text: str, letter: str, accidental: int, semitone: int) -> None:
    assert read_pitch(text) == Pitch(letter, accidental)
    assert read_pitch(text).semitone == semitone


def test_gb_and_f_sharp_are_two_spellings_of_one_key() -> None:
    assert read_pitch("Gb") != read_pitch("F#")
    assert len({read_pitch("Gb"), read_pitch("F#"), read_pitch("F♯")}) == 2


@pytest.mark.parametrize(
    ("strict", "shown"),  # common practice, no source: nobody reads Bbb on stage; Cb, Fb, E# and B# stay
    [("Bbb", "A"), ("Ebb", "D"), ("F##", "G"), ("Cbb", "Bb"), ("E##", "F#"), ("Cb", "Cb"), ("Fb", "Fb"), ("E#", "E#")],
)
def test_a_double_accidental_is_shown_by_its_plain_name(strict: str, shown: str) -> None:
    assert str(read_pitch(strict).plain) == shown


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [("", 0, "a letter"), ("H", 0, "B"), ("c", 0, "C"), ("bb", 0, "Bb")],
)
def test_an_unreadable_pitch_is_reported_with_its_place(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_pitch(text)
    assert fault.value.column == column
    assert fault.value.write.startswith(write)


@given(pitches)
def test_every_pitch_reads_back(pitch: Pitch) -> None:
    assert read_pitch(str(pitch)) == pitch


@given(pitches)
def test_the_plain_name_is_the_same_key_with_one_accidental_at_most(pitch: Pitch) -> None:
    assert pitch.plain.semitone == pitch.semitone
    assert abs(pitch.plain.accidental) <= 1
    assert pitch.plain == pitch or abs(pitch.accidental) == 2


@given(st.integers(-60, 60))
def test_three_accidentals_are_refused(place: int) -> None:
    pitch = Pitch.on_fifths(place)
    assert pitch.semitone == place * 7 % 12
    assert abs(pitch.accidental) <= 2
    assert pitch.fifths == place or not -15 <= place <= 19
