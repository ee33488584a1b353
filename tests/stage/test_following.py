"""The drummer's clock: its tempo by the middle of its gaps, and bars counted by it, by the tempo, and by it again."""

import pytest
from msgspec.structs import replace

from companion.music import Meter
from companion.stage.following import Count, Followed, bar_ticks, bars_over, counted, due_ms, is_lost, tick_ms_of

FOUR = Meter(4, 4)
TICK_NS = 20_833_333  # 120 quarters a minute: 60000 / 120 / 24 ms (MIDI 1.0, System Real Time Messages)
TICK_MS = TICK_NS / 1e6


def ticked(ticks: int, at_ms: float, started: int | None = None) -> Followed:
    return Followed(ticks, at_ms, TICK_MS, started)


def at(count: Count | None, followed: Followed | None, at_ms: float, *, is_first: bool = False) -> Count:
    return counted(count, 0, followed=followed, at_ms=at_ms, meter=FOUR, bar_ms=2500.0, is_first=is_first)


@pytest.mark.parametrize(
    ("gaps", "expected"),
    [
        ([TICK_NS] * 48, TICK_MS),
        ([TICK_NS] * 40 + [9 * TICK_NS] + [TICK_NS // 9] * 7, TICK_MS),  # a stall, and a burst after it
        ([TICK_NS] * 30 + [2 * TICK_NS] * 4, TICK_MS),  # some are lost
        ([TICK_NS] * 11, None),
        ([1000] * 48, None),  # no tempo that music has
    ],
)
def test_the_tempo_is_the_middle_of_the_gaps(gaps: list[int], expected: float | None) -> None:
    times = [sum(gaps[:number]) for number in range(len(gaps) + 1)]
    assert tick_ms_of(times) == (None if expected is None else pytest.approx(expected))


@pytest.mark.parametrize(("meter", "ticks"), [((4, 4), 96), ((3, 4), 72), ((6, 8), 72), ((7, 8), 84)])
def test_a_bar_has_24_ticks_per_quarter_note(meter: tuple[int, int], ticks: int) -> None:
    assert bar_ticks(Meter(*meter)) == ticks


def test_bars_follow_the_incoming_clock_rather_than_the_songs_tempo() -> None:
    count = at(None, ticked(500, 0), 0)
    followed = ticked(500 + 96 * 3, 6000)
    count = at(count, followed, 6000)
    assert bars_over(count, followed, 6000, FOUR, 2500) == pytest.approx(3)
    assert due_ms(count, 4, followed=followed, at_ms=6000, meter=FOUR, bar_ms=2500) == pytest.approx(8000)


def test_the_songs_tempo_takes_over_when_the_ticks_stop_and_hands_back_when_they_resume() -> None:
    count = at(None, ticked(0, 0), 0)
    last = ticked(192, 4000)
    assert is_lost(last, 4600)
    count = at(count, last, 4600)
    assert bars_over(count, last, 6500, FOUR, 2500) == pytest.approx(2 + 1)
    back = ticked(193, 6500)
    count = at(count, back, 6500)
    later = ticked(193 + 96, 8500)
    assert bars_over(at(count, later, 8500), later, 8500, FOUR, 2500) == pytest.approx(4)


def test_a_press_restarts_the_count() -> None:
    count = at(None, ticked(0, 0), 0)
    followed = ticked(150, 3125)
    again = counted(count, 3100, followed=followed, at_ms=3130, meter=FOUR, bar_ms=None)
    assert bars_over(again, followed, 3130, FOUR, None) == pytest.approx(25 / TICK_MS / 96)


def test_a_press_long_after_the_clock_stopped_does_not_count_by_it() -> None:
    stopped = ticked(192, 0)
    count = counted(None, 9000, followed=stopped, at_ms=9000, meter=FOUR, bar_ms=2500.0)
    assert count.tick is None
    assert bars_over(count, stopped, 9000 + 2500, FOUR, 2500.0) == pytest.approx(1)


def test_midi_start_restarts_the_count_only_in_the_first_section() -> None:
    count = at(None, ticked(10, 0), 0)
    followed = ticked(25, 300, started=20)
    first = at(count, followed, 300, is_first=True)
    assert bars_over(first, followed, 300, FOUR, None) == pytest.approx(4 / 96), "the tick after Start is the downbeat"
    other = at(count, followed, 300)
    assert bars_over(other, followed, 300, FOUR, None) == pytest.approx(15 / 96)


def test_without_clock_and_tempo_nothing_is_counted() -> None:
    count = at(None, None, 0)
    assert bars_over(count, None, 5000, FOUR, None) is None
    assert bars_over(count, None, 5000, FOUR, 2500) == pytest.approx(2)


def test_when_the_clock_stops_the_count_continues_without_a_jump() -> None:
    count = at(None, ticked(0, 0), 0)
    stopped = replace(ticked(192, 4000), stopped=True)
    assert is_lost(stopped, 4001)
    count = at(count, stopped, 4001)
    assert bars_over(count, stopped, 4001, FOUR, 1000) == pytest.approx(2, abs=0.01)
