"""MIDI clock out: 24 ticks a quarter at deadlines that are counted from one moment, so that nothing adds up.

One thread sleeps until shortly before each tick and spins the rest: a plain sleep wakes as late as the system likes.
"""

import threading
from collections.abc import Callable, Sequence
from typing import Final, Protocol

from companion.clock import now_ns
from companion.ports.priority import Priority, ask_for_real_time
from companion.stage import Clock

TICKS_A_QUARTER: Final = 24  # MIDI 1.0, System Real Time Messages
TICK, START, STOP = b"\xf8", b"\xfa", b"\xfc"  # same
SPIN_NS: Final = 300_000  # the last of the wait; a thread with real-time priority wakes within less
SPIN_REAL_TIME_NS: Final = 60_000
MINUTE_NS: Final = 60_000_000_000


class Way(Protocol):
    """A way out to one port; never blocks, never raises."""

    def send(self, parcel: tuple[bytes, ...]) -> bool:
        """Send these now; False where the port is not there."""


class ClockOut:
    """The clock of the night. Any thread may tell it what to do; it has one of its own."""

    def __init__(self, ways: Sequence[Way], clock_ns: Callable[[], int] = now_ns) -> None:
        """Take the ways out to the keyboards that want a clock; with none, no thread is ever started."""
        self._ways = tuple(ways)
        self._clock_ns = clock_ns
        self._changed = threading.Condition()
        self._period_ns = 0.0  # of a tick; 0: silent
        self._anchor_ns = 0  # a tick that was, or will be, on time
        self._ticks = 0  # since the anchor
        self._runs = False
        self._over = False
        self._thread: threading.Thread | None = None

    def keep(self, clock: Clock) -> None:
        """Tick at this tempo from the next tick on; start and stop as a song begins and ends.

        Where a song begins, its first beat is now: its start goes out, and the ticks fall on it from here.
        """
        if not self._ways:
            return
        with self._changed:
            if self._runs and (clock.from_the_top or not clock.running):
                self._send(STOP)
            period_ns = MINUTE_NS / clock.quarter_bpm / TICKS_A_QUARTER if clock.quarter_bpm else 0.0
            if clock.from_the_top or not self._period_ns:
                self._anchor_ns, self._ticks = self._clock_ns(), 0
            elif period_ns != self._period_ns:
                self._anchor_ns, self._ticks = round(self._anchor_ns + (self._ticks - 1) * self._period_ns), 1
            self._period_ns = period_ns
            runs = clock.running and bool(period_ns)
            if runs and (clock.from_the_top or not self._runs):
                self._send(START)
            self._runs = runs
            if period_ns and self._thread is None:
                self._start_thread()
            self._changed.notify_all()

    def end(self) -> None:
        """Stop for good."""
        with self._changed:
            if self._runs:
                self._send(STOP)
            self._over, self._runs, self._period_ns = True, False, 0.0
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join(1)

    @property
    def is_silent(self) -> bool:
        """Tell whether no tick is to come."""
        return not self._period_ns

    def due_ns(self) -> float:
        """Tell when the next tick is due."""
        return self._anchor_ns + self._ticks * self._period_ns

    def tick(self, now: int) -> None:
        """Send the tick that is due. After a stall, or the computer's sleep, it goes on from now and makes up none."""
        self._send(TICK)
        if now - self.due_ns() > self._period_ns:
            self._anchor_ns, self._ticks = now, 0
        self._ticks += 1

    def _start_thread(self) -> None:
        self._thread = threading.Thread(target=self._tick_on, name="clock out", daemon=True)
        self._thread.start()

    def _tick_on(self) -> None:
        spin_ns = SPIN_REAL_TIME_NS if ask_for_real_time() is Priority.REAL_TIME else SPIN_NS
        while True:
            with self._changed:
                while not self._over:
                    if not self._period_ns:
                        self._changed.wait()
                        continue
                    left_ns = self.due_ns() - self._clock_ns()
                    if left_ns <= spin_ns:
                        break
                    self._changed.wait((left_ns - spin_ns) / 1e9)
                if self._over:
                    return
                due_ns = self.due_ns()
            while (now := self._clock_ns()) < due_ns:
                pass
            with self._changed:
                # Told otherwise in the last moment: look again.
                if self._period_ns and self.due_ns() <= now:
                    self.tick(now)

    def _send(self, message: bytes) -> None:
        for way in self._ways:
            way.send((message,))
