"""Ports opened through RtMidi alone (ALSA's sequencer, Core MIDI, Windows), and how to close them safely."""

import time
from collections.abc import Callable, Sequence
from typing import Any, Final

from companion.clock import now_ns
from companion.ports.driver_time import DriverTime
from companion.ports.outside import OnMessage, PortRefused
from companion.ports.show_clock import NS_PER_MS

_QUIET_NS: Final = 100 * NS_PER_MS
_ON_ITS_WAY_S: Final = 0.02  # a message that the driver's thread is delivering takes far less
_WAITS: Final = 15  # attempts; a port whose cable was pulled falls silent, one that sends a clock never does
_JUST_HEARD_NS: Final = 2000 * NS_PER_MS  # a port heard since the last scan is connected

_left_open: list[object] = []


class RtReceivePort:
    """A port that is open for input."""

    def __init__(self, port: Any, on_message: OnMessage) -> None:  # noqa: ANN401 - untyped
        self._port = port
        self._on_message: OnMessage | None = on_message
        self._last_ns = 0
        self._time = DriverTime()
        self.link: Callable[[], bool | None] = _cannot_tell
        self.closed: Callable[[], object] = _cannot_tell
        port.set_callback(self._call)

    def _call(self, event: tuple[Sequence[int], float], _: object) -> None:
        self._last_ns = now_ns()
        at_ns = self._time.arrived_ns(event[1], self._last_ns)
        if self._on_message is not None:
            self._on_message(event[0], at_ns)

    def holds(self) -> bool | None:
        """Return whether it is connected; None if the system cannot tell and nothing has just been heard."""
        link = self.link()
        if link is None and self._last_ns and now_ns() - self._last_ns < _JUST_HEARD_NS:
            return True
        return link

    def close(self) -> None:
        """Close it. If messages do not cease it stays open, ignored, until the process ends.

        RtMidi waits for the driver's thread with the interpreter's lock held, and that thread waits for the lock if a
        message has just arrived: a deadlock.
        """
        self._on_message = None
        self.closed()
        for _ in range(_WAITS):
            time.sleep(_ON_ITS_WAY_S)
            if now_ns() - self._last_ns >= _QUIET_NS:
                break
        if now_ns() - self._last_ns < _QUIET_NS:
            _left_open.append(self._port)
        else:
            self._port.delete()

    def abandon(self) -> None:
        """Ignore all further messages."""
        self._on_message = None
        _left_open.append(self._port)


class RtSendPort:
    """A port that is open for output."""

    def __init__(self, port: Any) -> None:  # noqa: ANN401 - untyped
        self._port = port
        self.link: Callable[[], bool | None] = _cannot_tell
        self.closed: Callable[[], object] = _cannot_tell

    def send(self, message: bytes) -> bool:
        """Pass it to the driver, which keeps it until the cable has taken it."""
        try:
            self._port.send_message(message)
        except Exception as refusal:  # whatever error the binding raises, this port takes nothing
            raise PortRefused(str(refusal)) from refusal
        return True

    def holds(self) -> bool | None:
        """Return whether it is connected; None if the system cannot tell."""
        return self.link()

    def close(self) -> None:
        """Close it."""
        self.closed()
        self._port.delete()

    def abandon(self) -> None:
        """Abandon it."""
        _left_open.append(self._port)


def _cannot_tell() -> None:
    """Return None: the system cannot tell."""
