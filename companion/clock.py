"""The one clock of a night, for engine and screen: setting the time does not move it, and it runs on during sleep."""

import sys
import time
from collections.abc import Callable


def _clock_ns() -> Callable[[], int]:
    """Choose the clock.

    Linux: CLOCK_BOOTTIME counts sleep (clock_gettime(2)). macOS: CLOCK_MONOTONIC_RAW counts sleep and ignores changes
    of the time (clock_gettime(3), from memory). Windows: the counter behind ``perf_counter`` counts sleep ("Acquiring
    high-resolution time stamps", Microsoft, from memory); before Python 3.13 the monotonic clock moves in steps of
    16 ms there. On a system with none of these, the clock stands still during sleep.
    """
    which = getattr(time, "CLOCK_BOOTTIME", None)
    if which is None and sys.platform == "darwin":
        which = getattr(time, "CLOCK_MONOTONIC_RAW", None)
    if which is None:
        return time.perf_counter_ns
    try:
        time.clock_gettime_ns(which)
    except OSError:  # an old kernel, or a sandbox that forbids it
        return time.perf_counter_ns
    return lambda: time.clock_gettime_ns(which)


now_ns = _clock_ns()
"""Nanoseconds since a point that is fixed while the computer runs and the same for all its processes."""
