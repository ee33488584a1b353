"""Write the show file after an import: songs in their new order with their own lines and the list's changes."""

from collections.abc import Sequence
from typing import Any, Final

import msgspec

from companion.edits import ArrangedSet, CannotArrange, Edit, OneLine, SetNamed, SetValue, applied, arranged, names_in
from companion.files import Form, SourceFile, Table, parse
from companion.music import shown_length
from companion.setlist.revising.diff import Revision
from companion.setlist.revising.song_merge import TAKEN_FROM_LIST
from companion.show import Set, Show, Song
from companion.show.key_change import beside_the_key
from companion.show.show_file import SECTION, SET, SONG, show_in
from companion.show.show_text import SPECIAL, short_road_map, write_show
from companion.show.songbook import ROAD_MAP, USE

FIELDS: Final = ("title", "chords_in", *TAKEN_FROM_LIST, "chart", "segue", "notes")  # a list may change them


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
        songs: list[object] = []
        for origin, song in zip(revision.origins[set_at], one.songs, strict=True):
            if origin is None:
                songs.append(song_value(song))
            elif origin.use:
                songs.append({USE: origin.use})
            else:
                songs.append(names[origin.set_at][origin.song_at])
        order.append(ArrangedSet(None if source is None else _set_named(old, source), tuple(songs), one.name))
    moved = arranged(text, tuple(order), path)
    titles = {names[at][index]: old.sets[at].songs[index].title for at, index in revision.dropped}
    dropped = tuple((titles[name], list(lines)) for name, lines in moved.dropped)
    return Rearranged(_with_changes(moved.text, revision, path), dropped)


def written(old: Show, revision: Revision) -> Rearranged:
    """Return the revised show as new text, without the old file's comments."""
    gone = [old.sets[at].songs[index] for at, index in revision.dropped]
    return Rearranged(write_show(revision.show), tuple((song.title, song_lines(song)) for song in gone))


def song_lines(song: Song) -> list[str]:
    """Return a new song's lines, unindented from its dash on."""
    lines = write_show(Show("x", sets=(Set("x", songs=(song,)),))).splitlines()
    first = next(at for at, line in enumerate(lines) if line.lstrip().startswith("- title:"))
    indent = len(lines[first]) - len(lines[first].lstrip())
    return [line[indent:] for line in lines[first:]]


def song_value(song: Song) -> dict[str, object]:
    """Return a song as an edit writes it, without defaults."""
    table = _value(SONG, song)
    if song.road_map:
        table[ROAD_MAP] = short_road_map(song.road_map) or [
            short_road_map((one,)) or OneLine({key: _in_braces(said) for key, said in _value(SECTION, one).items()})
            for one in song.road_map
        ]
    return table


def _value(form: Form[Any], struct: msgspec.Struct) -> dict[str, object]:
    defaults = dict(zip(reversed(struct.__struct_fields__), reversed(struct.__struct_defaults__), strict=False))
    found = {}
    for key, field in form.fields.items():
        value = getattr(struct, field.name, None)
        if value is None or value == defaults.get(field.name) or field.name == ROAD_MAP:
            continue
        found[key] = plain_value(field.name, value)
    return found


def plain_value(field: str, value: Any) -> object:  # noqa: ANN401  any field of the show
    """Return a value of the show as an edit writes it."""
    if field == "sounds":
        if len(value) == 1 and value[0].keyboard is None:
            return value[0].sound
        return OneLine({call.keyboard: call.sound for call in value})
    if field == "length_s":
        return shown_length(value)
    if field == "starts_min":
        return SPECIAL[field](value).strip('"')
    if field == "tempo_bpm":
        return int(value) if float(value).is_integer() else float(value)
    if isinstance(value, bool | int):
        return value
    return str(getattr(value, "value", value))


def _in_braces(value: object) -> object:
    return OneLine(value) if isinstance(value, dict) else value


def _set_named(show: Show, at: int) -> SetNamed:
    names = [one.name for one in show.sets]
    return SetNamed(names[at], names[: at + 1].count(names[at]))


def _with_changes(text: str, revision: Revision, path: str) -> str:
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
            for field in _fields_of(node):
                value = getattr(song, field)
                if value != getattr(before, field) and value is not None:
                    edit = SetValue((name, keys[field]), plain_value(field, value))
                    (titles if field == "title" else edits).append(edit)
            for within, said in beside_the_key(before, song.key, node).items() if song.key else ():
                edits.append(SetValue((name, *within), said))
        if one.name != now.sets[set_at].name:
            set_names.append(SetValue((_set_named(now, set_at), "set"), one.name))
        for field in ("starts_min", "minutes"):
            value = getattr(one, field)
            if value is not None and value != getattr(now.sets[set_at], field):
                key = next(key for key, known in SET.fields.items() if known.name == field)
                edits.append(SetValue((_set_named(now, set_at), key), plain_value(field, value)))
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
