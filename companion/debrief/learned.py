"""Write what was learned into the show file: lengths, open sections and the order, keeping every comment in place."""

import difflib
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from companion.debrief.night_report import Learned
from companion.edits import (
    ArrangedSet,
    CannotArrange,
    Edit,
    EditClash,
    FileText,
    NewText,
    SectionNamed,
    SetNamed,
    SetValue,
    SongNamed,
    applied,
    arranged,
    commit,
    names_in,
    open_text,
    save,
)
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.music.tempo import shown_length
from companion.show import Song
from companion.show.show_file import show_in

SongName = tuple[str, int]
"""A song by its title and the number of its occurrence in the show, from 1."""

CANNOT_ORDER = "companion cannot write this order: move the songs yourself"


class Rewritten(msgspec.Struct, frozen=True):
    """The show file as it would be, a diff for the player, and what cannot be written automatically."""

    file: FileText
    after: str
    edits: tuple[Edit, ...] = ()
    order: tuple[ArrangedSet, ...] = ()
    left: tuple[str, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether there is anything to write."""
        return self.after != self.file.text

    @property
    def difference(self) -> str:
        """The diff: lines removed (-) and added (+)."""
        before, path = self.file.text or "", str(self.file.path)
        return "\n".join(difflib.unified_diff(before.splitlines(), self.after.splitlines(), path, path, lineterm=""))

    def write(self, ask: Callable[[EditClash], bool] | None = None) -> None:
        """Write it, keeping what another program saved since. Raises CompanionError.

        A new order is written only if the file still has the old one.
        """
        path = str(self.file.path)
        if not self.order:
            save(self.file, self.edits, "debrief", check=lambda text: show_in(SourceFile(path, text)), ask=ask)
            return
        now = open_text(self.file.path)
        if now.text == self.file.text:
            commit([NewText(now, self.after)], "debrief")
            return
        if names_in(now.text or "", path) != names_in(self.file.text or "", path):
            raise CompanionError(f"{path} has changed since, its order too. Nothing written: run the debrief again")
        saved = save(self.file, self.edits, "debrief", check=lambda text: show_in(SourceFile(path, text)), ask=ask)
        moved = open_text(self.file.path)
        commit([NewText(moved, arranged(saved.after, self.order, path).text)], "debrief: the order")


def rewritten(path: Path, learned: Learned, file: FileText | None = None) -> Rewritten:
    """Return the show file, or its text as read before, with what was learned; nothing is written.

    Raises CompanionError.
    """
    file = file or open_text(path)
    text = file.text or ""
    songs = songs_in(text, str(path))
    left: list[str] = []
    edits: list[Edit] = []
    for length in learned.lengths:
        found = songs.get((length.song, length.occurrence))
        if found is None:
            left.append(f"{length.song} is no longer in the show file")
        else:
            edits.append(SetValue((found[0], "length"), shown_length(length.now_s)))
    for section in learned.opened:
        found = songs.get((section.song, section.occurrence))
        edit = _opened(found, section.number, text) if found else None
        if edit is None:
            left.append(f"{section.song}, {section.section} is open: its road map is not in this file")
        else:
            edits.append(edit)
    after = applied(text, edits, str(path))
    order: tuple[ArrangedSet, ...] = ()
    if learned.order:
        try:
            order = _order_of(learned.order, songs, text, str(path))
            after = arranged(after, order, str(path)).text
        except CannotArrange:
            order = ()
            left.append(CANNOT_ORDER)
    return Rewritten(file, after, tuple(edits), order, tuple(left))


def songs_in(text: str, path: str) -> dict[SongName, tuple[SongNamed, Song]]:
    """Find each song of the file: its name there, and the song. Titles may come from a songbook."""
    titles: Counter[str] = Counter()
    found: dict[SongName, tuple[SongNamed, Song]] = {}
    for one, names in zip(show_in(SourceFile(path, text)).show.sets, names_in(text, path), strict=True):
        for song, name in zip(one.songs, names, strict=True):
            titles[song.title] += 1
            found[song.title, titles[song.title]] = (name, song)
    return found


def _opened(found: tuple[SongNamed, Song], number: int, text: str) -> Edit | None:
    """Return the edit that makes a section open; None if its road map is not in this file."""
    named, song = found
    if number >= len(song.road_map):
        return None
    name = song.road_map[number].name
    section = SectionNamed(name, [one.name for one in song.road_map[: number + 1]].count(name))
    edit = SetValue((named, "road_map", section, "open"), value=True)
    try:
        applied(text, [edit])
    except CompanionError:
        return None
    return edit


def _order_of(
    order: Sequence[Sequence[SongName]], songs: dict[SongName, tuple[SongNamed, Song]], text: str, path: str
) -> tuple[ArrangedSet, ...]:
    """Return the new order of the file's songs. Raises CannotArrange if the file has other songs."""
    show = show_in(SourceFile(path, text)).show
    if len(show.sets) != len(order) or sorted(songs) != sorted(one for songs_of in order for one in songs_of):
        raise CannotArrange(CANNOT_ORDER)
    names = [one.name for one in show.sets]
    return tuple(
        ArrangedSet(SetNamed(names[at], names[: at + 1].count(names[at])), tuple(songs[one][0] for one in songs_of))
        for at, songs_of in enumerate(order)
    )
