"""Ask the system to run the foot's thread before all others, and go on without where it refuses."""

import enum
import os

REAL_TIME = 5  # below a JACK server's own 10 (jackd's default), so that the driver still comes first


class Priority(enum.Enum):
    """What the system granted."""

    REAL_TIME = "real time"
    AS_EVERYONE = "as everyone"


def ask_for_real_time() -> Priority:
    """Ask for the calling thread, which must never spin: nothing else runs on its core meanwhile. Never raises.

    Linux grants it to members of a group that may (often ``audio``). What this thread starts, threads and programs,
    does not inherit it. Elsewhere nothing is asked for: macOS and Windows decide by what the thread does.
    """
    policy, ask = getattr(os, "SCHED_FIFO", None), getattr(os, "sched_setscheduler", None)
    if policy is None or ask is None:
        return Priority.AS_EVERYONE
    try:
        ask(0, policy | getattr(os, "SCHED_RESET_ON_FORK", 0), os.sched_param(REAL_TIME))
    except OSError:
        return Priority.AS_EVERYONE
    return Priority.REAL_TIME
