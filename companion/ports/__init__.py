"""The outside: MIDI in and out, ports that come and go, the clock, the journal file."""

from companion.ports.arrivals import (
    THE_ONE_THERE_IS,
    Arrival,
    Direction,
    MidiReceived,
    PortFound,
    PortLost,
    PortsAwaited,
)
from companion.ports.clock_in import ClockIn
from companion.ports.clock_out import ClockOut
from companion.ports.journal import Journal
from companion.ports.journal_lines import JOURNAL_VERSION, Header, JournalReading, NotAJournal, is_stale, read_journal
from companion.ports.journal_shelf import is_marked_ended, journals_on, new_name, shelf_of
from companion.ports.midi_out import OutPort, Parcel
from companion.ports.midi_system import open_system
from companion.ports.outside import Health, MidiSystem
from companion.ports.port_names import PortMatch, find, is_ours, why_not
from companion.ports.second_copy import AnotherCopy, SingleCopyLock
from companion.ports.show_clock import ms_between, wall_time_s
from companion.ports.thread_priority import Priority, ask_for_real_time
from companion.ports.tokens import Splitter, is_whole
from companion.ports.watch import PortWatch

__all__ = [
    "JOURNAL_VERSION",
    "THE_ONE_THERE_IS",
    "AnotherCopy",
    "Arrival",
    "ClockIn",
    "ClockOut",
    "Direction",
    "Header",
    "Health",
    "Journal",
    "JournalReading",
    "MidiReceived",
    "MidiSystem",
    "NotAJournal",
    "OutPort",
    "Parcel",
    "PortFound",
    "PortLost",
    "PortMatch",
    "PortWatch",
    "PortsAwaited",
    "Priority",
    "SingleCopyLock",
    "Splitter",
    "ask_for_real_time",
    "find",
    "is_marked_ended",
    "is_ours",
    "is_stale",
    "is_whole",
    "journals_on",
    "ms_between",
    "new_name",
    "open_system",
    "read_journal",
    "shelf_of",
    "wall_time_s",
    "why_not",
]
