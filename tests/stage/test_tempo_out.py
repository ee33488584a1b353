"""Time for arpeggiators and delays: the song's tempo as MIDI counts it, or as a foot taps it."""

from fractions import Fraction

import pytest
from msgspec.structs import replace
from stage.scenes import after, book_of, song

from companion.music import read_meter
from companion.show import Song
from companion.stage import Clock, Next, StartOver, State, TakeBack, Tap, at_start, clock_due, step, tempo_due


def at_tempo(title: str, bpm: float | None, meter: str | None = None) -> Song:
    return replace(song(title, "Intro, Verse"), tempo_bpm=bpm, meter=read_meter(meter) if meter else None)


BOOK = book_of([at_tempo("A", 120), at_tempo("B", 90)])


def clocks(state: State, *kinds: type[Next | StartOver | TakeBack]) -> list[Clock]:
    sent = []
    for number, kind in enumerate(kinds, 1):
        state, effects = step(state, kind(at_ms=number * 1000))
        sent += [effect for effect in effects if isinstance(effect, Clock)]
    return sent


def tapped(*taps_ms: int) -> State:
    state = after(BOOK, Next)
    for at_ms in taps_ms:
        state, _ = step(state, Tap(at_ms=10_000 + at_ms))
    return state


@pytest.mark.parametrize(
    ("bpm", "meter", "quarter_bpm"),
    [
        (112, "4/4", 112),
        (90, "3/4", 90),
        (54, "6/8", 81),  # Standard MIDI Files 1.0: 6/8 at dotted quarter = 54 is quarter = 81
        (72, "12/8", 108),
        (140, "7/8", 140),
        (100, None, 100),
    ],
)
def test_the_midi_clock_counts_quarter_notes_in_any_meter(bpm: float, meter: str | None, quarter_bpm: float) -> None:
    assert clock_due(at_start(book_of([at_tempo("A", bpm, meter)]))) == Clock(quarter_bpm)


def test_the_clock_ticks_from_up_next_and_starts_with_the_song() -> None:
    assert clock_due(at_start(BOOK)) == Clock(120)
    assert clocks(at_start(BOOK), Next) == [Clock(120, running=True, from_the_top=True)]


def test_the_next_song_brings_its_own_tempo_and_the_clock_stops_between() -> None:
    assert clocks(after(BOOK, Next, Next), Next, Next) == [Clock(90), Clock(90, running=True, from_the_top=True)]


def test_start_over_restarts_the_clock_but_a_new_section_does_not() -> None:
    assert clocks(after(BOOK, Next), Next, StartOver) == [Clock(120, running=True, from_the_top=True)]


def test_taking_back_a_section_leaves_the_clock_running() -> None:
    assert clocks(after(BOOK, Next, Next), TakeBack) == []


def test_a_song_without_a_tempo_is_silent() -> None:
    assert clock_due(at_start(book_of([at_tempo("A", None)]))) == Clock(None)


@pytest.mark.parametrize(
    ("taps_ms", "bpm"),
    [((0, 500, 1000, 1500), 120.0), ((0, 536, 1071, 1607), 112.01), ((0, 501), 119.76), ((0,), 120.0)],
)
def test_tapped_beats_set_the_songs_tempo(taps_ms: tuple[int, ...], bpm: float) -> None:
    """By the formula 60000 x (taps - 1) / (last - first); one tap alone says nothing."""
    assert tempo_due(tapped(*taps_ms)) == pytest.approx(bpm, abs=0.01)


def test_a_missed_beat_is_ignored() -> None:
    assert tempo_due(tapped(0, 500, 1000, 2000, 2500, 3000)) == pytest.approx(120, abs=0.01)


def test_a_pause_of_two_seconds_restarts_the_taps() -> None:
    assert tempo_due(tapped(0, 500, 1000, 5000, 5600, 6200)) == pytest.approx(100, abs=0.01)


def test_the_next_song_forgets_the_taps() -> None:
    state = tapped(0, 600, 1200)
    for at_ms in (20_000, 21_000):
        state, _ = step(state, Next(at_ms=at_ms))
    assert (tempo_due(state), state.taps_ms) == (90, ())


def test_taps_outside_the_range_of_tempos_are_ignored() -> None:
    assert tempo_due(tapped(0, 20, 40, 60)) == 120


def test_the_felt_beat_is_exact() -> None:
    assert read_meter("6/8").felt_beat == Fraction(3, 8)
