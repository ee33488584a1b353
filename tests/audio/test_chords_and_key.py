"""Chords from the network's frames, as few changes as explain them; and the key that they make."""

from typing import Final

import numpy as np
import pytest
from music21.analysis.discrete import TemperleyKostkaPayne

from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord, heard_chords
from companion.audio.key_evidence import HEARD_NOTES
from companion.audio.keys import HeardKey, heard_key
from companion.audio.networks.chord_net import TRIADS, ChordFrames

FRAMES_A_BEAT = 20
SEVENTHS = (0, 11, 10, 9)


def frames_of(beats: list[tuple[int, str, int, int]], *, sure: float = 0.85) -> ChordFrames:
    """Return frames that say these chords, one for each beat: root, triad, seventh, bass above the root."""
    sizes = {"triads": 73, "basses": 13, "sevenths": 4, "ninths": 4, "sixths": 3}
    parts = {
        name: np.full((len(beats) * FRAMES_A_BEAT, many), (1 - sure) / many, np.float32) for name, many in sizes.items()
    }
    for beat, (root, triad, seventh, bass) in enumerate(beats):
        inside = slice(beat * FRAMES_A_BEAT, (beat + 1) * FRAMES_A_BEAT)
        parts["triads"][inside, 1 + 12 * TRIADS.index(triad) + root] = sure
        parts["basses"][inside, 1 + (root + bass) % 12] = sure
        parts["sevenths"][inside, SEVENTHS.index(seventh)] = sure
    return ChordFrames(**parts)


def heard(beats: list[tuple[int, str, int, int]], *, sure: float = 0.85) -> list[HeardChord]:
    edges = [FRAMES_A_BEAT * beat for beat in range(len(beats) + 1)]
    places = [("first", "other", "middle", "other")[beat % 4] for beat in range(len(beats))]
    return heard_chords(frames_of(beats, sure=sure), edges, places)


@pytest.mark.parametrize(
    "chord",
    [
        (0, "maj", 0, 0),
        (9, "min", 10, 0),
        (7, "maj", 10, 0),
        (2, "min", 0, 3),
        (5, "maj", 11, 0),
        (4, "sus4", 0, 0),
        (11, "dim", 10, 0),
    ],
)
def test_a_chord_is_heard_with_its_seventh_and_its_bass(chord: tuple[int, str, int, int]) -> None:
    other = (chord[0] + 5) % 12, "maj", 0, 0
    first, second = heard([chord] * 4 + [other] * 4)
    assert (first.root, first.triad, first.seventh, first.bass) == chord
    assert (first.start, first.stop, second.start) == (0, 4, 4)
    assert first.sure > 0.9


def test_one_uncertain_beat_does_not_split_a_chord() -> None:
    beats = [(0, "maj", 0, 0)] * 8
    frames = frames_of(beats)
    frames.triads[3 * FRAMES_A_BEAT : 3 * FRAMES_A_BEAT + 6] = 1 / 73
    edges = [FRAMES_A_BEAT * beat for beat in range(9)]
    assert len(heard_chords(frames, edges, ["first", "other", "middle", "other"] * 2)) == 1


def test_silence_has_no_chords_and_no_key() -> None:
    assert heard_chords(frames_of([(0, "maj", 0, 0)]), [0], []) == []
    assert heard_key([]).key is None


@pytest.mark.parametrize("up", range(12))
def test_a_progression_a_semitone_higher_has_a_key_a_semitone_higher(up: int) -> None:
    """The cadence II V I of each major key (any harmony textbook), moved through all twelve keys."""
    chords = [
        HeardChord(4 * at, 4 * at + 4, (root + up) % 12, triad)
        for at, (root, triad) in enumerate([(0, "maj"), (2, "min"), (7, "maj"), (0, "maj")])
    ]
    key = heard_key(chords).key
    assert key is not None
    assert key.tonic.semitone == up
    assert key.mode.value == "major"


def test_a_minor_song_is_not_heard_as_its_relative_major() -> None:
    roots = [(9, "min"), (5, "maj"), (4, "maj"), (9, "min")]
    chords = [HeardChord(4 * at, 4 * at + 4, root, triad) for at, (root, triad) in enumerate(roots)]
    assert str(heard_key(chords).key) == "Am"


def song_of(*parts: tuple[str, int, list[tuple[int, str]]]) -> HeardKey:
    """Return the key of sections: their letters, how far each is moved, and the chord of each of their bars."""
    chords, sections, bar = [], [], 0
    for letter, up, roots in parts:
        sections.append(HeardSection(bar, len(roots), letter, up, 1.0))
        for root, triad in roots:
            chords.append(HeardChord(4 * bar, 4 * bar + 4, (root + up) % 12, triad))
            bar += 1
    return heard_key(chords, sections, range(0, 4 * bar, 4), 4)


def test_choruses_that_are_moved_up_do_not_outvote_the_key_that_the_song_begins_in() -> None:
    verse = [(0, "maj"), (9, "min"), (5, "maj"), (7, "maj")]
    chorus = [(0, "maj"), (5, "maj"), (7, "maj"), (0, "maj")] * 2
    key = song_of(("A", 0, verse), ("B", 0, chorus), ("B", 2, chorus), ("B", 2, chorus), ("B", 2, chorus))
    assert (str(key.key), key.sure > 0.9) == ("C", True)


@pytest.mark.parametrize(
    ("bars", "named"),
    [
        ([(9, "min"), (2, "min"), (7, "maj"), (0, "maj")] * 4, {"Am", "C"}),  # begins on one, ends on the other
        ([(5, "maj"), (7, "maj"), (4, "min"), (9, "min")] * 4, {"Am", "C"}),
    ],
)
def test_chords_of_two_relative_keys_leave_a_doubt_that_names_both(
    bars: list[tuple[int, str]], named: set[str]
) -> None:
    key = song_of(("A", 0, bars))
    assert {str(key.key), str(key.second)} == named
    assert key.sure < 0.9


HOME: Final = [(0, "maj"), (5, "maj"), (7, "maj"), (0, "maj")]


@pytest.mark.parametrize(
    ("keys", "is_sure"),
    [
        ((0, 0, 0, 0, 0, 0), True),
        ((0, 0, 0, 7, 0, 0), True),  # away for a sixth of it
        ((0, 7, 2, 7, 0, 2), False),
        ((0, 0, 0, 7, 7, 7), False),
    ],
)
def test_the_key_of_music_that_modulates_is_not_sure(keys: tuple[int, ...], is_sure: bool) -> None:  # noqa: FBT001 - a table of cases
    """The cadence I IV V I (any harmony textbook) in the keys of C, G and D, eight bars each, as one section."""
    key = song_of(("A", 0, [((root + up) % 12, triad) for up in keys for root, triad in HOME * 2]))
    assert (key.sure >= 0.9) == is_sure


def test_the_notes_of_each_key_are_those_that_another_library_publishes() -> None:
    """music21's copy of the same table."""
    table = TemperleyKostkaPayne()
    assert {mode: tuple(table.getWeights(mode.value)) for mode in HEARD_NOTES} == HEARD_NOTES
