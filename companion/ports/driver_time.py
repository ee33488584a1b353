"""When a message arrived by the driver's own clock: later than it came in, where the program was held up meanwhile.

RtMidi tells the seconds since the message before, by ALSA's, macOS's or Windows' own time stamp. That is believed only
where it has lately agreed with our clock, since some virtual ports stamp nothing or as they like. JACK's counts from
messages that RtMidi leaves out (RtMidi.cpp 5.0.0, jackProcessIn): there our own clock is all there is.
"""

from typing import Final

from companion.clock import now_ns
from companion.ports.clock import NS_PER_MS

AGREES_NS: Final = 5 * NS_PER_MS  # the stamps of Windows have whole milliseconds, and a thread takes a while to wake
ENOUGH: Final = 4  # messages in a row that agreed
LATEST_NS: Final = 500 * NS_PER_MS  # less than a hold; what claims to be later has another reason, as the lid closed
DRAINED_NS: Final = 1000 * NS_PER_MS  # after so long a pause nothing waits in a driver any more


class DriverTime:
    """The arrival of each message at one port, in the order in which they come."""

    def __init__(self) -> None:
        self._driver_ns = 0  # by the driver's clock, from the first message on
        self._apart_ns: int | None = None  # from the driver's clock to ours, as far as a prompt message tells
        self._agreed = 0
        self._is_late = False

    def arrived_ns(self, since_last_s: float, came_ns: int | None = None) -> int:
        """Return when a message arrived that came in now, or at ``came_ns``; never later than that.

        ``since_last_s`` is what the driver tells: seconds since the message before.
        """
        came = now_ns() if came_ns is None else came_ns
        since_ns = round(since_last_s * 1e9)
        self._driver_ns += since_ns
        apart_ns = came - self._driver_ns
        late_ns = 0 if self._apart_ns is None else apart_ns - self._apart_ns
        if abs(late_ns) <= AGREES_NS:
            self._agreed, self._is_late = self._agreed + 1, False
            self._apart_ns = apart_ns
            return came
        again = self._is_late and since_ns > DRAINED_NS
        if self._agreed >= ENOUGH and 0 < late_ns <= LATEST_NS and not again:
            self._is_late = True
            return came - late_ns
        self._agreed, self._is_late, self._apart_ns = 0, False, apart_ns
        return came
