"""What else to write to a show file when a song's key changes, so that its letters stay right."""

import msgspec

from companion.files import Items, Node, Reading, Table, Text
from companion.music import Key
from companion.show.chords import written_while_in
from companion.show.model import Song
from companion.show.roadmap import cut
from companion.show.songbook import CHORDS_IN, KEY, ROAD_MAP

Within = tuple[str | int, ...]
"""Keys and places in lists (from 0), from the song's own table."""


def beside_the_key(song: Song, new: Key, table: Node) -> dict[Within, str]:
    """Return what to write to a song's table beside its new key: ``chords_in`` and the keys of its sections.

    Empty if the road map comes from a songbook: that one belongs to the songbook's key, whatever the show's key is.
    """
    if song.key is None or not isinstance(table, Table) or ROAD_MAP not in table.entries:
        return {}
    moved = written_while_in(msgspec.structs.replace(song, key=new), song.key)
    changes: dict[Within, str] = {}
    if moved.chords_in != song.chords_in:
        changes[CHORDS_IN,] = str(moved.chords_in)
    places = _places(table.entries[ROAD_MAP][1])
    for place, before, after in zip(places, song.road_map, moved.road_map, strict=False):
        if before.key != after.key:
            changes[ROAD_MAP, place, KEY] = str(after.key)
    return changes


def _places(road_map: Node) -> list[int]:
    """Return each section's place in the list of a road map: one line in short form may hold several sections."""
    nodes = road_map.nodes if isinstance(road_map, Items) else []
    return [
        place for place, node in enumerate(nodes) for _ in (cut(node, Reading()) if isinstance(node, Text) else (node,))
    ]
