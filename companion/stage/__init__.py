"""The core: state, events, effects, pedal gestures. Pure: no clock, port, file or window is touched in this room."""

from .book import Book, BookSection, BookSong, Missed, make_book
from .effects import Effect, SendSound, SilenceAll
from .events import (
    EVENT_OF,
    Again,
    AllOff,
    AnyEvent,
    Back,
    Next,
    NextSong,
    PreviousSong,
    Skip,
    StartOver,
    TakeBack,
    TakeItOut,
)
from .gestures import (
    Ask,
    Feet,
    Moved,
    feet_of,
    key_moved,
    midi_came,
    next_hold_ms,
    port_appeared,
    switch_moved,
    time_passed,
    we_sent,
)
from .moves import next_place, runs_on
from .place import Landmark, Place, Where
from .resume import find_again, replay
from .state import State, at_start, called_for, landmark
from .step import sounds_due, step
from .surroundings import Surroundings

__all__ = [
    "EVENT_OF",
    "Again",
    "AllOff",
    "AnyEvent",
    "Ask",
    "Back",
    "Book",
    "BookSection",
    "BookSong",
    "Effect",
    "Feet",
    "Landmark",
    "Missed",
    "Moved",
    "Next",
    "NextSong",
    "Place",
    "PreviousSong",
    "SendSound",
    "SilenceAll",
    "Skip",
    "StartOver",
    "State",
    "Surroundings",
    "TakeBack",
    "TakeItOut",
    "Where",
    "at_start",
    "called_for",
    "feet_of",
    "find_again",
    "key_moved",
    "landmark",
    "make_book",
    "midi_came",
    "next_hold_ms",
    "next_place",
    "port_appeared",
    "replay",
    "runs_on",
    "sounds_due",
    "step",
    "switch_moved",
    "time_passed",
    "we_sent",
]
