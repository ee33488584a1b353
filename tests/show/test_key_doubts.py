"""Letters and a key that cannot both be right are reported; those that may both be right are not."""

import pytest
from show.scenes import PATH, read, with_song

from companion.music import Key, Meter, Mode, read_chord_line
from companion.show import Section, Song
from companion.show.checks import check
from companion.show.key_doubts import key_doubts

# Turns of harmony that players know by their numbers, major and minor (common practice, no source); none of a song.
MAJOR = (
    *("1 | 4 | 5 | 1", "1 | 5 | 6- | 4", "1 | 6- | 4 | 5", "6- | 4 | 1 | 5", "1 | 4 | 1 | 5", "1 | b7 | 4 | 1"),
    *("1 | b3 | 4 | 1", "1 | b7 | b6 | b7", "17 | 47 | 17 | 17 | 47 | 47 | 17 | 17 | 57 | 47 | 17 | 57"),
    *("2-7 | 57 | 1maj7 | 67", "1 | 3- | 4 | 4-", "1 | 2 | 4 | 1", "1 | 37 | 6- | 27 | 4 | 5", "1 | 1/3 | 4 | 5"),
    *("4 | 5 | 3- | 6-", "1maj7 | 4maj7", "1 | 5/7 | 6- | 3-/5 | 4 | 1/3 | 2-7 | 57", "1 | b6 | b7 | 1", "1 | 4- | 1"),
    *(
        "17 | b77 | 47 | 17",
        "1 | 5 | 4 | 4",
        "5 | 4 | 1 | 1",
        "1",
        "1 | 4",
        "2-7 | 57",
        "47 | 17",
        "3-7 | 67 | 2-7 | 57",
    ),
    *("1 | 27 | 57 | 1", "1 | 67 | 27 | 57", "1 | #1o7 | 2-7 | 57", "1 | b7 | 1 | b7", "4 | 1 | 5 | 6-", "1 | b2maj7"),
    *("37 | 67 | 27 | 57", "1 | 1+ | 1(6) | 17 | 4"),
)
MINOR = (
    *("6- | 4 | 1 | 5", "6- | 5 | 4 | 37", "6- | 2- | 37 | 6-", "6-7 | 2-7", "6- | 1 | 5 | 2", "6-7 | 27"),
    *("6- | 5 | 6- | 5", "6- | 4 | 5 | 6-", "2-7 | 5 | 1 | 4 | 7-7b5 | 37 | 6-", "6- | 6-/5 | 6-/#4 | 4", "6-7"),
    *("6-7 | 7-7b5 | 37 | 6-7", "6- | 2- | 6- | 37", "6- | 3- | 4 | 1", "67 | 27 | 67 | 37"),
)
TURNS = [*((turn, Mode.MAJOR) for turn in MAJOR), *((turn, Mode.MINOR) for turn in MINOR)]


def doubts(turn: str, mode: Mode, off: int = 0) -> int:
    """Count the doubts where these numbers are written as letters of a key, and the key is so many semitones off."""
    key = Key.signed(0, mode)
    letters = str(read_chord_line(turn, Meter(4, 4)).as_letters(key))
    song = Song("Moth", key=key.transposed(off), road_map=(Section("Verse", chords=letters),))
    return len(list(key_doubts(song, read("show: S\n").places)))


def test_of_usual_progressions_only_one_is_doubted_in_its_own_key() -> None:
    assert [turn for turn, mode in TURNS if doubts(turn, mode)] == ["37 | 67 | 27 | 57"]  # a chain of dominants alone


@pytest.mark.parametrize(("off", "found"), [(1, 0.7), (-1, 0.7), (6, 0.7), (2, 0.55), (-2, 0.55)])
def test_most_progressions_are_doubted_in_a_wrong_key(off: int, found: float) -> None:
    assert sum(doubts(turn, mode, off) for turn, mode in TURNS) >= found * len(TURNS)


LETTERS = "road_map: [{section: Verse, bars: 4, chords: A | D | E | A}]"


def doubts_of(keys: str) -> list[str]:
    return [str(one).removeprefix(f"{PATH}:") for one in check(read(with_song(keys))).warnings]


@pytest.mark.parametrize(
    ("typed", "warning", "mended"),
    [
        (
            f"key: G\n{LETTERS}",
            "4:10: the chords of T seem to be in A, but are read in G. Write: chords_in: A, or another key",
            f"key: G\nchords_in: A\n{LETTERS}",
        ),
        (
            f"key: G\nchords_in: Bb\n{LETTERS}",
            "5:16: the chords of T seem to be in A, but are read in Bb. Write: chords_in: A, or another key",
            f"key: G\nchords_in: A\n{LETTERS}",
        ),
        (
            "key: Gm\nroad_map: [{section: Verse, bars: 4, chords: Am | Dm | E7 | Am}]",
            "4:10: the chords of T seem to be in Am, but are read in Gm. Write: chords_in: Am, or another key",
            "key: Gm\nchords_in: Am\nroad_map: [{section: Verse, bars: 4, chords: Am | Dm | E7 | Am}]",
        ),
        (
            f"key: Gm\nchords_in: A\n{LETTERS}",
            "5:16: chords_in is A and key is Gm: only one of them is minor. Write: chords_in: Am, or another key",
            f"key: G\nchords_in: A\n{LETTERS}",
        ),
    ],
)
def test_letters_in_another_key_are_reported_with_what_to_write(typed: str, warning: str, mended: str) -> None:
    assert doubts_of(typed) == [warning]
    assert doubts_of(mended) == []


@pytest.mark.parametrize(
    "keys",
    [
        f"key: A\n{LETTERS}",
        f"key: F#m\n{LETTERS}",  # its relative
        f"key: Am\n{LETTERS}",  # its parallel: a list may have left the minor out
        LETTERS,
        "key: G\nroad_map: [{section: Verse, bars: 4, chords: 1 | 4 | 5 | 1}]",
        "key: G\nroad_map: [{section: Verse, bars: 2, chords: A | D}]",  # two chords are at home in several keys
        "key: A\nroad_map: [{section: V, chords: A | D | E | A}, {section: C, key: B, chords: B | E | F#7 | B}]",
        "key: G\nroad_map: [{section: Verse, bars: 1, chords: A | D | Ex}]",  # reported as an unreadable chord
    ],
)
def test_what_may_be_right_is_not_doubted(keys: str) -> None:
    assert [one for one in doubts_of(keys) if "chords of T" in one or "chords_in" in one] == []


def test_a_section_in_a_key_of_its_own_is_taken_for_that_key() -> None:
    chorus = "{section: Chorus, key: A, chords: B | E | F#7 | B | C#m | G#m | E | F#7 | B | E | F#7 | B}"
    (doubt,) = doubts_of(f"key: G\nroad_map: [{{section: Verse, chords: A | D | E | A}}, {chorus}]")
    assert "seem to be in A, but are read in G" in doubt
