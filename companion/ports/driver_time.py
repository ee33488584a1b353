"""When a message arrived by the driver's own clock: earlier than it was read if the program was held up.

RtMidi reports the seconds since the previous message, by the time stamps of ALSA, macOS or Windows. They are trusted
only while they agree with our clock, since some virtual ports send none, or arbitrary ones. JACK's count from messages
that RtMidi leaves out (RtMidi.cpp 5.0.0, jackProcessIn): there only our own clock is used.
"""

from typing import Final

from companion.clock import now_ns
from companion.ports.show_clock import NS_PER_MS

AGREES_NS: Final = 5 * NS_PER_MS  # Windows stamps in whole milliseconds, and a thread takes a while to wake
ENOUGH: Final = 4  # consecutive messages that agreed
LATEST_NS: Final = 500 * NS_PER_MS  # less than a hold; a larger delay has another cause, such as a closed lid
DRAINED_NS: Final = 1000 * NS_PER_MS  # after such a pause nothing is queued in a driver any more


class DriverTime:
    """The arrival time of each message at one port; messages must be passed in order."""

    def __init__(self) -> None:
        self._driver_ns = 0  # by the driver's clock, from the first message on
        self._apart_ns: int | None = None  # offset from the driver's clock to ours, by the promptest message
        self._agreed = 0
        self._is_late = False

    def arrived_ns(self, since_last_s: float, came_ns: int | None = None) -> int:
        """Return when a message arrived that was read now, or at ``came_ns``; never later than that.

        ``since_last_s`` is the driver's figure: seconds since the previous message.
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
