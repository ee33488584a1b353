"""MIDI clock in: ticks are counted in the driver's own thread, so that 48 a second wake no other thread.

The driver's thread writes, the night's reads. Each accesses one value at a time; a race can misread the count by one
tick for a moment.
"""

from collections import deque
from typing import Final

from companion.ports.show_clock import NS_PER_MS
from companion.stage.following import TICKS_A_QUARTER, Followed, tick_ms_of

TICK, START, CONTINUE, STOP = 0xF8, 0xFA, 0xFB, 0xFC  # MIDI 1.0, Table V
TIME_CODE: Final = 0xF1  # a quarter frame: arrives at clock-like rates, and nothing uses it
KEPT: Final = 2 * TICKS_A_QUARTER + 1  # two quarters: a median of 48 gaps


class ClockIn:
    """The clock received at one port."""

    def __init__(self, word: str) -> None:
        """``word`` is the rig's word for the port that the clock comes from."""
        self.word = word
        self._ticks = 0
        self._times_ns: deque[int] = deque(maxlen=KEPT)
        self._stopped: tuple[int, int] | None = None  # ticks and time at Stop; many devices never send Start
        self._started: int | None = None

    def receive(self, status: int, at_ns: int) -> None:
        """Handle a real-time message; called in the driver's thread."""
        if status == TICK:
            self._times_ns.append(at_ns)
            self._ticks += 1
        elif status == START:
            self._started, self._stopped = self._ticks, None
        elif status == CONTINUE:
            self._stopped = None
        elif status == STOP and self._stopped is None:
            self._stopped = self._ticks, self._times_ns[-1] if self._times_ns else at_ns

    def followed(self, zero_ns: int) -> Followed | None:
        """Return the clock to follow, in ms since ``zero_ns``; None if none came in; after Stop, its state then."""
        times, stopped = tuple(self._times_ns.copy()), self._stopped
        tick_ms = tick_ms_of(times)
        if tick_ms is None:
            return None
        ticks, at_ns = stopped or (self._ticks, times[-1])
        return Followed(ticks, (at_ns - zero_ns) / NS_PER_MS, tick_ms, self._started, stopped is not None)
