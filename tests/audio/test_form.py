"""Sections: where the chords or the band change, which are alike, and forms that are not made of eights."""

import numpy as np
import pytest
from examples import seldom

from companion.audio.bar_pictures import BarPicture
from companion.audio.form import heard_sections
from companion.audio.repeated_stretches import repeated_spans
from companion.audio.section_starts import copied

A, B, C = (0, 7, 21, 5), (5, 7, 16, 21), (14, 19, 0, 0)  # triads by number: major from C, then minor from C


def pictured(parts: str, bars: dict[str, int], loops: dict[str, tuple[int, ...]], *, up: int = 0) -> BarPicture:
    """Return what the bars of a form sound like; each letter has its chords and its own sound of the band.

    ``up``: the last section is moved up by this many semitones.
    """
    dice = np.random.default_rng(4)
    harmony, sound = [], []
    for at, letter in enumerate(parts):
        shift = up if at == len(parts) - 1 else 0
        for bar in range(bars[letter]):
            number = loops[letter][bar % len(loops[letter])]
            row = np.full(24, 0.01)
            row[number // 12 * 12 + (number % 12 + shift) % 12] = 0.9
            harmony.append(np.tile(row, 2))
            sound.append(np.full(12, 20.0 + 4 * "ABC".index(letter)) + dice.normal(0, 0.5, 12))
    many = len(harmony)
    return BarPicture(np.asarray(harmony), np.asarray(sound), np.ones(many), np.zeros(many))


def form_of(picture: BarPicture) -> str:
    return " ".join(f"{one.letter}{one.bars}" for one in heard_sections(picture))


@pytest.mark.parametrize(
    ("parts", "bars", "form"),
    [
        ("ABABCB", {"A": 16, "B": 8, "C": 8}, "A16 B8 A16 B8 C8 B8"),
        ("ABABCB", {"A": 12, "B": 9, "C": 10}, "A12 B9 A12 B9 C10 B9"),
        ("ABAB", {"A": 8, "B": 6}, "A8 B6 A8 B6"),
    ],
)
def test_a_form_is_found_whatever_its_section_lengths(parts: str, bars: dict[str, int], form: str) -> None:
    assert form_of(pictured(parts, bars, {"A": A, "B": B, "C": C})) == form


def test_a_chorus_played_twice_is_two_sections() -> None:
    picture = pictured("ABABB", {"A": 16, "B": 8}, {"A": A, "B": B})
    assert form_of(picture) == "A16 B8 A16 B8 B8"


def test_where_the_same_music_begins_a_section_elsewhere_it_does_here_too() -> None:
    picture = pictured("ABAB", {"A": 8, "B": 8}, {"A": A, "B": B})
    starts = np.zeros(32)
    starts[[0, 8, 16]] = 1.0  # the second chorus has no crash
    said = copied(starts, picture)
    assert said[24] > 1
    assert int(said[17:].argmax()) + 17 == 24


def test_a_last_chorus_a_tone_higher_keeps_its_letter() -> None:
    sections = heard_sections(pictured("ABAB", {"A": 8, "B": 8}, {"A": A, "B": B}, up=2))
    assert [one.letter for one in sections] == ["A", "B", "A", "B"]
    assert [one.shift for one in sections] == [0, 0, 0, 2]


def test_each_bar_is_in_exactly_one_section() -> None:
    picture = pictured("ABCBA", {"A": 7, "B": 5, "C": 4}, {"A": A, "B": B, "C": C})
    sections = heard_sections(picture)
    assert [one.start for one in sections[1:]] == [one.start + one.bars for one in sections[:-1]]
    assert sections[0].start == 0
    assert sections[-1].start + sections[-1].bars == len(picture.harmony)


def test_no_bars_have_no_form() -> None:
    assert heard_sections(BarPicture(np.zeros((0, 48)), np.zeros((0, 12)), np.zeros(0), np.zeros(0))) == []


def test_the_form_as_a_whole_is_surer_than_each_start_alone_and_a_loop_without_end_is_not_sure() -> None:
    clear = heard_sections(pictured("ABABCB", {"A": 8, "B": 8, "C": 8}, {"A": A, "B": B, "C": C}))
    assert min(one.sure for one in clear) > 0.9
    loop = heard_sections(pictured("AAAAAAAA", {"A": 8}, {"A": A}))
    assert all(one.sure < 0.9 for one in loop[1:])


def unmarked(parts: str, written: dict[str, list[int]]) -> BarPicture:
    """Return a song that nothing but its chords divides: one sound of the band, no hit at a first bar."""
    chords = [number for letter in parts for number in written[letter]]
    harmony = np.full((len(chords), 24), 0.01)
    harmony[np.arange(len(chords)), chords] = 0.9
    many = len(chords)
    return BarPicture(np.tile(harmony, 2), np.full((many, 12), 20.0), np.ones(many), np.zeros(many))


def test_where_nothing_marks_the_sections_what_comes_again_does() -> None:
    """A ballad at the piano: eight bars that do not go round, and others of ten."""
    verse, chorus, bridge = [0, 21, 14, 7, 0, 5, 7, 0], [5, 7, 16, 21, 5, 7, 0, 0, 7, 0], [21, 16, 5, 0, 14, 2, 7, 7]
    picture = unmarked("AABABCB", {"A": verse, "B": chorus, "C": bridge})
    assert form_of(picture) == "A8 A8 B10 A8 B10 C8 B10"


BALLAD = {  # eight bars that do not go round, an introduction from them, and others of ten and eight
    "I": [0, 21],
    "A": [0, 21, 14, 7, 0, 5, 7, 0],
    "B": [5, 7, 16, 21, 5, 7, 0, 0, 7, 0],
    "C": [21, 16, 5, 0, 14, 2, 7, 7],
}


@pytest.mark.parametrize(
    ("parts", "form"),
    [
        ("IABABCB", "A2 A8 B10 A8 B10 C8 B10"),
        seldom("IAABAABA", "A2 A8 A8 B10 A8 A8 B10 A8"),
    ],
)
def test_an_introduction_from_the_verse_does_not_hide_where_the_verse_begins(parts: str, form: str) -> None:
    assert form_of(unmarked(parts, BALLAD)) == form


@pytest.mark.long
def test_bars_whose_chords_are_heard_wrong_do_not_move_the_sections() -> None:
    picture = unmarked("IAABAABA", BALLAD)
    for bar, number in ((7, 3), (23, 18), (40, 9)):
        picture.harmony[bar] = np.tile(np.where(np.arange(24) == number, 0.9, 0.01), 2)
    assert [one.start for one in heard_sections(picture)] == [0, 2, 10, 18, 28, 36, 44, 54]


def test_where_no_chords_come_again_their_order_says_nothing_of_sections() -> None:
    harmony = np.random.default_rng(30).dirichlet(np.full(24, 0.1), 30)
    assert repeated_spans(np.tile(harmony, 2), np.zeros(30)) == []


def test_sections_found_by_their_chords_hold_each_bar_once() -> None:
    spans = repeated_spans(unmarked("IABAB", BALLAD).harmony, np.zeros(38))
    assert [first for first, _ in spans] == [0, *np.cumsum([many for _, many in spans])[:-1]]
    assert sum(many for _, many in spans) == 38
