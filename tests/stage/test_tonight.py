"""What was changed tonight belongs to its song: it is there again wherever the foot comes from, and nowhere else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from stage.scenes import after, book_of, on, place_text, song, tuned_by
from stage.test_properties import _EVENTS, BOOKS

from companion.rig import HowTransposed
from companion.stage import (
    Again,
    Back,
    Book,
    Call,
    Drop,
    KeyDown,
    KeyUp,
    LeaveOut,
    Next,
    NextSong,
    PlainEvent,
    PositionKind,
    PreviousSong,
    Skip,
    StartOver,
    State,
    TakeBack,
    TakeItOut,
    Tap,
    Tune,
    carried_over,
    replay,
    step,
    tempo_due,
)

A, B, C = (song(title, "Intro @organ, Verse @piano, Chorus @strings") for title in "ABC")
BOOK = book_of([A, B], [C], rig=tuned_by(HowTransposed.MASTER_TUNING))
RUNS_ON = book_of([replace(A, segue="B"), B])
INTO_B = (Next, Next, Next, Next)  # A's three sections, then B is up next


def then(state: State, *kinds: type[PlainEvent]) -> State:
    for kind in kinds:
        state, _ = step(state, kind(at_ms=20_000))
    return state


@pytest.mark.parametrize(
    ("book", "kinds", "place", "shift"),
    [  # by hand; the changes are made in A, but for the last three
        (BOOK, (Next, KeyDown, Next, Next, Next, Back), "Chorus of A", -1),
        (BOOK, (Next, KeyUp, KeyUp, Skip, Skip, Skip, Next, Next, Back, Back, Back), "Chorus of A", 2),
        (BOOK, (Next, KeyDown, Back), "A up next", -1),
        (BOOK, (KeyDown, Next, Back), "A up next", -1),
        (BOOK, (Next, KeyDown, NextSong, PreviousSong), "A up next", -1),
        (BOOK, (Next, KeyDown, StartOver), "Intro of A", -1),
        (BOOK, (Next, KeyDown, NextSong), "B up next", 0),
        (BOOK, (Next, KeyDown, NextSong, Back, Next), "B up next", 0),
        (BOOK, (Next, KeyDown, NextSong, KeyUp, Back), "Chorus of A", -1),
        (BOOK, (Next, KeyDown, NextSong, KeyUp, Back, Next), "B up next", 1),
        (BOOK, (Next, KeyDown, KeyUp, NextSong, Back), "Chorus of A", 0),
        (RUNS_ON, (Next, KeyDown, Next, Next, Next), "Intro of B", 0),
        (RUNS_ON, (Next, KeyDown, Next, Next, Next, Back), "Chorus of A", -1),
        (BOOK, (NextSong, Next, KeyUp, NextSong), "between sets", 0),
        (BOOK, (NextSong, Next, KeyUp, NextSong, Back), "Chorus of B", 1),
        (BOOK, (NextSong, NextSong, NextSong, KeyUp, NextSong, Back), "Chorus of C", 1),
    ],
)
def test_the_bands_key_belongs_to_its_song(
    book: Book, kinds: tuple[type[PlainEvent], ...], place: str, shift: int
) -> None:
    state = after(book, *kinds)
    assert (place_text(state), state.shift) == (place, shift)


def test_going_back_into_a_song_restores_its_tuning_and_sound() -> None:
    state = after(BOOK, Next, KeyDown, *INTO_B[1:])
    back, effects = step(state, Back(at_ms=9_000))
    assert (place_text(back), on(back)) == ("Chorus of A", "strings")
    assert [one.semitones for one in effects if isinstance(one, Tune)] == [-1]
    _, effects = step(back, Next(at_ms=9_500))
    assert [one.semitones for one in effects if isinstance(one, Tune)] == [0]


def test_a_song_called_again_keeps_the_key_that_the_band_played_it_in() -> None:
    state = replay(BOOK, (Next(1), KeyDown(2), NextSong(3), Next(4), Call(5, song=0)))
    assert (place_text(state), state.shift) == ("A up next", -1)
    assert replay(BOOK, (Next(1), KeyDown(2), Call(3, song=0))).shift == -1


def test_a_tapped_tempo_belongs_to_its_song() -> None:
    tapped = replay(BOOK, (Next(1), Tap(1_000), Tap(1_500), Tap(2_000)))
    assert tempo_due(tapped) == pytest.approx(120)
    assert tempo_due(then(tapped, NextSong)) is None
    assert tempo_due(then(tapped, NextSong, Back)) == pytest.approx(120)


@pytest.mark.parametrize(
    ("book", "kinds", "place"),
    [
        (BOOK, (Next, LeaveOut, Next, Back), "Intro of A"),  # the Verse is left out
        (BOOK, (Next, Next, LeaveOut, Next), "B up next"),
        (BOOK, (Next, Next, LeaveOut, Next, Back), "Verse of A"),  # the Chorus is
        (BOOK, (Next, LeaveOut, LeaveOut, Next, Back), "Intro of A"),
        (BOOK, (Next, LeaveOut, LeaveOut, Next, Back, Back), "A up next"),
        (BOOK, (Next, LeaveOut, Next, Next, Back, Back), "Intro of A"),
        (BOOK, (Next, LeaveOut, Next, Next, Next, Back, Back, Back), "Intro of A"),
        (RUNS_ON, (Next, Next, LeaveOut, Next, Back), "Verse of A"),
        (BOOK, (NextSong, Next, LeaveOut, LeaveOut, Next, Back), "Intro of B"),  # from between sets
        (BOOK, (NextSong, NextSong, Next, Next, LeaveOut, LeaveOut, Next, Back), "Intro of C"),  # from the end
        (BOOK, (Next, LeaveOut, Back, Next, Next), "Chorus of A"),  # up next and begun, still this time
        (BOOK, (Next, LeaveOut, StartOver, Next), "Verse of A"),  # another time
        (BOOK, (Next, LeaveOut, Next, Next, PreviousSong, Next, Next), "Verse of A"),
        (BOOK, (Next, LeaveOut, PreviousSong, Next, Next), "Verse of A"),  # the first song, announced again
    ],
)
def test_back_skips_left_out_sections(book: Book, kinds: tuple[type[PlainEvent], ...], place: str) -> None:
    assert place_text(after(book, *kinds)) == place


def test_a_song_called_again_while_it_plays_has_all_its_sections() -> None:
    again = replay(BOOK, (Next(1), Next(2), LeaveOut(3), Call(4, song=0)))
    assert place_text(then(again, Next, Next, Next)) == "Chorus of A"
    assert place_text(then(again, Back)) == "Verse of A"


def test_take_back_restores_changes_in_earlier_songs() -> None:
    state = after(BOOK, Next, KeyDown, NextSong)
    back = then(state, Back)
    assert then(back, TakeBack) == state
    assert then(back, KeyDown, NextSong, TakeBack, TakeBack) == back


def test_an_edit_keeps_what_was_changed_in_earlier_songs() -> None:
    state = replay(BOOK, (Next(1), KeyDown(2), Next(3), LeaveOut(4), Next(5), Next(6)))
    assert place_text(state) == "Intro of B"
    edited = book_of([C, song("A", "Intro, Verse, Bridge, Chorus"), B])
    back = then(carried_over(state, edited), Back, Back)
    assert (place_text(back), back.shift) == ("Bridge of A", -1)
    gone = then(carried_over(state, book_of([C, B])), Back, Back)
    assert (place_text(gone), gone.shift) == ("Chorus of C", 0)


WITHIN_A_SONG = st.sampled_from([Next, Back, Skip, LeaveOut, Again, KeyUp, KeyDown, Drop])


@given(BOOKS, _EVENTS, st.lists(WITHIN_A_SONG, max_size=30))
def test_back_never_stops_in_a_left_out_section_and_reaches_the_start(
    book: Book, events: tuple[PlainEvent, ...], kinds: list[type[PlainEvent]]
) -> None:
    state = then(replay(book, [one for one in events if not isinstance(one, TakeItOut)]), *kinds)
    for _ in range(200):
        before, state = state, then(state, Back)
        if state == before:
            break
        if state.place.where is PositionKind.PLAYING and state.place.section != before.place.section:
            assert state.place.section not in state.left_out
    assert state.place.where in (PositionKind.UP_NEXT, PositionKind.END)
