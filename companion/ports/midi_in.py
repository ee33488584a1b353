"""MIDI input: everything received at a port goes into the inbox, so the driver's thread returns at once."""

from collections.abc import Sequence
from typing import Final

from companion.clock import now_ns
from companion.ports.arrivals import ArrivalInbox, MidiReceived
from companion.ports.clock_in import CONTINUE, START, STOP, TICK, TIME_CODE, ClockIn
from companion.ports.tokens import Splitter, is_whole

_TIME: Final = frozenset((TICK, START, CONTINUE, STOP, TIME_CODE))


class InPort:
    """One open port of the system. It passes messages on, once for each word, from ``hear`` to ``stop_hearing``."""

    def __init__(self, inbox: ArrivalInbox, clock: ClockIn | None = None) -> None:
        """``inbox`` receives every message except clock, which ``clock`` counts."""
        self._inbox = inbox
        self._clock = clock
        self._words: tuple[str, ...] = ()
        self._splitter = Splitter()

    def hear(self, words: tuple[str, ...]) -> None:
        """Pass on messages from now on, once for each of these words of the rig."""
        self._words = words

    def stop_hearing(self) -> None:
        """Pass nothing on any more, not even messages already on their way."""
        self._words = ()

    def receive(self, data: Sequence[int], at_ns: int | None = None) -> None:
        """Handle the driver's bytes: nearly always a whole message, else a fragment to be assembled here."""
        at_ns = now_ns() if at_ns is None else at_ns
        message = bytes(data)
        words = self._words
        for one in self._splitter.whole(message) if is_whole(message) else self._splitter.feed(message):
            if one[0] in _TIME:
                if self._clock is not None and self._clock.word in words:
                    self._clock.receive(one[0], at_ns)
                continue
            for word in words:
                self._inbox.put(MidiReceived(word, one, at_ns))
