"""The band plays it in another key: the keyboards' tuning follows, and is undone on the next song without fail."""

import pytest
from msgspec.structs import replace
from stage.scenes import after, book_of, song, tuned_by

from companion.music import read_key
from companion.rig import HowTransposed
from companion.show import Section, Song, SoundCall
from companion.stage import (
    Book,
    KeyDown,
    KeyUp,
    Next,
    PlainEvent,
    TakeBack,
    Tune,
    all_due,
    at_start,
    chords_tonight,
    find_again,
    landmark,
    step,
    tuning_due,
)


def in_keys(title: str, key: str, fingered_in: str | None = None) -> Song:
    written = song(title, "Intro, Verse")
    return replace(written, key=read_key(key), fingered_in=read_key(fingered_in) if fingered_in else None)


def tuned(book: Book, *events: type[PlainEvent]) -> list[int]:
    """Return the tunings that go out, in order."""
    state, sent = at_start(book), []
    for number, event in enumerate(events, 1):
        state, effects = step(state, event(at_ms=number))
        sent += [effect.semitones for effect in effects if isinstance(effect, Tune)]
    return sent


TUNABLE, FIXED = HowTransposed.CHANNEL_TUNING, HowTransposed.NONE
BOOK = book_of([in_keys("A", "C"), in_keys("B", "C")], rig=tuned_by(TUNABLE))


def test_a_half_step_down_is_one_semitone_below() -> None:
    assert tuned(BOOK, Next, KeyDown) == [-1]
    assert tuned(BOOK, Next, KeyUp, KeyUp) == [1, 2]


def test_the_shift_ends_with_the_song() -> None:
    assert tuned(BOOK, Next, KeyDown, Next, Next) == [-1, 0]


def test_the_shift_can_be_taken_back() -> None:
    assert tuned(BOOK, Next, KeyDown, TakeBack) == [-1, 0]


def test_the_shift_stops_at_eleven_semitones() -> None:
    assert tuned(BOOK, *[KeyUp] * 14) == list(range(1, 12))


@pytest.mark.parametrize(
    ("key", "fingered_in", "semitones"),
    [("Bb", "C", -2), ("C", "Bb", 2), ("C", "C", 0), ("F#", "C", -6), ("C", "F#", -6), ("B", "C", -1), ("C", "B", 1)],
)
def test_fingered_in_tunes_the_keyboards_by_the_smaller_interval(key: str, fingered_in: str, semitones: int) -> None:
    """By hand: Bb is two semitones below C; a tritone goes down."""
    assert tuning_due(at_start(book_of([in_keys("A", key, fingered_in)]))) == semitones


def test_fingered_in_and_the_bands_shift_add_up() -> None:
    book = book_of([in_keys("A", "Bb", "C"), in_keys("B", "C")], rig=tuned_by(TUNABLE))
    assert tuned(book, Next, KeyDown, Next, Next) == [-3, 0]


def test_a_sections_own_key_moves_the_hands_and_not_the_tuning() -> None:
    first = in_keys("A", "C")
    moved = replace(first, road_map=(first.road_map[0], replace(first.road_map[1], key=read_key("D"))))
    assert tuned(book_of([moved]), Next, Next) == []


def test_after_a_crash_the_tuning_of_the_place_is_always_sent() -> None:
    assert Tune(0) in all_due(at_start(BOOK))
    found = find_again(BOOK, landmark(after(BOOK, Next, KeyDown)))
    assert found is not None
    assert Tune(-1) in all_due(found)


@pytest.mark.parametrize(
    ("ways", "sounds", "fingered_in", "tunings", "hands"),
    [  # by hand: the band plays a song in D a half step higher
        ((FIXED,), (), None, [], "Eb"),
        ((TUNABLE,), (), None, [1], "D"),
        ((FIXED,), (), "C", [], "Db"),  # tuned by hand for C before the song; the hands move on from there
        ((TUNABLE,), (), "C", [3], "C"),
        ((TUNABLE, FIXED), (), None, [], "Eb"),  # both keyboards in one key: the one that can be tuned stays as it is
        (
            (TUNABLE, FIXED),
            (SoundCall("piano", "board 0"),),
            None,
            [1],
            "D",
        ),  # the other one is not played in this song
        ((TUNABLE, FIXED), (SoundCall("piano", "board 1"),), None, [], "Eb"),
    ],
)
def test_the_hands_move_unless_every_keyboard_can_be_tuned(
    ways: tuple[HowTransposed, ...],
    sounds: tuple[SoundCall, ...],
    fingered_in: str | None,
    tunings: list[int],
    hands: str,
) -> None:
    one = replace(in_keys("A", "D", fingered_in), sounds=sounds)
    book = book_of([one], rig=tuned_by(*ways))
    assert tuned(book, Next, KeyUp) == tunings
    state = after(book, Next, KeyUp)
    (here, _) = chords_tonight(state)
    assert (str(here.sounds), str(here.hands)) == ("Eb", hands)


def test_the_chords_follow_the_hands() -> None:
    """By hand: a song in D, moved up a half step; a chorus a tone higher moves with it, and numbers never change."""
    written = (Section("Verse", 2, chords="D | A7/C#"), Section("Chorus", 1, key=read_key("E"), chords="1"))
    one = replace(in_keys("A", "D"), road_map=(*written, Section("Verse", 2)))
    shown = {
        way: [one.shown_in(one.hands) for one in chords_tonight(after(book_of([one], rig=tuned_by(way)), Next, KeyUp))]
        for way in (FIXED, TUNABLE)
    }
    assert shown == {FIXED: ["Eb | Bb7/D", "1", "F | C7/E"], TUNABLE: ["D | A7/C#", "1", "E | B7/D#"]}
