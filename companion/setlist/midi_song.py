"""Import a song from a MIDI file into a show: add the song, or fill in what it lacks."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import (
    AddSong,
    Edit,
    NewText,
    SetNamed,
    SetValue,
    applied,
    commit,
    names_in,
    no_file,
    open_text,
    save,
)
from companion.edits.song_values import song_value
from companion.files import SourceFile
from companion.how_many import how_many
from companion.setlist.readers.midi_file import MidiSong, as_show, read_midi_file
from companion.setlist.revising.matching import match
from companion.show.show_file import SONG, show_in
from companion.show.show_text import write_show

FILLED: Final = ("key", "tempo_bpm", "meter", "first_words", "road_map")


class MidiImported(msgspec.Struct, frozen=True):
    """The result of a MIDI import: what the file holds, what the show gets, and where the show differs.

    ``is_new``: the show file did not exist.
    """

    found: MidiSong
    show_path: str
    gets: tuple[str, ...] = ()
    otherwise: tuple[str, ...] = ()
    is_new: bool = False
    is_written: bool = False


def import_midi(
    midi_path: str | os.PathLike[str],
    show_path: str | os.PathLike[str],
    agree: Callable[[MidiImported], bool] = lambda imported: True,  # noqa: ARG005  always yes
) -> MidiImported:
    """Import a MIDI file's song into a show. Everything that the player has written stays.

    ``agree`` is called before an existing file is changed. Raises FaultyFile, CompanionError.
    """
    found, target = read_midi_file(midi_path), Path(show_path)
    if not os.path.lexists(target):
        commit([NewText(no_file(target), write_show(as_show(found)))], "import")
        return MidiImported(found, str(target), is_new=True, is_written=True)
    file = open_text(target)
    edits, imported = _worked_out(found, file.text or "", target)
    if not edits or not agree(imported):
        return imported
    path = str(target)
    save(file, edits, f"import {Path(midi_path).name}", check=lambda text: show_in(SourceFile(path, text)))
    return msgspec.structs.replace(imported, is_written=True)


def _worked_out(found: MidiSong, text: str, target: Path) -> tuple[tuple[Edit, ...], MidiImported]:
    show = show_in(SourceFile(str(target), text)).show
    songs = [
        (song, name)
        for one, names in zip(show.sets, names_in(text), strict=True)
        for song, name in zip(one.songs, names, strict=True)
    ]
    same = match([song for song, _ in songs], [found.song])
    table = song_value(found.song)
    assert isinstance(table, dict)  # noqa: S101 - song_value returns a table
    if not same:
        notes = {"notes": "; ".join(found.remarks)} if found.remarks else {}
        last = show.sets[-1].name if show.sets else ""
        into = SetNamed(last, [one.name for one in show.sets].count(last)) if show.sets else None
        gets = (f"{found.song.title}: a new song, after the last one{f' of {last}' if last else ''}",)
        return (AddSong({**table, **notes}, into),), MidiImported(found, str(target), gets)
    song, name = songs[same[0].old]
    keys = {field.name: key for key, field in SONG.fields.items()}
    edits: list[Edit] = []
    gets_of, otherwise = [], []
    for field in FILLED:
        new, old = getattr(found.song, field), getattr(song, field)
        if not new or new == old:
            continue
        said = _said(field, new)
        if old:
            otherwise.append(f"{song.title}: {keys[field]} stays {_said(field, old)}; the MIDI file says {said}")
        else:
            edits.append(SetValue((name, keys[field]), table[keys[field]]))
            gets_of.append(f"{song.title}: {keys[field]} {said}")
    applied(text, edits, str(target))
    return tuple(edits), MidiImported(found, str(target), tuple(gets_of), tuple(otherwise))


def _said(field: str, value: object) -> str:
    if field == "road_map" and isinstance(value, tuple):
        return f"of {how_many(len(value), 'section')}"
    return f"{value:g}" if isinstance(value, float) else str(value)
