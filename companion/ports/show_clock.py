"""The night's time, from the monotonic clock: setting the computer's clock does not affect the show."""

import time

NS_PER_MS = 1_000_000


def ms_between(begin_ns: int, end_ns: int) -> int:
    """Return the whole milliseconds from one moment to another.

    >>> ms_between(1_000_000, 3_999_999)
    2
    """
    return (end_ns - begin_ns) // NS_PER_MS


def wall_time_s() -> float:
    """Return seconds since 1970 by the computer's clock, which may jump: only for dates in journals and their names."""
    return time.time()
