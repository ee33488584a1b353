"""Keys: what people write, signatures, scales, relatives, and the key after a move."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import EVERY_KEY, keys
from music.tables import cells, table

from companion.music import Key, Mode, NotMusic, read_key


@pytest.mark.parametrize("row", table("keys"), ids=lambda row: f"{row['key']} {row['mode']}")
def test_the_thirty_keys_have_their_textbook_signatures(row: dict[str, str]) -> None:
    key = read_key(f"{row['key']} {row['mode']}")
    assert key.sf == int(row["sf"])
    assert " ".join(map(str, key.scale)) == row["scale"]
    assert key.relative == read_key(row["relative"])
    assert key.relative.relative == key


@pytest.mark.parametrize(
    ("text", "key"),  # what people write; common practice, no source
    [
        ("Bb", "Bb"),
        ("B♭", "Bb"),
        ("b-flat", "Bb"),
        ("B flat major", "Bb"),
        ("bb", "Bb"),
        ("Bbm", "Bbm"),
        ("b", "B"),
        ("B minor", "Bm"),
        ("Gm", "Gm"),
        ("G-", "Gm"),
        ("Gmin", "Gm"),
        ("G mi.", "Gm"),
        ("GMIN", "Gm"),
        ("(Gm)", "Gm"),
        ("F#-", "F#m"),
        ("F♯−", "F#m"),
        ("F sharp minor", "F#m"),
        ("F#-minor", "F#m"),
        ("C# minor", "C#m"),
        ("Eb major", "Eb"),
        ("Eb Maj", "Eb"),
        ("  a ", "A"),
        ("key of G", "G"),
        ("in Ab", "Ab"),
        ("D dorian", "D dorian"),
        ("G mixo", "G mixolydian"),
        ("C ionian", "C"),
        ("A aeolian", "Am"),
        ("A harmonic minor", "Am"),
        ("F  lydian", "F lydian"),
    ],
)
def test_a_key_is_read_as_people_write_it(text: str, key: str) -> None:
    assert str(read_key(text)) == key


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "a letter from A to G, as in Bb or F#m"),
        ("H", 0, "B"),
        ("h moll", 0, "Bm"),
        ("AM", 1, "A or Am"),  # capitals: minor on a typed sheet, major in a theory book
        ("G# major", 0, "Ab"),  # eight sharps
        ("Fb minor", 0, "Em"),
        ("Gb dorian", 0, "F# dorian"),
        ("Bbb", 0, "a letter from A to G, as in Bb or F#m"),
        ("C/Am", 1, "C"),
        ("D doran", 2, "D dorian"),
        ("G blues", 2, "G"),
        ("Gmm", 1, "Gm"),
        ("G?", 1, "G"),
        ("  X", 2, "a letter from A to G, as in Bb or F#m"),
        ("A" * 500, 1, "A"),
    ],
)
def test_an_unreadable_key_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_key(text)
    assert (fault.value.column, fault.value.write) == (column, write)
    assert len(str(fault.value)) < 120


@pytest.mark.parametrize(("key", "semitones", "moved"), cells("semitones", "key"))
def test_a_song_moves_to_the_key_with_fewer_signs(key: str, semitones: str, moved: str) -> None:
    assert str(read_key(key).transposed(int(semitones))) in moved.split("|")


@pytest.mark.parametrize(
    ("key", "semitones", "moved"),  # common practice, no source: a tie keeps the side of the song
    [
        ("E", 2, "F#"),
        ("Eb", 3, "Gb"),
        ("Am", 6, "Ebm"),
        ("C#m", 2, "D#m"),
        ("C", 6, "Gb"),
        ("F", 1, "Gb"),
        ("G", -1, "F#"),
    ],
)
def test_between_six_sharps_and_six_flats_a_move_keeps_the_songs_side(key: str, semitones: int, moved: str) -> None:
    assert str(read_key(key).transposed(semitones)) == moved


@pytest.mark.parametrize(
    ("key", "parallel"),  # signature arithmetic: sf - 3; where that is not written, the same sound
    [("A", "Am"), ("Am", "A"), ("Eb", "Ebm"), ("Gb", "F#m"), ("Db", "C#m"), ("D#m", "Eb"), ("D dorian", "D")],
)
def test_parallel_keys_have_the_same_tonic(key: str, parallel: str) -> None:
    assert str(read_key(key).parallel) == parallel


@pytest.mark.parametrize(("key", "other"), [("F#", "Gb"), ("Cb", "B"), ("D#m", "Ebm"), ("C", "C"), ("G", "G")])
def test_a_key_has_a_second_name_only_if_both_are_in_use(key: str, other: str) -> None:
    assert str(read_key(key).respelled) == other


@pytest.mark.parametrize("key", EVERY_KEY, ids=str)
def test_every_key_of_every_mode_reads_back(key: Key) -> None:
    assert read_key(str(key)) == key
    assert hash(read_key(str(key))) == hash(key)
    assert key.scale[0] == key.tonic
    assert len({pitch.letter for pitch in key.scale}) == 7


def test_each_signature_belongs_to_one_key_per_mode() -> None:
    assert len(set(EVERY_KEY)) == 15 * len(Mode)
    assert {key.sf for key in EVERY_KEY} == set(range(-7, 8))


@given(keys, st.integers(-30, 30))
def test_a_moved_key_is_that_many_semitones_higher_and_easy_to_read(key: Key, semitones: int) -> None:
    moved = key.transposed(semitones)
    assert (moved.tonic.semitone - key.tonic.semitone - semitones) % 12 == 0
    assert moved.mode is key.mode
    assert abs(moved.sf) <= 6 or moved == key
    assert moved.transposed(-semitones).tonic.semitone == key.tonic.semitone


@given(st.text(max_size=60) | st.text(alphabet="ABCDEFGHabm#b♭- minorajdflt()/", max_size=20))
def test_any_text_is_a_key_or_a_fault_inside_it(text: str) -> None:
    key = music_or_fault(read_key, text)
    if isinstance(key, NotMusic):
        assert 0 <= key.column <= max(len(text) - 1, 0)
        assert key.write
    else:
        assert read_key(str(key)) == key
        assert abs(key.sf) <= 7
