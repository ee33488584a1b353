"""A show that a list begins, with the songs that the songbooks beside it know taken from there."""

from collections.abc import Mapping
from pathlib import Path

import msgspec

from companion.edits import CannotArrange, NewText, no_file
from companion.setlist.imported import Imported, Proposal
from companion.setlist.revising.reordering import rearranged
from companion.setlist.revising.revision import KnownSong, Origin, Revision
from companion.setlist.revising.song_merge import merge
from companion.setlist.settling import SettledList
from companion.show import Show, Song
from companion.show.show_text import write_show


def new_show(settled: SettledList, target: Path, known: Mapping[str, KnownSong]) -> Proposal:
    """Return the show that a list begins, with what the songbooks beside it know."""
    listed = settled.listed
    show, text = listed.show, write_show(listed.show)
    if known:
        revision = _with_known_songs(show, known)
        try:
            text, show = rearranged(text, show, revision, str(target)).text, revision.show
        except CannotArrange:
            known = {}
    imported = Imported(listed, show, str(target), answered_before=len(settled.kept), known=tuple(known))
    return Proposal(imported, (NewText(no_file(target), text),))


def _with_known_songs(show: Show, known: Mapping[str, KnownSong]) -> Revision:
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
