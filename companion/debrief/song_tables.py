"""The songs of a show file as typed: what each one says itself, apart from the songbook."""

from typing import Any

from companion.edits import SongNamed, names_in
from companion.files import Items, Node, SourceFile, Table, Text, parse
from companion.files.nodes import plainly


def song_tables(text: str, path: str) -> list[tuple[SongNamed, dict[str, Any]]]:
    """Return each song's name and its own keys, in written order; a bare title as a table. Raises FaultyFile."""
    names = [name for of_set in names_in(text, path) for name in of_set]
    tables = [_table(node) for node in _songs(parse(SourceFile(path, text), []))]
    return list(zip(names, tables, strict=True))


def _songs(root: Node) -> list[Node]:
    if not isinstance(root, Table):
        return []
    sets = root.entries["sets"][1] if "sets" in root.entries else None
    found: list[Node] = []
    for holder in sets.nodes if isinstance(sets, Items) else (root,):
        songs = holder.entries["songs"][1] if isinstance(holder, Table) and "songs" in holder.entries else None
        if isinstance(songs, Items):
            found += [one for one in songs.nodes if not (isinstance(one, Text) and one.is_empty)]
    return found


def _table(node: Node) -> dict[str, Any]:
    plain = plainly(node)
    return {"title": plain} if isinstance(plain, str) else plain
