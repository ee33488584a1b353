"""Numbers: letters to degrees and back, in any key and by either practice, and a song's move."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import chords, keys, kinds, number_chords
from music.tables import cells, table

from companion.music import (
    NO_CHORD,
    NO_NUMBER_CHORD,
    Chord,
    Key,
    NotMusic,
    NumberChord,
    moved,
    read_chord,
    read_key,
    read_number,
    to_letters,
    to_number,
)
from companion.music.numbers import _NAMES


@pytest.mark.parametrize("row", table("numbers"), ids=lambda row: f"{row['numbers']} in {row['key']}")
def test_the_published_lines_convert_both_ways(row: dict[str, str]) -> None:
    key = read_key(row["key"])
    letters = [to_letters(read_number(number), key) for number in row["numbers"].split()]
    assert " ".join(map(str, letters)) == row["chords"]
    assert " ".join(str(to_number(chord, key)) for chord in letters) == row["numbers"]


@pytest.mark.parametrize("row", table("numbers"), ids=lambda row: f"{row['numbers']} in {row['key']}")
def test_the_stages_spelling_of_a_line_means_the_same_numbers(row: dict[str, str]) -> None:
    key = read_key(row["key"])
    shown = [read_chord(chord).shown for chord in row["chords"].split()]
    assert " ".join(str(to_number(read_chord(chord), key)) for chord in shown) == row["numbers"]


@pytest.mark.parametrize(("key", "degree", "letter"), cells("altered", "key"))
def test_altered_degrees_keep_the_letter_of_the_degree(key: str, degree: str, letter: str) -> None:
    assert str(to_letters(read_number(degree), read_key(key))) == letter


@pytest.mark.parametrize(
    ("key", "number", "chord"),  # public descriptions of the number system
    [("Bb", "1/3", "Bb/D"), ("Bb", "5/7", "F/A"), ("Bb", "6m/5", "Gm/F"), ("Bb", "4/5", "Eb/F"), ("A", "b6", "F")],
)
def test_the_bass_after_a_slash_is_a_degree_of_the_key(key: str, number: str, chord: str) -> None:
    assert str(to_letters(read_number(number), read_key(key))) == chord


@pytest.mark.parametrize(
    ("key", "chord", "number"),  # computed: the degree of the letter in the key
    [
        ("Eb", "Ab/C", "4/6"),
        ("Eb", "Bb/D", "5/7"),
        ("Eb", "Db", "b7"),
        ("Eb", "Fm7", "2-7"),
        ("E", "D", "b7"),
        ("E", "G#m", "3-"),
        ("E", "C#m/B", "6-/5"),
        ("Gb", "Cb", "4"),
        ("Gb", "B", "4"),  # in Gb, B means Cb
        ("Gb", "B/D#", "4/6"),
        ("F#", "F", "7"),  # and in F#, F means E#
        ("Gb", "E", "b7"),
        ("Gb", "A", "b3"),  # as the stage shows Bbb
        ("Gb", "D/A", "b6/b3"),
        ("Gb", "F/A", "7/#2"),  # here A is the third of F
        ("Gb", "Adim7", "#2o7"),  # a passing chord goes up by sharps
        ("C#", "Gdim", "#4o"),  # as the stage shows F##
        ("C", "G#dim7", "#5o7"),
        ("C", "A#", "b7"),
        ("Cb", "A/Bbb", "b7"),  # two names of one key: no bass of its own
    ],
)
def test_a_chord_gets_the_intended_degree(key: str, chord: str, number: str) -> None:
    assert str(to_number(read_chord(chord), read_key(key))) == number


@pytest.mark.parametrize(
    ("key", "letters", "numbers"),  # public descriptions of the number system
    [
        ("Am", "Am F C G", "6- 4 1 5"),
        ("Am", "Dm E7 G#dim7", "2- 37 #5o7"),
        ("F#m", "F#m D A E", "6- 4 1 5"),
        ("D dorian", "Dm7 G7", "2-7 57"),
        ("Bb", "Bb Gm", "1 6-"),
    ],
)
def test_minor_counts_from_the_relative_major(key: str, letters: str, numbers: str) -> None:
    found = [to_number(read_chord(chord), read_key(key)) for chord in letters.split()]
    assert " ".join(map(str, found)) == numbers
    assert " ".join(str(to_letters(number, read_key(key))) for number in found) == letters


@pytest.mark.parametrize(
    ("text", "written"),  # public descriptions of the number system; 57 and 4#o common practice, no source
    [
        ("1", "1"),
        ("6-", "6-"),
        ("6m", "6-"),
        ("b7", "b7"),
        ("♭7", "b7"),
        ("7b", "b7"),
        ("4/5", "4/5"),
        ("5/b7", "5/b7"),
        ("2-7", "2-7"),
        ("1maj7", "1maj7"),
        ("4△7", "4maj7"),
        ("7o", "7o"),
        ("#4o", "#4o"),
        ("4#o", "#4o"),
        ("5sus", "5sus4"),
        ("5+", "5+"),
        ("1(2)", "1add9"),
        ("6-7b5", "6-7b5"),
        ("57", "57"),
        ("5⁷", "57"),
        ("513", "513"),
        ("1(6)", "1(6)"),
        ("1(6/9)", "1(6/9)"),
        ("1(5)", "1(5)"),
        ("6-6", "6-6"),
        ("N.C.", "N.C."),
    ],
)
def test_a_number_is_read_as_players_write_it(text: str, written: str) -> None:
    assert str(read_number(text)) == written
    assert read_number(written) == read_number(text)


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("8", 0, "a number from 1 to 7, as in 1 or b7"),
        ("", 0, "a number from 1 to 7, as in 1 or b7"),
        ("C", 0, "a number from 1 to 7, as in 1 or b7"),
        ("15", 1, "1 5 or 1(5)"),  # a space forgotten?
        ("1564", 1, "1 5 6 4"),
        ("5/8", 2, "5"),
        ("4/", 1, "4"),
        ("1/3/5", 3, "1/3"),
        ("6-7x", 3, "6-7"),
        ("1" + "b9" * 100, 48, "1"),
    ],
)
def test_an_unreadable_number_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_number(text)
    assert (fault.value.column, fault.value.write) == (column, write)


@pytest.mark.parametrize(
    ("old", "new", "before", "after"),  # moved by degree
    [
        ("E", "F", "E A B C#m", "F Bb C Dm"),
        ("E", "Eb", "E A B C#m", "Eb Ab Bb Cm"),
        ("E", "F", "E/G#", "F/A"),
        ("A", "Bb", "G", "Ab"),  # b7 stays b7
        ("F", "Gb", "Bb", "Cb"),  # the four chord of Gb is Cb
        ("F", "F#", "Bb", "B"),
        ("G", "Gb", "Bb Eb F N.C.", "Bbb Ebb Fb N.C."),
        ("Am", "Cm", "Am F C G E7/G#", "Cm Ab Eb Bb G7/B"),
        ("Gb", "C", "A D B", "Eb Ab F"),  # from letters as the stage shows them
    ],
)
def test_a_song_moves_by_degree(old: str, new: str, before: str, after: str) -> None:
    letters = [moved(read_chord(chord), read_key(old), read_key(new)) for chord in before.split()]
    assert " ".join(map(str, letters)) == after


def test_nc_is_nc_in_every_key() -> None:
    assert to_letters(NO_NUMBER_CHORD, read_key("C")) == NO_CHORD
    assert to_number(NO_CHORD, read_key("C")) == NO_NUMBER_CHORD


@given(number_chords())
def test_every_number_reads_back_from_its_text(number: NumberChord) -> None:
    assert read_number(str(number)) == number


@given(chords(), keys)
def test_letters_to_numbers_and_back_keep_the_notes(chord: Chord, key: Key) -> None:
    number = to_number(chord, key)
    again = to_letters(number, key)
    assert again.pitch_classes == chord.pitch_classes
    assert again.kind == chord.kind
    assert (again.root and again.root.semitone) == (chord.root and chord.root.semitone)
    assert to_number(again, key) == number
    shown = to_letters(to_number(read_chord(again.shown), key), key)
    assert shown.pitch_classes == chord.pitch_classes


usual_degrees = st.sampled_from([names[0] for names in _NAMES])
usual_numbers = st.builds(NumberChord, usual_degrees, kinds, st.none() | usual_degrees)


@given(usual_numbers, keys, keys)
def test_moving_a_song_and_moving_it_back_restores_it(number: NumberChord, old: Key, new: Key) -> None:
    chord = to_letters(number, old)
    there = moved(chord, old, new)
    assert there == to_letters(number, new)
    assert moved(there, new, old) == chord


def test_all_twelve_pitches_have_their_usual_degrees() -> None:
    assert [[str(name) for name in names] for names in _NAMES] == [
        *(["1"], ["b2", "#1"], ["2"], ["b3", "#2"], ["3"], ["4"]),
        *(["#4", "b5"], ["5"], ["b6", "#5"], ["6"], ["b7"], ["7"]),
    ]


@given(st.text(max_size=30) | st.text(alphabet="1234567b#-/om7ajsud4()N.C", max_size=12))
def test_any_text_is_a_number_or_a_fault_inside_it(text: str) -> None:
    number = music_or_fault(read_number, text)
    if isinstance(number, NotMusic):
        assert 0 <= number.column <= len(text)
        assert number.write
    else:
        assert read_number(str(number)) == number
