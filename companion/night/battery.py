"""One look at the computer's battery: ``python -m companion.night.battery`` prints the percent left, or nothing.

It is a process of its own, for a moment: the library that knows every system's battery would take 4 MiB all night.
"""

import sys

import psutil


def percent_left() -> int | None:
    """Give what is left in percent while the computer runs on it; None while it is plugged in, or has none."""
    try:
        battery = psutil.sensors_battery()
    except (OSError, AttributeError, RuntimeError):
        return None  # this system has no word on it
    return None if battery is None or battery.power_plugged else round(battery.percent)


if __name__ == "__main__":
    left = percent_left()
    sys.stdout.write("" if left is None else f"{left}\n")
