"""Reading a set list typed as text, and telling what was read in one line."""

from companion.setlist import SetList
from companion.setlist.list_reading import list_in


def read(text: str) -> SetList:
    return list_in(text.encode(), "list.txt")


def said(found: SetList) -> str:
    """Return each set's name and its songs: First: Moth=C; Weeds | Second: Tidal=G."""
    return " | ".join(
        f"{one.name}: " + "; ".join(f"{song.title}={song.key}" if song.key else song.title for song in one.songs)
        for one in found.show.sets
    )
