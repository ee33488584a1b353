"""A new show, with the songs that the songbooks beside it know taken from there."""

from collections.abc import Mapping

import msgspec

from companion.setlist.revising.revision import KnownSong, Origin, Revision
from companion.setlist.revising.song_merge import merge
from companion.show import Show, Song


def with_known_songs(show: Show, known: Mapping[str, KnownSong]) -> Revision:
    """Return a new show whose songs come from the songbooks that know them, as a revision of that show itself."""
    sets, origins, dropped = [], [], []
    for at, one in enumerate(show.sets):
        songs: list[Song] = []
        row: list[Origin | None] = []
        for index, song in enumerate(one.songs):
            taken = known.get(song.title)
            songs.append(merge(taken.song, song, 100.0)[0] if taken else song)
            row.append(Origin(use=taken.use) if taken else Origin(at, index))
            if taken:
                dropped.append((at, index))
        sets.append(msgspec.structs.replace(one, songs=tuple(songs)))
        origins.append(tuple(row))
    after: Show = msgspec.structs.replace(show, sets=tuple(sets))
    return Revision(after, (), tuple(origins), tuple(range(len(sets))), tuple(dropped))
