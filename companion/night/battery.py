"""Read the computer's battery once: ``python -m companion.night.battery`` prints the percent left, or nothing.

It is a short-lived process: the library that can read every system's battery would take 4 MiB all night.
"""

import sys

import psutil


def percent_left() -> int | None:
    """Return the percent left while the computer runs on battery; None while it is plugged in, or has no battery."""
    try:
        battery = psutil.sensors_battery()
    except (OSError, AttributeError, RuntimeError):
        return None  # this system does not report it
    return None if battery is None or battery.power_plugged else round(battery.percent)


if __name__ == "__main__":
    left = percent_left()
    sys.stdout.write("" if left is None else f"{left}\n")
