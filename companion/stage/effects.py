"""What must happen outside after a step: told as facts here, done elsewhere."""

import msgspec

from companion.changes import Change
from companion.rig import Sound


class SendSound(msgspec.Struct, frozen=True):
    """This sound on this keyboard (its number in the rig, from 0), at once or when hands lift."""

    keyboard: int
    sound: Sound
    when: Change = Change.AT_ONCE


class Tune(msgspec.Struct, frozen=True):
    """Every keyboard of the rig so many semitones away from its own pitch, when hands lift: what sounds may bend."""

    semitones: int


class Clock(msgspec.Struct, frozen=True):
    """Keep time for the keyboards that want it: quarters a minute (None: be silent).

    ``running``: a song is playing. ``from_the_top``: it has just begun, and its first beat is now.
    """

    quarter_bpm: float | None
    running: bool = False
    from_the_top: bool = False


class Tell(msgspec.Struct, frozen=True):
    """Something that the player must know now, in a few words."""

    words: str


class SilenceAll(msgspec.Struct, frozen=True):
    """Every instrument silent, now."""


Effect = SendSound | Tune | Clock | Tell | SilenceAll
