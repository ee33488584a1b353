"""Write a tapped road map into the show file: bars and tempo change, all other work stays."""

import difflib
import os
from collections.abc import Callable, Sequence

import msgspec

from companion.edits import (
    Edit,
    EditClash,
    FileText,
    SectionNamed,
    SetValue,
    SongNamed,
    applied,
    names_in,
    open_text,
    save,
)
from companion.edits.song_values import song_value
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.listening.tapped_map import TappedMap
from companion.show import Section, Show, Song
from companion.show.show_file import show_in
from companion.show.songbook import ROAD_MAP


class MapWritten(msgspec.Struct, frozen=True):
    """The changed show file, with the difference as a player reads it."""

    file: FileText
    edits: tuple[Edit, ...]
    after: str

    @property
    def differs(self) -> bool:
        """Return whether there is anything to write."""
        return self.after != self.file.text

    @property
    def difference(self) -> str:
        """Return the removed (-) and added (+) lines."""
        before, path = self.file.text or "", str(self.file.path)
        lines = difflib.unified_diff(before.splitlines(), self.after.splitlines(), path, path, lineterm="", n=1)
        return "\n".join(lines)

    def write(self, ask: Callable[[EditClash], bool] | None = None) -> None:
        """Write the file, keeping changes that another program saved meanwhile. Raises CompanionError."""
        path = str(self.file.path)
        save(self.file, self.edits, "road map", check=lambda text: show_in(SourceFile(path, text)), ask=ask)


def with_map(show_path: str | os.PathLike[str], tapped: TappedMap) -> MapWritten:
    """Return the show file with a tapped map; nothing is written. Raises CompanionError."""
    file = open_text(show_path)
    text, path = file.text or "", str(file.path)
    show = show_in(SourceFile(path, text)).show
    named, song = _song_at(show, text, path, tapped.song.title)
    edits: list[Edit] = []
    if tapped.tempo_bpm:
        tempo = tapped.tempo_bpm
        edits.append(SetValue((named, "tempo"), int(tempo) if tempo.is_integer() else tempo))
    edits += _of_sections(named, song, tapped.road_map, text)
    after = applied(text, edits, path)
    show_in(SourceFile(path, after))
    return MapWritten(file, tuple(edits), after)


def _of_sections(named: SongNamed, song: tuple[Section, ...], tapped: Sequence[Section], text: str) -> list[Edit]:
    """Return the edits for one road map: in an existing one only the bars change; otherwise a new one is added.

    One that is in a songbook gets its bars here, in the show, whose road map takes precedence.
    """
    if len(song) == len(tapped) and [one.name for one in song] == [one.name for one in tapped]:
        try:
            edits: list[Edit] = [
                SetValue((named, ROAD_MAP, _section_named(song, at), "bars"), now.bars)
                for at, (was, now) in enumerate(zip(song, tapped, strict=True))
                if now.bars is not None and now.bars != was.bars
            ]
            applied(text, edits)
        except CompanionError:  # its road map is in a songbook
            pass
        else:
            return edits
    return [SetValue((named, ROAD_MAP), song_value(Song("", road_map=tuple(tapped)))[ROAD_MAP])]


def _section_named(sections: Sequence[Section], at: int) -> SectionNamed:
    name = sections[at].name
    return SectionNamed(name, [one.name for one in sections[: at + 1]].count(name))


def _song_at(show: Show, text: str, path: str, title: str) -> tuple[SongNamed, tuple[Section, ...]]:
    """Return the first song with this title: its address in the file, and its sections."""
    for one, names in zip(show.sets, names_in(text, path), strict=True):
        for song, name in zip(one.songs, names, strict=True):
            if song.title == title:
                return name, song.road_map
    raise CompanionError(f"{path}: the song {title!r} is gone")
