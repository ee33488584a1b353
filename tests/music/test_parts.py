"""Parts: what transposing instruments read, capo and tuning."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.strategies import keys
from music.tables import cells

from companion.music import (
    INSTRUMENTS,
    Key,
    NotMusic,
    Part,
    Pitch,
    capo_choices,
    capo_for,
    read_chord,
    read_key,
    read_note,
    tuning_shift,
    with_capo,
    written_chord,
    written_key,
    written_note,
)

PARTS = {"Bb instrument": Part.BB, "Eb instrument": Part.EB, "F instrument": Part.F}


@pytest.mark.parametrize(("concert", "instrument", "written"), cells("instrument_keys", "concert"))
def test_the_key_of_a_part_is_as_the_orchestration_books_have_it(concert: str, instrument: str, written: str) -> None:
    assert str(written_key(read_key(concert), PARTS[instrument])) in written.split("|")


@pytest.mark.parametrize(
    ("name", "concert", "written"),  # any orchestration book
    [
        ("trumpet", "Bb3", "C4"),
        ("clarinet", "Eb4", "F4"),
        ("soprano sax", "A4", "B4"),
        ("tenor sax", "Bb3", "C5"),
        ("tenor sax", "C4", "D5"),
        ("alto sax", "Eb4", "C5"),
        ("alto sax", "C4", "A4"),
        ("alto sax", "A4", "F#5"),
        ("baritone sax", "C4", "A5"),
        ("horn", "Bb3", "F4"),
        ("English horn", "Bb3", "F4"),
        ("guitar", "E3", "E4"),
        ("bass guitar", "E1", "E2"),
        ("trombone", "Bb2", "Bb2"),
    ],
)
def test_an_instrument_reads_its_interval_above_concert_pitch(name: str, concert: str, written: str) -> None:
    (instrument,) = (one for one in INSTRUMENTS if one.name == name)
    assert str(written_note(read_note(concert), instrument)) == written


@pytest.mark.parametrize(
    ("text", "midi"),  # MIDI 1.0: middle C is note 60; here C4, Cb4 is the B below
    [("C4", 60), ("A4", 69), ("Cb4", 59), ("B#3", 60), ("C-1", 0), ("G9", 127), ("Bb3", 58)],
)
def test_a_note_has_its_midi_number(text: str, midi: int) -> None:
    assert read_note(text).midi == midi
    assert str(read_note(text)) == text


@pytest.mark.parametrize(
    ("text", "column", "write"), [("C", 0, "C4"), ("Bb", 1, "Bb4"), ("C10", 1, "C4"), ("h4", 0, "B4")]
)
def test_what_is_no_note_is_told_with_its_place_and_the_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_note(text)
    assert (fault.value.column, fault.value.write) == (column, write)


def test_the_chords_of_a_part_are_spelled_in_its_key() -> None:
    written = [written_chord(read_chord(chord), read_key("B"), Part.BB) for chord in ("B", "E", "F#/A#", "G#m7")]
    assert " ".join(map(str, written)) == "Db Gb Ab/C Bbm7"  # B is Db for a Bb part, five flats and not seven sharps


@pytest.mark.parametrize(("shape", "capo", "sounding"), cells("capo", "shape"))
def test_a_capo_raises_the_shape_by_its_frets(shape: str, capo: str, sounding: str) -> None:
    fret = int(capo.removeprefix("capo "))
    assert str(with_capo(read_key(shape), fret)) in sounding.split("|")
    for name in sounding.split("|"):
        assert capo_for(read_key(name), read_key(shape)) == fret


def test_a_guitar_tuned_down_a_half_step_has_capo_minus_one() -> None:
    assert str(with_capo(read_key("E"), -1)) == "Eb"  # common practice, no source


@pytest.mark.parametrize(
    ("key", "choices"),
    [
        ("Eb", [(1, "D"), (3, "C"), (6, "A")]),
        ("F#m", [(2, "Em"), (4, "Dm")]),
        ("G", [(0, "G"), (3, "E"), (5, "D"), (7, "C")]),
        ("E dorian", [(0, "D"), (2, "C"), (5, "A"), (7, "G")]),
    ],
)
def test_the_guitarist_is_offered_open_shapes_the_lowest_fret_first(key: str, choices: list[tuple[int, str]]) -> None:
    assert [(fret, str(shape)) for fret, shape in capo_choices(read_key(key))] == choices


@pytest.mark.parametrize(
    ("fingered_in", "sounds_in", "semitones"),
    [("C", "Bb", -2), ("C", "Db", 1), ("E", "F", 1), ("C", "F#", -6), ("G", "G", 0), ("A", "Em", -5), ("F#", "Gb", 0)],
)
def test_the_keyboard_is_tuned_the_nearer_way(fingered_in: str, sounds_in: str, semitones: int) -> None:
    assert tuning_shift(read_key(fingered_in), read_key(sounds_in)) == semitones


@given(keys, st.sampled_from(Part))
def test_a_part_sounds_in_the_concert_key(key: Key, part: Part) -> None:
    below = {Part.CONCERT: 0, Part.BB: 2, Part.EB: 9, Part.F: 7}[part]
    assert written_key(key, part).transposed(-below).tonic.semitone == key.tonic.semitone


@given(keys, keys)
def test_fingers_and_tuning_make_the_sounding_key(fingered_in: Key, sounds_in: Key) -> None:
    shift = tuning_shift(fingered_in, sounds_in)
    assert -6 <= shift <= 5
    assert (fingered_in.tonic.semitone + shift - sounds_in.tonic.semitone) % 12 == 0


@given(keys)
def test_every_choice_of_capo_sounds_in_the_key(key: Key) -> None:
    for fret, shape in capo_choices(key):
        assert 0 <= fret <= 7
        assert with_capo(shape, fret).tonic.semitone in (key.tonic.semitone, Pitch.on_fifths(key.sf).semitone)
