"""Edits of a player's file: an edit is data; text in, text out, and no other line changes."""

from companion.edits.addresses import EditPlace, SectionNamed, SetNamed, SongNamed, names_in
from companion.edits.applying import applied, applied_in_book, lines_of_song
from companion.edits.arranging import ArrangedSet, CannotArrange, arranged
from companion.edits.edit import AddSection, AddSet, AddSong, Edit, MoveSection, MoveSong, Remove, SetValue
from companion.edits.file_text import FileText
from companion.edits.pending import Appended
from companion.edits.rendering import OneLine
from companion.edits.saving import (
    ChangedOnDisk,
    Clashes,
    EditClash,
    NewText,
    Undo,
    commit,
    no_file,
    open_text,
    redo_of,
    save,
    take_back,
    undo_of,
)

__all__ = [
    "AddSection",
    "AddSet",
    "AddSong",
    "Appended",
    "ArrangedSet",
    "CannotArrange",
    "ChangedOnDisk",
    "Clashes",
    "Edit",
    "EditClash",
    "EditPlace",
    "FileText",
    "MoveSection",
    "MoveSong",
    "NewText",
    "OneLine",
    "Remove",
    "SectionNamed",
    "SetNamed",
    "SetValue",
    "SongNamed",
    "Undo",
    "applied",
    "applied_in_book",
    "arranged",
    "commit",
    "lines_of_song",
    "names_in",
    "no_file",
    "open_text",
    "redo_of",
    "save",
    "take_back",
    "undo_of",
]
