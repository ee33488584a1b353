"""Put a show file's songs into their new order, each with its own lines, and write the list's changes into them."""

import msgspec

from companion.edits import ArrangedSet, arranged, names_in
from companion.edits.song_values import set_named, song_lines, song_value
from companion.setlist.revising.changed_values import with_changes
from companion.setlist.revising.revision import Revision
from companion.show import Show
from companion.show.show_text import write_show
from companion.show.songbook import USE


class Rearranged(msgspec.Struct, frozen=True):
    """The show file's new text, and each dropped song's title and lines, unindented from its dash on."""

    text: str
    dropped: tuple[tuple[str, list[str]], ...]


def rearranged(text: str, old: Show, revision: Revision, path: str) -> Rearranged:
    """Return the show file's text in the new order, with the list's changes. Raises CannotArrange.

    The result is read back and compared with the revised show.
    """
    names = names_in(text, path)
    order = []
    for set_at, source in enumerate(revision.sets_from):
        one = revision.show.sets[set_at]
        continues = None if source is None else set_named(old, source)
        songs: list[object] = []
        for origin, song in zip(revision.origins[set_at], one.songs, strict=True):
            if origin is None:
                songs.append(song_value(song))
            elif origin.use:
                songs.append({USE: origin.use})
            else:
                songs.append(names[origin.set_at][origin.song_at])
        order.append(ArrangedSet(continues, tuple(songs), one.name))
    moved = arranged(text, tuple(order), path)
    titles = {names[at][index]: old.sets[at].songs[index].title for at, index in revision.dropped}
    dropped = tuple((titles[name], list(lines)) for name, lines in moved.dropped)
    return Rearranged(with_changes(moved.text, revision, path), dropped)


def written(old: Show, revision: Revision) -> Rearranged:
    """Return the revised show as new text, without the old file's comments."""
    gone = [old.sets[at].songs[index] for at, index in revision.dropped]
    return Rearranged(write_show(revision.show), tuple((song.title, song_lines(song)) for song in gone))
