"""What a conversation before the doors outputs and receives: words, bytes, changes to files."""

import enum

import msgspec

from companion.night.happenings import KeyReceived, Stop
from companion.ports import MidiReceived, PortFound, PortLost, PortsAwaited
from companion.rig import Keyboard, Pause, Pedal, Sound, Sustain


class Say(msgspec.Struct, frozen=True):
    """Print this once; it scrolls away."""

    line: str


class Send(msgspec.Struct, frozen=True):
    """Send these to the port with this name in the rig. ``replace``: drop what still waits for the same channel."""

    port: str
    parcel: tuple[bytes | Pause, ...]
    replace: bool = False


class KeepLevel(msgspec.Struct, frozen=True):
    """Write this volume behind this sound of this keyboard in the rig file, where it still has the one ``before``.

    ``before`` is None if the file had none; left out, any present value is replaced.
    """

    board: Keyboard
    sound: Sound
    level: int
    before: int | msgspec.UnsetType | None = msgspec.UNSET


class KeepLevels(msgspec.Struct, frozen=True):
    """Write these volumes in the rig file, all of them or none."""

    levels: tuple[KeepLevel, ...]


class KeepSound(msgspec.Struct, frozen=True):
    """Write in the rig file what puts a sound on: program 0..127 and bank as they came, or a by-hand instruction.

    ``bank`` is what the keyboard sent of (MSB, LSB), None for a half that it did not send.
    """

    board: Keyboard
    name: str
    program: int | None = None
    bank: tuple[int | None, int | None] = (None, None)
    by_hand: str | None = None


class PedalSet(msgspec.Struct, frozen=True):
    """A pedal for the rig file; ``was`` is the one there that it replaces, None for a new one."""

    pedal: Pedal
    was: Pedal | None = None


class SustainSet(msgspec.Struct, frozen=True):
    """A sustain pedal for the rig file; ``was`` is its number there, from 0, None for a new one."""

    sustain: Sustain
    was: int | None = None


class KeepPedals(msgspec.Struct, frozen=True):
    """Write these pedals in the rig file, and remove those named in ``out``."""

    pedals: tuple[PedalSet, ...] = ()
    sustains: tuple[SustainSet, ...] = ()
    out: tuple[str, ...] = ()


class Remember(msgspec.Struct, frozen=True):
    """Keep the progress, so that it can continue later."""


TalkEffect = Say | Send | KeepLevels | KeepSound | KeepPedals | Remember


class LineTyped(msgspec.Struct, frozen=True):
    """A line was typed."""

    text: str


class NotKept(msgspec.Struct, frozen=True):
    """A change to a file could not be written. ``sound``: the name of the sound that it was about, "" if none."""

    why: str
    sound: str = ""


TalkInput = MidiReceived | PortFound | PortLost | PortsAwaited | KeyReceived | LineTyped | NotKept | Stop | None
"""An input; None: nothing came for a while."""


class TerminalRead(enum.Enum):
    """What the terminal reads next."""

    KEY = "a key"
    LINE = "a line"
    NOTHING = "nothing"
