"""MIDI clock out: 24 ticks a quarter note, each due at a time counted from one anchor, so that errors never add up.

One thread sleeps until shortly before each tick and spins the rest: a plain sleep may wake late.
"""

import threading
from collections.abc import Callable, Sequence
from typing import Final, Protocol

from companion.clock import now_ns
from companion.ports.thread_priority import Priority, ask_for_real_time
from companion.stage import Clock

TICKS_A_QUARTER: Final = 24  # MIDI 1.0, System Real Time Messages
TICK, START, STOP = b"\xf8", b"\xfa", b"\xfc"  # same
SPIN_NS: Final = 300_000  # the part of the wait spent spinning; a thread with real-time priority wakes sooner than that
SPIN_REAL_TIME_NS: Final = 60_000
MINUTE_NS: Final = 60_000_000_000


class ClockPort(Protocol):
    """An output to one port; never blocks, never raises."""

    def send(self, parcel: tuple[bytes, ...]) -> bool:
        """Send these now; False if the port is missing."""


class ClockOut:
    """The clock of the night, in a separate thread. Its methods may be called from any thread."""

    def __init__(self, wires: Sequence[ClockPort], clock_ns: Callable[[], int] = now_ns) -> None:
        """``wires`` are the outputs to the keyboards that want a clock; without any, no thread is ever started."""
        self._wires = tuple(wires)
        self._clock_ns = clock_ns
        self._changed = threading.Condition()
        self._period_ns = 0.0  # of a tick; 0: silent
        self._anchor_ns = 0  # a tick that was on time, or will be
        self._ticks = 0  # since the anchor
        self._runs = False
        self._over = False
        self._thread: threading.Thread | None = None

    def keep(self, clock: Clock) -> None:
        """Tick at this tempo from the next tick on; send Start and Stop as a song begins and ends.

        Where a song begins, its first beat is now: Start goes out, and the ticks are counted from here.
        """
        if not self._wires:
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
        """Return whether no further tick is due."""
        return not self._period_ns

    def due_ns(self) -> float:
        """Return when the next tick is due."""
        return self._anchor_ns + self._ticks * self._period_ns

    def tick(self, now: int) -> None:
        """Send the tick that is due. After a stall or the computer's sleep, continue from now; make up no ticks."""
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
                # Changed at the last moment: look again.
                if self._period_ns and self.due_ns() <= now:
                    self.tick(now)

    def _send(self, message: bytes) -> None:
        for wire in self._wires:
            wire.send((message,))
