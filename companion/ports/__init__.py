"""The outside: MIDI in and out, lost and found ports, the clock, the journal file."""

from companion.ports.arrivals import THE_ONE_THERE_IS, Arrival, Direction, Inbox, MidiCame, PortFound, PortLost
from companion.ports.clock import ms_between, now_ns, wall_time_s
from companion.ports.midi_out import OutPort, Parcel
from companion.ports.midi_system import open_system
from companion.ports.names import Match, find, is_ours, why_not
from companion.ports.outside import Health, MidiSystem
from companion.ports.priority import Priority, ask_for_real_time
from companion.ports.tokens import Splitter, is_whole
from companion.ports.watch import PortWatch

__all__ = [
    "THE_ONE_THERE_IS",
    "Arrival",
    "Direction",
    "Health",
    "Inbox",
    "Match",
    "MidiCame",
    "MidiSystem",
    "OutPort",
    "Parcel",
    "PortFound",
    "PortLost",
    "PortWatch",
    "Priority",
    "Splitter",
    "ask_for_real_time",
    "find",
    "is_ours",
    "is_whole",
    "ms_between",
    "now_ns",
    "open_system",
    "wall_time_s",
    "why_not",
]
