"""Every change of a player's file: an edit is data; a text goes in, a text comes out, and no other line changes."""

from companion.edits.addresses import SectionNamed, SetNamed, SongNamed, Where, names_in
from companion.edits.applying import applied
from companion.edits.arranging import ArrangedSet, Arrangement, CannotArrange, arranged
from companion.edits.edit import AddSection, AddSet, AddSong, Edit, MoveSection, MoveSong, Remove, SetValue
from companion.edits.rendering import OneLine

__all__ = [
    "AddSection",
    "AddSet",
    "AddSong",
    "ArrangedSet",
    "Arrangement",
    "CannotArrange",
    "Edit",
    "MoveSection",
    "MoveSong",
    "OneLine",
    "Remove",
    "SectionNamed",
    "SetNamed",
    "SetValue",
    "SongNamed",
    "Where",
    "applied",
    "arranged",
    "names_in",
]
