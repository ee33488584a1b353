"""The key of each section: a last chorus that is moved up, a bridge elsewhere, and chords that leave no key."""

import pytest

from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord
from companion.audio.key_changes import SectionKey, section_keys
from companion.music import Key, read_key

LOOP = [(0, "maj"), (7, "maj"), (9, "min"), (5, "maj")]  # 1 5 6- 4


def keys_of(
    key: str, parts: list[tuple[str, int, list[tuple[int, str]]]], *, shifts: bool = True, sure: float = 0.95
) -> list[SectionKey]:
    """Return the keys of sections of eight bars: letter, semitones up, and the loop above C of its bars."""
    chords, sections = [], []
    first: dict[str, int] = {}
    for number, (letter, up, loop) in enumerate(parts):
        for bar in range(8):
            root, triad = loop[bar % len(loop)]
            beat = 32 * number + 4 * bar
            chords.append(HeardChord(beat, beat + 4, (root + up) % 12, triad, sure=sure))
        shift = up - first.setdefault(letter, up)
        sections.append(HeardSection(8 * number, 8, letter, shift if shifts else 0, 1.0))
    return section_keys(read_key(key), chords, sections, range(0, 32 * len(parts), 4), 4)


def names(keys: list[SectionKey]) -> list[str]:
    return [str(one.key) for one in keys]


@pytest.mark.parametrize("up", [1, 2, 3, 4, 5, 10, 11])
@pytest.mark.parametrize("tonic", ["C", "F#", "Bb"])
def test_a_last_chorus_that_is_moved_has_its_own_key(tonic: str, up: int) -> None:
    key = read_key(tonic)
    at = key.tonic.semitone
    keys = keys_of(tonic, [("A", at, LOOP), ("B", at, LOOP[2:]), ("A", at, LOOP), ("A", at + up, LOOP)])
    assert names(keys[:3]) == [tonic] * 3
    assert keys[3].key == key.transposed(up)
    assert min(one.sure for one in keys) > 0.9


def test_a_lift_is_heard_from_its_chords_alone() -> None:
    assert names(keys_of("C", [("A", 0, LOOP), ("A", 0, LOOP), ("B", 1, LOOP)], shifts=False)) == ["C", "C", "Db"]


@pytest.mark.parametrize(
    "loop",
    [
        [(0, "maj"), (10, "maj"), (5, "maj"), (0, "maj")],  # a flat seventh
        [(5, "maj"), (5, "min"), (0, "maj"), (7, "maj")],  # a minor four
        [(2, "maj"), (7, "maj"), (0, "maj"), (0, "maj")],  # the dominant of the dominant
        [(9, "min"), (5, "maj"), (9, "min"), (7, "maj")],
    ],
)
def test_a_bridge_with_borrowed_chords_stays_in_the_key(loop: list[tuple[int, str]]) -> None:
    """What songs do without leaving their key (any harmony textbook)."""
    assert names(keys_of("C", [("A", 0, LOOP), ("B", 0, loop), ("A", 0, LOOP)])) == ["C", "C", "C"]


def test_a_minor_song_with_its_major_dominant_stays_in_the_key() -> None:
    loop = [(9, "min"), (5, "maj"), (4, "maj"), (9, "min")]
    assert names(keys_of("Am", [("A", 0, loop), ("B", 0, LOOP), ("A", 2, loop)])) == ["Am", "Am", "Bm"]


def test_a_move_that_two_keys_explain_is_unsure() -> None:
    """An ending on G and D: the dominant and its own dominant, or a move to G."""
    keys = keys_of("C", [("A", 0, LOOP), ("A", 0, LOOP), ("B", 0, [(7, "maj"), (2, "maj")])])
    assert 0.1 < keys[2].sure < 0.9


def test_without_a_key_no_section_has_one() -> None:
    assert section_keys(None, [], [HeardSection(0, 1, "A")], [0], 4) == []
    silent: list[HeardChord] = [HeardChord(0, 4, None)]
    assert section_keys(read_key("C"), silent, [HeardSection(0, 1, "A")], [0], 4)[0].key == Key.signed(0)
