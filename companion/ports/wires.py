"""Ports that are open through RtMidi alone (ALSA's sequencer, Core MIDI, Windows), and closed without harm."""

import time
from collections.abc import Callable, Sequence
from typing import Any, Final

from companion.clock import now_ns
from companion.ports.clock import NS_PER_MS
from companion.ports.driver_time import DriverTime
from companion.ports.outside import Came, PortRefused

_QUIET_NS: Final = 100 * NS_PER_MS
_ON_ITS_WAY_S: Final = 0.02  # a message that the driver's thread has begun to give us needs far less
_WAITS: Final = 15  # of these; a port whose cable was pulled falls silent, and one that sends a clock never does
_JUST_HEARD_NS: Final = 2000 * NS_PER_MS  # what was heard since the last look is connected

_left_open: list[object] = []


class RtEar:
    """A port that is open for hearing."""

    def __init__(self, port: Any, came: Came) -> None:  # noqa: ANN401 - untyped
        self._port = port
        self._came: Came | None = came
        self._last_ns = 0
        self._time = DriverTime()
        self.link: Callable[[], bool | None] = _cannot_tell
        self.closed: Callable[[], object] = _cannot_tell
        port.set_callback(self._call)

    def _call(self, event: tuple[Sequence[int], float], _: object) -> None:
        self._last_ns = now_ns()
        at_ns = self._time.arrived_ns(event[1], self._last_ns)
        if self._came is not None:
            self._came(event[0], at_ns)

    def holds(self) -> bool | None:
        """Tell whether it is connected; None where the system cannot tell, and nothing has just been heard."""
        told = self.link()
        if told is None and self._last_ns and now_ns() - self._last_ns < _JUST_HEARD_NS:
            return True
        return told

    def close(self) -> None:
        """Close it. Where messages do not cease it stays open, unheard, until the process ends.

        RtMidi waits for the driver's thread with the interpreter's lock held, and that thread waits for the lock when a
        message has just come: for ever.
        """
        self._came = None
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
        """Hear nothing more."""
        self._came = None
        _left_open.append(self._port)


class RtWire:
    """A port that is open for sending."""

    def __init__(self, port: Any) -> None:  # noqa: ANN401 - untyped
        self._port = port
        self.link: Callable[[], bool | None] = _cannot_tell
        self.closed: Callable[[], object] = _cannot_tell

    def send(self, message: bytes) -> bool:
        """Hand it to the driver, which keeps it until the cable has taken it."""
        try:
            self._port.send_message(message)
        except Exception as refusal:  # whatever the binding makes of it, this port takes nothing
            raise PortRefused(str(refusal)) from refusal
        return True

    def holds(self) -> bool | None:
        """Tell whether it is connected; None where the system cannot tell."""
        return self.link()

    def close(self) -> None:
        """Close it."""
        self.closed()
        self._port.delete()

    def abandon(self) -> None:
        """Leave it."""
        _left_open.append(self._port)


def _cannot_tell() -> None:
    """Tell nothing."""
