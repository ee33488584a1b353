"""The one clock of a night, for engine and screen alike: nobody can set it, and it counts the computer's sleep too."""

import sys
import time
from collections.abc import Callable


def _clock_ns() -> Callable[[], int]:
    """Choose the clock.

    Linux has one that counts sleep besides one that does not (clock_gettime(2), CLOCK_BOOTTIME). On macOS the raw one
    counts it, and no setting of the time reaches it (clock_gettime(3), CLOCK_MONOTONIC_RAW, from memory). On Windows
    the counter behind ``perf_counter`` counts it ("Acquiring high-resolution time stamps", Microsoft, from memory);
    the monotonic one moves in steps of 16 ms there before Python 3.13. A system that has none of these gives one that
    stands still in sleep.
    """
    which = getattr(time, "CLOCK_BOOTTIME", None)
    if which is None and sys.platform == "darwin":
        which = getattr(time, "CLOCK_MONOTONIC_RAW", None)
    if which is None:
        return time.perf_counter_ns
    try:
        time.clock_gettime_ns(which)
    except OSError:  # an old kernel, or a cage that forbids it
        return time.perf_counter_ns
    return lambda: time.clock_gettime_ns(which)


now_ns = _clock_ns()
"""Nanoseconds since some point that never changes while the computer runs, the same for all its processes."""
