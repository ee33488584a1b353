"""Levels: how far one nudge turns a sound up or down, by the volume control (controller 7)."""

from typing import Final

import msgspec

from companion.rig import Sound
from companion.rig.midi_bytes import LEFT_OUT, VOLUME

LOUDEST: Final = 127
SOFTEST: Final = 1  # silence would look like a lost sound
UNWRITTEN: Final = LEFT_OUT[VOLUME]
"""Used if the rig sets no volume."""

NUDGE_DB: Final = 1.5  # a little more than the least that is heard as another level, 1 dB (common practice, no source)
DB_A_DECADE: Final = 40.0  # dB = 40 log10(v / 127): General MIDI 1 Developer Guidelines, from memory


def nudged(level: int, steps: int) -> int:
    """Return the level after this many nudges (negative: softer), 1..127; each moves it by at least one.

    >>> nudged(100, 1), nudged(100, -1), nudged(1, 1), nudged(127, 1)
    (109, 92, 2, 127)
    """
    for _ in range(abs(steps)):
        exact = level * 10 ** ((NUDGE_DB if steps > 0 else -NUDGE_DB) / DB_A_DECADE)
        moved = round(exact)
        if moved == level:
            moved += 1 if steps > 0 else -1
        level = max(SOFTEST, min(LOUDEST, moved))
    return level


def level_of(sound: Sound) -> int | None:
    """Return the volume that the rig sets with this sound, 0..127, or None if it sets none."""
    return next((value for control, value in reversed(sound.controls) if control == VOLUME), None)


def at_level(sound: Sound, level: int | None) -> Sound:
    """Return the sound with this volume in place of its own; its own if there is none."""
    if level is None:
        return sound
    others = tuple((control, value) for control, value in sound.controls if control != VOLUME)
    return msgspec.structs.replace(sound, controls=(*others, (VOLUME, level)))
