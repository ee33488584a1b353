"""Chords in letters: every way of writing, one way of printing, the notes, and faults at their character."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import EVERY_KIND, chords

from companion.music import NO_CHORD, Chord, ChordKind, NotMusic, Pitch, read_chord
from companion.music.chord import LONGEST_CHORD

# How players write, what is written back, and the notes. Any handbook of chord symbols if no rule is named; the
# rules are those on the door of companion/music/kind.py.
CHORDS = [
    ("C", "C", "C E G"),
    ("CM", "C", "C E G"),
    ("Cmaj", "C", "C E G"),
    ("Cm", "Cm", "C Eb G"),
    ("C-", "Cm", "C Eb G"),
    ("C−", "Cm", "C Eb G"),
    ("Cmin", "Cm", "C Eb G"),
    ("Cmi", "Cm", "C Eb G"),
    ("CMI7", "Cm7", "C Eb G Bb"),
    ("Cmaj7", "Cmaj7", "C E G B"),
    ("CM7", "Cmaj7", "C E G B"),
    ("Cma7", "Cmaj7", "C E G B"),
    ("C△7", "Cmaj7", "C E G B"),
    ("CΔ", "Cmaj7", "C E G B"),
    ("C7", "C7", "C E G Bb"),
    ("C⁷", "C7", "C E G Bb"),
    ("Cdom7", "C7", "C E G Bb"),
    ("C-7", "Cm7", "C Eb G Bb"),
    ("Cmin7", "Cm7", "C Eb G Bb"),
    ("Cm(maj7)", "Cmmaj7", "C Eb G B"),
    ("CmM7", "Cmmaj7", "C Eb G B"),
    ("C-△7", "Cmmaj7", "C Eb G B"),
    ("C7#9", "C7#9", "C E G Bb D#"),
    ("C7+9", "C7#9", "C E G Bb D#"),
    ("C7(b9)", "C7b9", "C E G Bb Db"),
    ("C7-9", "C7b9", "C E G Bb Db"),
    ("C-9", "Cm9", "C Eb G Bb D"),
    ("C+9", "C9#5", "C E G# Bb D"),
    ("Cm7b5", "Cm7b5", "C Eb Gb Bb"),
    ("Cm7-5", "Cm7b5", "C Eb Gb Bb"),
    ("Cø", "Cm7b5", "C Eb Gb Bb"),
    ("Cø7", "Cm7b5", "C Eb Gb Bb"),
    ("C∅9", "Cm9b5", "C Eb Gb Bb D"),
    ("Cdim", "Cdim", "C Eb Gb"),
    ("C°", "Cdim", "C Eb Gb"),
    ("Co", "Cdim", "C Eb Gb"),
    ("C°7", "Cdim7", "C Eb Gb Bbb"),
    ("Cdim7", "Cdim7", "C Eb Gb Bbb"),
    ("Cdim(maj7)", "Cmmaj7b5", "C Eb Gb B"),
    ("C+", "C+", "C E G#"),
    ("Caug", "C+", "C E G#"),
    ("C+5", "C+", "C E G#"),
    ("C+7", "C7#5", "C E G# Bb"),
    ("C7+", "C7#5", "C E G# Bb"),
    ("Caug7", "C7#5", "C E G# Bb"),
    ("C+maj7", "Cmaj7#5", "C E G# B"),
    ("Csus", "Csus4", "C F G"),
    ("Csus4", "Csus4", "C F G"),
    ("Csus2", "Csus2", "C D G"),
    ("Csus2sus4", "Csus4add9", "C F G D"),
    ("C7sus", "C7sus4", "C F G Bb"),
    ("Cm7sus4", "C7sus4", "C F G Bb"),  # sus takes the third's place
    ("C9sus4", "C9sus4", "C F G Bb D"),
    ("C13sus", "C13sus4", "C F G Bb D A"),
    ("C7sus4(b9)", "C7sus4b9", "C F G Bb Db"),
    ("C6", "C6", "C E G A"),
    ("Cm6", "Cm6", "C Eb G A"),
    ("C6/9", "C6/9", "C E G D A"),
    ("C69", "C6/9", "C E G D A"),
    ("Cm6/9", "Cm6/9", "C Eb G D A"),
    ("C(add9)", "Cadd9", "C E G D"),
    ("Cadd2", "Cadd9", "C E G D"),
    ("C2", "Cadd9", "C E G D"),
    ("C(2)", "Cadd9", "C E G D"),  # public descriptions of the number system: 1(2) is 1add9
    ("C(4)", "Cadd11", "C E G F"),
    ("Cmadd9", "Cmadd9", "C Eb G D"),
    ("C9", "C9", "C E G Bb D"),
    ("C11", "C11", "C E G Bb D F"),
    ("C13", "C13", "C E G Bb D A"),  # the 11 is left out over a major third
    ("Cm13", "Cm13", "C Eb G Bb D F A"),
    ("C7(13)", "C7add13", "C E G Bb A"),
    ("C13b9", "C13b9", "C E G Bb Db A"),  # an altered note replaces the plain one
    ("C9addb9", "C9addb9", "C E G Bb Db D"),
    ("C7b9#11", "C7b9#11", "C E G Bb Db F#"),
    ("C7(b9,#11)", "C7b9#11", "C E G Bb Db F#"),
    ("C7(#9 b13)", "C7#9b13", "C E G Bb D# Ab"),
    ("Cmaj9#11", "Cmaj9#11", "C E G B D F#"),
    ("C7alt", "C7alt", "C E Gb G# Bb Db D#"),
    ("Calt", "C7alt", "C E Gb G# Bb Db D#"),
    ("C5", "C5", "C G"),
    ("C(no3)", "C5", "C G"),
    ("C7omit5", "C7no5", "C E Bb"),
    ("C(b5)", "C(b5)", "C E Gb"),
    ("C/E", "C/E", "E C G"),
    ("C/C", "C", "C E G"),
    ("C6/A", "C6/A", "A C E G"),
    ("C6/9/E", "C6/9/E", "E C G D A"),
    ("Am7/G", "Am7/G", "G A C E"),
    ("F♯m7♭5", "F#m7b5", "F# A C E"),
    ("B♭−7/A♭", "Bbm7/Ab", "Ab Bb Db F"),
    ("Bb13#11/D", "Bb13#11/D", "D Bb F Ab C E G"),
    ("Db9", "Db9", "Db F Ab Cb Eb"),  # an accidental right after a letter is the letter's
    ("Gbmaj7", "Gbmaj7", "Gb Bb Db F"),
    ("C#maj7", "C#maj7", "C# E# G# B#"),
]


@pytest.mark.parametrize(("text", "written", "notes"), CHORDS)
def test_a_chord_is_read_as_players_write_it(text: str, written: str, notes: str) -> None:
    chord = read_chord(text)
    assert str(chord) == written
    assert " ".join(map(str, chord.pitches)) == notes
    assert read_chord(written) == chord
    assert hash(read_chord(written)) == hash(chord)


@pytest.mark.parametrize("text", ["N.C.", "NC", "n.c.", "N.C", "no chord", " N.C. "])
def test_nc_is_a_chord_without_notes(text: str) -> None:
    assert read_chord(text) == NO_CHORD
    assert str(NO_CHORD) == "N.C."
    assert NO_CHORD.pitch_classes == frozenset()


def test_the_bass_note_sounds_too() -> None:
    assert read_chord("C/Bb").pitch_classes == {0, 4, 7, 10}
    assert read_chord("F/G").pitch_classes == {5, 9, 0, 7}


def test_double_accidentals_are_shown_by_their_plain_name() -> None:
    assert read_chord("Bbbm7/Ebb").shown == "Am7/D"
    assert read_chord("Cb/Fb").shown == "Cb/Fb"


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "a chord, as in C or Bbm7, or N.C. for none"),
        ("X", 0, "a letter from A to G, as in Bb"),
        ("c", 0, "C"),
        ("am7", 0, "Am7"),
        ("bb7", 0, "Bb7"),
        ("H7", 0, "B7"),
        ("C4", 1, "Csus4 or Cadd4"),
        ("C7x", 2, "C7"),
        ("Cmaj9x", 5, "Cmaj9"),
        ("Cmajj7", 4, "Cmaj7"),
        ("Cmaj77", 5, "Cmaj7"),
        ("Cmm", 2, "Cm"),
        ("Cmmaj", 1, "Cmmaj7"),
        ("C sus4", 1, "Csus4"),
        ("Cdimsus4", 1, "Csus4"),
        ("Cno5b5", 4, "C7b5"),
        ("Csus5", 1, "Csus4"),
        ("C7alt9", 5, "C7alt"),
        ("C7(b9", 2, "C7b9"),
        ("C()", 2, "C"),
        ("C)", 1, "C"),
        ("C/9", 1, "Cadd9"),
        ("C/e", 2, "C/E"),
        ("C/H", 2, "C/B"),
        ("C/a0", 2, "C/A"),
        ("C/", 2, "C"),
        ("C/E/G", 3, "C/E"),
        ("  Gmin7b", 7, "Gmin7"),
        ("Bbmaj7zz/D", 6, "Bbmaj7/D"),
        ("C7" + "b9" * 100, LONGEST_CHORD, "C"),
        ("C" * 100_000, LONGEST_CHORD, "C"),
    ],
)
def test_an_unreadable_chord_points_at_the_character_and_names_the_nearest(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_chord(text)
    assert (fault.value.column, fault.value.write) == (column, write)
    assert len(str(fault.value)) < 160


@pytest.mark.parametrize("start", range(0, len(EVERY_KIND), 1000))
def test_every_kind_reads_back_from_its_text(start: int) -> None:
    for kind in EVERY_KIND[start : start + 1000]:
        chord = Chord(Pitch("B", -2), kind, Pitch("F", 2))
        assert len(str(chord)) < LONGEST_CHORD
        assert read_chord(str(chord)) == chord


def test_every_kind_has_the_notes_of_its_degrees() -> None:
    semitones = {"1": 0, "2": 2, "b3": 3, "3": 4, "4": 5, "b5": 6, "5": 7, "#5": 8, "bb7": 9, "b7": 10, "7": 11}
    semitones |= {"b9": 1, "9": 2, "#9": 3, "11": 5, "#11": 6, "b13": 8, "13": 9}  # any theory book
    for kind in EVERY_KIND:
        assert Chord(Pitch("C"), kind).pitch_classes == {semitones[degree] for degree in kind.degrees}


@given(chords())
def test_every_chord_reads_back_from_its_text(chord: Chord) -> None:
    assert read_chord(str(chord)) == chord


@given(chords())
def test_the_shown_chord_has_the_same_notes(chord: Chord) -> None:
    assert read_chord(chord.shown).pitch_classes == chord.pitch_classes


@given(chords(), st.integers(-12, 12))
def test_a_moved_chord_keeps_its_shape(chord: Chord, fifths: int) -> None:
    moved = chord.moved(fifths)
    assert moved.kind == chord.kind
    assert moved.pitch_classes == {(note + 7 * fifths) % 12 for note in chord.pitch_classes}


CHORD_LIKE = st.text(alphabet="CDEFGABb#m-+°ø△7965431()/,susadimjlto2 ", max_size=14).map(lambda rest: "C" + rest)


@given(st.text(max_size=60) | CHORD_LIKE)
def test_any_text_is_a_chord_or_a_fault_inside_it_with_a_readable_fix(text: str) -> None:
    chord = music_or_fault(read_chord, text)
    if isinstance(chord, NotMusic):
        assert 0 <= chord.column <= len(text)
        assert chord.write
        if text.startswith("C") and len(text) < LONGEST_CHORD:
            for way in chord.write.split(" or "):
                read_chord(way)
    else:
        assert read_chord(str(chord)) == chord


def test_a_lone_letter_is_a_major_chord() -> None:
    assert read_chord("C") == Chord(Pitch("C"), ChordKind(), None)
