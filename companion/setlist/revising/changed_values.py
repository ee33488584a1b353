"""Write what a revision changes in songs and sets that stay into the show file."""

from collections.abc import Sequence
from typing import Any, Final

import msgspec

from companion.edits import CannotArrange, Edit, SetValue, applied, names_in
from companion.edits.key_edits import edits_beside_key
from companion.edits.song_values import plain_value, set_named
from companion.files import SourceFile, Table, parse
from companion.setlist.revising.revision import Revision
from companion.setlist.revising.song_merge import TAKEN_FROM_LIST
from companion.show.show_file import SET, SONG, show_in
from companion.show.songbook import ROAD_MAP

FIELDS: Final = ("title", "chords_in", *TAKEN_FROM_LIST, "chart", "segue", "notes")  # a list may change them


def with_changes(text: str, revision: Revision, path: str) -> str:
    """Write the list's changes into the moved lines, and check that the result is the revised show."""
    source = SourceFile(path, text)
    now, root, names = show_in(source).show, parse(source, []), names_in(text, path)
    edits: list[Edit] = []
    keys = {field.name: key for key, field in SONG.fields.items()}
    titles: list[Edit] = []
    set_names: list[Edit] = []
    for set_at, one in enumerate(revision.show.sets):
        for song_at, song in enumerate(one.songs):
            before, name = now.sets[set_at].songs[song_at], names[set_at][song_at]
            node = _song_node(root, set_at, song_at)
            written: list[SetValue] = []
            for field in _fields_of(node):
                value = getattr(song, field)
                if value != getattr(before, field) and value is not None:
                    edit = SetValue((name, keys[field]), plain_value(field, value))
                    if field == "title":
                        titles.append(edit)
                    else:
                        written.append(edit)
            edits += written
            if song.key:
                beside = edits_beside_key(name, before, msgspec.structs.replace(before, key=song.key), node)
                edits += [one for one in beside if one.where not in [other.where for other in written]]
        if one.name != now.sets[set_at].name:
            set_names.append(SetValue((set_named(now, set_at), "set"), one.name))
        for field in ("starts_min", "minutes"):
            value = getattr(one, field)
            if value is not None and value != getattr(now.sets[set_at], field):
                key = next(key for key, known in SET.fields.items() if known.name == field)
                edits.append(SetValue((set_named(now, set_at), key), plain_value(field, value)))
    for key in ("band", "date", "venue", "notes"):  # fields named alike in the file
        value = getattr(revision.show, key)
        if value is not None and value != getattr(now, key):
            edits.append(SetValue((key,), value))
    after = applied(text, [*edits, *reversed(titles), *reversed(set_names)], path)
    if show_in(SourceFile(path, after)).show != revision.show:
        raise CannotArrange(f"{path} would differ from the revised show")
    return after


def _song_node(root: Any, set_at: int, song_at: int) -> Any:  # noqa: ANN401  a table, or a bare title
    holder = root if "songs" in root.entries else root.entries["sets"][1].nodes[set_at]
    return holder.entries["songs"][1].nodes[song_at]


def _fields_of(node: Any) -> Sequence[str]:  # noqa: ANN401  same
    """Return the fields that a list may change; not ``chords_in`` where the chords are a songbook's."""
    has_own_chords = isinstance(node, Table) and ROAD_MAP in node.entries
    return FIELDS if has_own_chords else [field for field in FIELDS if field != "chords_in"]
