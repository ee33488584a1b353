"""The clock of the night: monotonic, so that nobody who sets the computer's time can move the show."""

import time

NS_PER_MS = 1_000_000

now_ns = time.perf_counter_ns
"""Nanoseconds since some point that never changes while the computer runs, the same for all its processes.

Not ``time.monotonic_ns``: on Windows, before Python 3.13, that one moves in steps of 16 ms. Both stand still while the
computer sleeps on Linux and macOS, and neither ever goes back.
"""


def ms_between(begin_ns: int, end_ns: int) -> int:
    """Whole milliseconds from one moment to another.

    >>> ms_between(1_000_000, 3_999_999)
    2
    """
    return (end_ns - begin_ns) // NS_PER_MS


def wall_time_s() -> float:
    """Seconds since 1970, by the computer's clock. Only for the journal's header: it may jump."""
    return time.time()
