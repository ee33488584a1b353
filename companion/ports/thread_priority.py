"""Ask the system for real-time priority for the foot's thread; continue without it if refused."""

import enum
import os

REAL_TIME = 5  # below a JACK server's own 10 (jackd's default), so that the driver still comes first


class Priority(enum.Enum):
    """What the system granted."""

    REAL_TIME = "real time"
    AS_EVERYONE = "as everyone"


def ask_for_real_time() -> Priority:
    """Raise the calling thread's priority; it must never spin: nothing else runs on its core meanwhile. Never raises.

    Linux grants it to members of a permitted group (often ``audio``). Threads and programs started from this one do not
    inherit it. Elsewhere nothing is requested: macOS and Windows decide by what the thread does.
    """
    policy, ask = getattr(os, "SCHED_FIFO", None), getattr(os, "sched_setscheduler", None)
    if policy is None or ask is None:
        return Priority.AS_EVERYONE
    try:
        ask(0, policy | getattr(os, "SCHED_RESET_ON_FORK", 0), os.sched_param(REAL_TIME))
    except OSError:
        return Priority.AS_EVERYONE
    return Priority.REAL_TIME
