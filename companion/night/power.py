"""The computer's battery: looked at now and then, in a thread of its own."""

import threading
from collections.abc import Callable

from .happenings import BatteryIs

LOOK_EVERY_S = 60.0


def watch_battery(tell: Callable[[BatteryIs], None], over: threading.Event) -> threading.Thread:
    """Tell the battery's percent while the computer runs on it, and None when it does not; end when ``over`` is set."""
    thread = threading.Thread(target=_watch, args=(tell, over), name="battery", daemon=True)
    thread.start()
    return thread


def _watch(tell: Callable[[BatteryIs], None], over: threading.Event) -> None:
    if over.wait(2.0):  # the first sound and the first picture come before
        return
    try:
        import psutil  # noqa: PLC0415 - in its own time
    except ImportError:
        return
    told: BatteryIs | None = None
    while not over.is_set():
        try:
            battery = psutil.sensors_battery()
        except (OSError, AttributeError, RuntimeError):
            return  # this system has no word on it
        now = BatteryIs(None if battery is None or battery.power_plugged else round(battery.percent))
        if now != told:
            told = now
            tell(now)
        if over.wait(LOOK_EVERY_S):
            return
