"""A set while its songs are read."""

import msgspec

from companion.setlist.model import Doubt
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.set_names_made import name_at
from companion.setlist.tidy import cut, one_line
from companion.show import Set
from companion.show.titles import folded


class SetDraft:
    """A set while its songs are read."""

    def __init__(self, name: str, starts_min: int | None = None, minutes: int | None = None) -> None:
        self.name = name
        self.starts_min = starts_min
        self.minutes = minutes
        self.songs: list[Draft] = []

    def sort_by_number(self) -> bool:
        """Sort the songs if they have all numbers of a row, in another order; return whether anything moved."""
        numbers = [draft.number for draft in self.songs if draft.number is not None]
        first = min(numbers, default=0)
        in_order = [*range(first, first + len(self.songs))]
        if sorted(numbers) != in_order or numbers == in_order:
            return False
        self.songs.sort(key=lambda draft: draft.number or 0)
        return True

    def as_set(self, index: int) -> Set:
        """Return the set; ``index``, from 0, names one that has no name."""
        songs = []
        for at, draft in enumerate(self.songs):
            song = draft.song()
            following = self.songs[at + 1].title if at + 1 < len(self.songs) else None
            if draft.segue and following and folded(following) != folded(song.title):
                song = msgspec.structs.replace(song, segue=cut(one_line(following), 200))
            elif draft.segue:
                draft.doubts.append(Doubt("segue, but nothing follows in this set: kept in the notes"))
                song = msgspec.structs.replace(song, notes="; ".join(filter(None, (song.notes, "segue"))))
            songs.append(song)
        return Set(cut(one_line(self.name or name_at(index)), 80), self.starts_min, self.minutes, tuple(songs))
