"""What comes to the night's one inbox besides MIDI and ports: keys, the screen's own life, the wish to stop."""

import msgspec


class KeyCame(msgspec.Struct, frozen=True):
    """A computer key went down or up; ``key`` is one of the rig's key names, ``text`` what it types, if anything."""

    key: str
    down: bool
    text: str | None = None


class ScreenReady(msgspec.Struct, frozen=True):
    """The screen has drawn its first picture."""


class ScreenGone(msgspec.Struct, frozen=True):
    """The screen's process has ended; ``why`` is its own last word, if it left one."""

    why: str = ""


class BatteryIs(msgspec.Struct, frozen=True):
    """What is left in the computer's battery, in percent; None while it is plugged in, or has none."""

    percent: int | None


class Stop(msgspec.Struct, frozen=True):
    """End the night in order."""

    because: str
