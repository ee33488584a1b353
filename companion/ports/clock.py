"""The night's time: from the one clock that nobody can set, so that the computer's own cannot move the show."""

import time

NS_PER_MS = 1_000_000


def ms_between(begin_ns: int, end_ns: int) -> int:
    """Whole milliseconds from one moment to another.

    >>> ms_between(1_000_000, 3_999_999)
    2
    """
    return (end_ns - begin_ns) // NS_PER_MS


def wall_time_s() -> float:
    """Seconds since 1970, by the computer's clock. Only for the journal's header: it may jump."""
    return time.time()
