"""The computer's battery, checked now and then in a thread that blocks nothing."""

import threading
from collections.abc import Callable

from companion.child import python
from companion.night.happenings import BatteryIs
from companion.stopping import ON_ITS_OWN

LOOK_EVERY_S = 60.0
LONGEST_LOOK_S = 10.0


def watch_battery(report: Callable[[BatteryIs], None], over: threading.Event) -> threading.Thread:
    """Report the battery percent while the computer runs on battery, else None; end when ``over`` is set."""
    thread = threading.Thread(target=_watch, args=(report, over), name="battery", daemon=True)
    thread.start()
    return thread


def _watch(report: Callable[[BatteryIs], None], over: threading.Event) -> None:
    if over.wait(2.0):  # after the first sound and the first picture
        return
    before = BatteryIs(None)
    while not over.is_set():
        now = BatteryIs(look())
        if now != before:
            before = now
            report(now)
        if over.wait(LOOK_EVERY_S):
            return


def look() -> int | None:
    """Read once: the percent left while the computer runs on battery, else None. Never raises."""
    import subprocess

    command = python("companion.night.battery")
    try:
        done = subprocess.run(  # noqa: S603 - our own module, by the interpreter that runs us
            command, stdin=subprocess.DEVNULL, capture_output=True, timeout=LONGEST_LOOK_S, check=False, **ON_ITS_OWN
        )
        return int(done.stdout)
    except (OSError, ValueError, subprocess.TimeoutExpired):
        return None  # plugged in, or not reported
