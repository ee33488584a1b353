"""The MIDI clock: 24 ticks a quarter at deadlines that do not drift, and starts that fall on the beat."""

import itertools

import pytest

from companion.ports import ClockOut
from companion.stage import Clock

SECOND = 1_000_000_000


class Way:
    """A way out that remembers."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []

    def send(self, parcel: tuple[bytes, ...]) -> bool:
        self.sent += parcel
        return True


class Hand:
    """A clock moved by hand; the thread of the clock under test is never started."""

    def __init__(self) -> None:
        self.now = 0
        self.way = Way()
        self.out = ClockOut([self.way], lambda: self.now)
        self.out._start_thread = lambda: None  # type: ignore[method-assign]  # noqa: SLF001 - time is moved by hand here

    def keep(self, quarter_bpm: float | None, *, running: bool = True, from_the_top: bool = False) -> None:
        self.out.keep(Clock(quarter_bpm, running, from_the_top))

    def until(self, ns: int) -> list[float]:
        """Let time pass; return the times of the ticks, in ms."""
        ticks = []
        while self.out.due_ns() <= ns:
            self.now = round(self.out.due_ns())
            self.out.tick(self.now)
            ticks.append(self.now / 1e6)
        self.now = ns
        return ticks


@pytest.mark.parametrize(
    ("bpm", "gap_ms"),
    [(60, 41.667), (90, 27.778), (112, 22.321), (120, 20.833), (140, 17.857), (180, 13.889)],
)
def test_the_clock_sends_24_ticks_per_quarter(bpm: float, gap_ms: float) -> None:
    """MIDI 1.0, System Real Time Messages: ms between clocks = 60000 / bpm / 24."""
    hand = Hand()
    hand.keep(bpm, from_the_top=True)
    ticks = hand.until(SECOND)
    assert {round(b - a, 3) for a, b in itertools.pairwise(ticks)} <= {gap_ms, gap_ms - 0.001, gap_ms + 0.001}


def test_an_hour_at_174_bpm_drifts_by_no_tick() -> None:
    hand = Hand()
    hand.keep(174, from_the_top=True)
    ticks = hand.until(3600 * SECOND)
    assert len(ticks) == 174 * 24 * 60 + 1
    assert ticks[-1] == pytest.approx(3_600_000, abs=0.001)


def test_a_song_starts_with_its_first_tick_and_stops_at_its_end() -> None:
    """MIDI 1.0, System Real Time Messages: a sequence begins at the first clock after FA."""
    hand = Hand()
    hand.keep(120, running=False)
    hand.until(SECOND)
    hand.way.sent.clear()
    hand.keep(120, from_the_top=True)
    assert hand.way.sent == [b"\xfa"]
    assert hand.until(SECOND) == [1000.0]
    hand.keep(120, running=False)
    assert hand.way.sent[-2:] == [b"\xf8", b"\xfc"]


def test_starting_over_sends_stop_and_start() -> None:
    hand = Hand()
    hand.keep(120, from_the_top=True)
    hand.way.sent.clear()
    hand.keep(120, from_the_top=True)
    assert hand.way.sent == [b"\xfc", b"\xfa"]


def test_ticks_stay_even_while_the_tempo_changes() -> None:
    hand = Hand()
    hand.keep(120, from_the_top=True)
    before = hand.until(SECOND)
    hand.now += 5_000_000
    hand.keep(60)
    after = hand.until(2 * SECOND)
    assert after[0] - before[-1] == pytest.approx(41.667, abs=0.001)
    assert after[1] - after[0] == pytest.approx(41.667, abs=0.001)


def test_ticks_missed_in_a_stall_are_not_made_up() -> None:
    hand = Hand()
    hand.keep(120, from_the_top=True)
    hand.until(SECOND)
    hand.now = 60 * SECOND
    hand.way.sent.clear()
    hand.out.tick(hand.now)
    assert hand.way.sent == [b"\xf8"]
    assert hand.out.due_ns() == pytest.approx(60 * SECOND + 20.8333e6, abs=1e3)


def test_the_clock_is_silent_without_a_tempo() -> None:
    hand = Hand()
    hand.keep(120, from_the_top=True)
    hand.keep(None, running=False)
    assert hand.way.sent[-1] == b"\xfc"
    assert hand.out.is_silent


def test_the_end_of_the_night_stops_the_clock() -> None:
    hand = Hand()
    hand.keep(120, from_the_top=True)
    hand.out.end()
    assert hand.way.sent[-1] == b"\xfc"
