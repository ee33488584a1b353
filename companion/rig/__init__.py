"""The rig: its model, its file, which of its sounds a name means, and sounds to MIDI bytes."""

from typing import TYPE_CHECKING

from companion.files.folders import data_path
from companion.late import late
from companion.rig.choose import BUILT_IN, ChosenRig, choose_rig, last_rig, own_rig_text, remember_rig, rig_for
from companion.rig.computer_keys import KEY_NAMES
from companion.rig.midi_bytes import Pause, all_off, change_to, tune, volume
from companion.rig.model import (
    Action,
    BankMessage,
    HowTransposed,
    Keyboard,
    Numbering,
    Pedal,
    Rig,
    Screen,
    Sound,
    Sustain,
)
from companion.rig.resolve import SoundMissing, find_sound, find_sounds, keyboard_number, sounds_offered

if TYPE_CHECKING:
    from companion.rig.panel import to_panel, to_wire
    from companion.rig.rig_file import ReadRig, read_rig, rig_schema

__all__ = [
    "BUILT_IN",
    "KEY_NAMES",
    "Action",
    "BankMessage",
    "ChosenRig",
    "HowTransposed",
    "Keyboard",
    "Numbering",
    "Pause",
    "Pedal",
    "ReadRig",
    "Rig",
    "Screen",
    "Sound",
    "SoundMissing",
    "Sustain",
    "all_off",
    "change_to",
    "choose_rig",
    "data_path",
    "find_sound",
    "find_sounds",
    "keyboard_number",
    "last_rig",
    "own_rig_text",
    "read_rig",
    "remember_rig",
    "rig_for",
    "rig_schema",
    "sounds_offered",
    "to_panel",
    "to_wire",
    "tune",
    "volume",
]

# A night that starts from its saved reading needs none of these.
__getattr__ = late(__name__, ("panel", "rig_file"))
