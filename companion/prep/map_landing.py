"""A tapped road map lands in the show file: bars and tempo change, comments and all other work stay."""

import difflib
import os
from collections.abc import Sequence
from pathlib import Path

import msgspec

from companion.errors import CompanionError
from companion.files import Items, Node, Reading, Source, Table, Text, parse
from companion.files.opening import open_source
from companion.files.writing import Where, edited, write_whole
from companion.prep.mapping import TappedMap
from companion.show import Section, Show
from companion.show.reading import show_in
from companion.show.roadmap import cut
from companion.show.writing import short_road_map


class MapWritten(msgspec.Struct, frozen=True):
    """The show file as it would be, with the difference as a player reads it."""

    path: Path
    before: str
    after: str

    @property
    def difference(self) -> str:
        """Give the lines that go (-) and come (+)."""
        lines = difflib.unified_diff(
            self.before.splitlines(), self.after.splitlines(), str(self.path), str(self.path), lineterm="", n=1
        )
        return "\n".join(lines)

    def write(self) -> None:
        """Put it in the old file's place. Raises CompanionError."""
        write_whole(self.path, self.after)


def with_map(show_path: str | os.PathLike[str], tapped: TappedMap) -> MapWritten:
    """Work out the show file with a tapped map; nothing is written. Raises CompanionError."""
    source = open_source(show_path)
    show = show_in(source).show
    where, node = _song_at(show, source, tapped.song.title)
    changes: dict[Where, object] = {}
    if isinstance(node, Text):  # a title alone
        song: dict[str, object] = {"title": node.text}
        if tapped.tempo_bpm:
            song["tempo"] = _plain(tapped.tempo_bpm)
        changes[where] = {**song, "road_map": _line(tapped.road_map)}
    else:
        if tapped.tempo_bpm:
            changes[*where, "tempo"] = _plain(tapped.tempo_bpm)
        entries = node.entries if isinstance(node, Table) else {}
        road_map = entries["road_map"][1] if "road_map" in entries else None
        changes |= _changed((*where, "road_map"), road_map, tapped.road_map)
    after = edited(source.text, changes, source.path)
    show_in(Source(source.path, after))
    return MapWritten(Path(show_path), source.text, after)


def _changed(where: Where, road_map: Node | None, sections: Sequence[Section]) -> dict[Where, object]:
    """Give the changes of one road map, written as it was: a line stays a line, and of a list only the bars change."""
    if not isinstance(road_map, Items):
        return {where: _line(sections)}
    changes: dict[Where, object] = {}
    done = 0
    for at, node in enumerate(road_map.nodes):
        many = len(cut(node, Reading())) if isinstance(node, Text) else 1
        if isinstance(node, Text):
            changes[*where, at] = _line(sections[done : done + many])
        elif sections[done].bars is not None:
            changes[*where, at, "bars"] = sections[done].bars
        done += many
    return changes


def _line(sections: Sequence[Section]) -> str:
    line = short_road_map(tuple(sections))
    if not line:
        raise CompanionError(
            "this road map stands in a songbook, and says more than one line can: write the bars there"
        )
    return line


def _plain(tempo_bpm: float) -> int | float:
    return int(tempo_bpm) if tempo_bpm.is_integer() else tempo_bpm


def _song_at(show: Show, source: Source, title: str) -> tuple[Where, Node]:
    """Find the first song of this title: where it stands in the file, and its node."""
    root = parse(source, [])
    for set_at, one in enumerate(show.sets):
        for song_at, song in enumerate(one.songs):
            if song.title == title:
                without_sets = isinstance(root, Table) and "songs" in root.entries
                where: Where = (*(() if without_sets else ("sets", set_at)), "songs", song_at)
                return where, _node_at(root, where)
    raise CompanionError(f"{source.path}: there is no song {title!r} any more")


def _node_at(node: Node, where: Where) -> Node:
    for step in where:
        if isinstance(step, int) and isinstance(node, Items):
            node = node.nodes[step]
        elif isinstance(step, str) and isinstance(node, Table):
            node = node.entries[step][1]
    return node
