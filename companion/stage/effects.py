"""Effects: what must happen outside after a step, as plain data. Other rooms carry them out."""

import msgspec

from companion.changes import Change
from companion.rig import Sound


class SendSound(msgspec.Struct, frozen=True):
    """Put this sound on this keyboard (its number in the rig, from 0), at once or when hands lift."""

    keyboard: int
    sound: Sound
    when: Change = Change.AT_ONCE


class Tune(msgspec.Struct, frozen=True):
    """Transpose every keyboard of the rig by this many semitones, when hands lift: a note that sounds might bend."""

    semitones: int


class Clock(msgspec.Struct, frozen=True):
    """Set the MIDI clock, in quarter notes a minute (None: no clock).

    ``running``: a song is playing. ``from_the_top``: the song begins with this effect, its first beat is now.
    """

    quarter_bpm: float | None
    running: bool = False
    from_the_top: bool = False


class Notify(msgspec.Struct, frozen=True):
    """Show the player a short notice now."""

    words: str


class SilenceAll(msgspec.Struct, frozen=True):
    """Silence every instrument, now."""


Effect = SendSound | Tune | Clock | Notify | SilenceAll
