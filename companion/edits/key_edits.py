"""The edits that go with a song's new key, so that its letters and its notes stay right."""

from collections import Counter

from companion.edits.addresses import SectionNamed, SongNamed
from companion.edits.edit import SetValue
from companion.files import Node, Table
from companion.show import Song
from companion.show.chords import written_while_in
from companion.show.notes_in_key import notes_written_in
from companion.show.songbook import CHORDS_IN, KEY, NOTES, ROAD_MAP


def edits_beside_key(named: SongNamed, old: Song, new: Song, table: Node) -> tuple[SetValue, ...]:
    """Return what to write to a song beside its new key: ``chords_in``, the keys of its sections, and its notes.

    ``new``: the song with that key and nothing else changed; ``table``: the song as read from the file. A road map and
    notes from a songbook are left out: they belong to the songbook's key, whatever the show's key is.
    """
    if old.key is None or not isinstance(table, Table):
        return ()
    changes: list[SetValue] = []
    notes = notes_written_in(old.notes, old.key, new.key)
    if NOTES in table.entries and notes != old.notes:
        changes.append(SetValue((named, NOTES), notes, beside=(named, KEY)))
    if ROAD_MAP not in table.entries:
        return tuple(changes)
    moved = written_while_in(new, old.key)
    if moved.chords_in != old.chords_in:
        changes.append(SetValue((named, CHORDS_IN), str(moved.chords_in), beside=(named, KEY)))
    names: Counter[str] = Counter()
    for before, after in zip(old.road_map, moved.road_map, strict=True):
        names[before.name] += 1
        if before.key != after.key:
            place = named, ROAD_MAP, SectionNamed(before.name, names[before.name]), KEY
            changes.append(SetValue(place, str(after.key), beside=(named, KEY)))
    return tuple(changes)
