"""What was learned, into the show file: lengths, open sections and the order, with every comment where it belongs."""

import difflib
import itertools
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

import msgspec

from companion.errors import CompanionError
from companion.files import Items, Node, Reading, Source, Table, Text, parse
from companion.files.opening import open_source
from companion.files.writing import Where, edited, plainly, write_whole
from companion.music.tempo import shown_length
from companion.show import read_show
from companion.show.roadmap import cut

from .debrief import Learned

Named = tuple[str, int]
"""A song by its title and the number of its occurrence in the show, from 1."""


class Rewritten(msgspec.Struct, frozen=True):
    """The show file as it would be, with the difference as a player reads it, and what cannot be written by itself."""

    path: Path
    before: str
    after: str
    left: tuple[str, ...] = ()

    @property
    def difference(self) -> str:
        """Give the lines that go (-) and come (+)."""
        lines = difflib.unified_diff(
            self.before.splitlines(), self.after.splitlines(), str(self.path), str(self.path), lineterm=""
        )
        return "\n".join(lines)

    def write(self) -> None:
        """Put it in the old file's place. Raises CompanionError."""
        write_whole(self.path, self.after)


def rewritten(path: Path, learned: Learned) -> Rewritten:
    """Work out the show file with what was learned; nothing is written. Raises CompanionError."""
    source = open_source(path)
    songs = _songs_in(path, source)
    left: list[str] = []
    changes: dict[Where, object] = {}
    for length in learned.lengths:
        found = songs.get((length.song, length.occurrence))
        if found is None:
            left.append(f"{length.song} is not in the show file any more")
        elif isinstance(found[1], Text):
            changes[found[0]] = {"title": found[1].text, "length": _quoted(shown_length(length.now_s))}
        else:
            changes[(*found[0], "length")] = _quoted(shown_length(length.now_s))
    for section in learned.opened:
        found = songs.get((section.song, section.occurrence))
        where = _open_at(found, section.number) if found else None
        if where is None:
            left.append(f"{section.song}, {section.section} is open: its road map is not in this file")
        else:
            changes.update([_merged(where, changes)])
    after = edited(source.text, changes, str(path)) if changes else source.text
    if learned.order:
        try:
            after = reordered(after, str(path), learned.order, path)
        except CompanionError as why:
            left.append(str(why))
    return Rewritten(path, source.text, after, tuple(left))


def _songs_in(path: Path, source: Source) -> dict[Named, tuple[Where, Node]]:
    """Find each song of the file: where it is, and its node. Titles may come from a songbook."""
    show = read_show(path).show
    places = list(_song_places(parse(source, [])))
    titles: Counter[str] = Counter()
    found: dict[Named, tuple[Where, Node]] = {}
    written = [song for one in show.sets for song in one.songs]
    if len(written) != len(places):
        raise CompanionError(f"{path}: its songs cannot be told apart, nothing is written")
    for song, place in zip(written, places, strict=True):
        titles[song.title] += 1
        found[song.title, titles[song.title]] = place
    return found


def _song_places(root: Node) -> Iterator[tuple[Where, Node]]:
    for where, songs in _song_lists(root):
        yield from (((*where, at), node) for at, node in enumerate(songs.nodes))


def _song_lists(root: Node) -> Iterator[tuple[Where, Items]]:
    """Give the list of songs of each set that has one."""
    if not isinstance(root, Table):
        return
    if "songs" in root.entries and isinstance(root.entries["songs"][1], Items):
        yield ("songs",), root.entries["songs"][1]
    sets = root.entries["sets"][1] if "sets" in root.entries else None
    for number, one in enumerate(sets.nodes if isinstance(sets, Items) else ()):
        songs = one.entries["songs"][1] if isinstance(one, Table) and "songs" in one.entries else None
        if isinstance(songs, Items):
            yield ("sets", number, "songs"), songs


def _open_at(found: tuple[Where, Node], number: int) -> tuple[Where, object] | None:
    """Give the change that makes a section open, whether it stands in a line or on its own."""
    where, song = found
    road_map = song.entries["road_map"][1] if isinstance(song, Table) and "road_map" in song.entries else None
    if isinstance(road_map, Text):
        return (*where, "road_map"), _opened_in(road_map.text, number)
    passed = 0
    for at, node in enumerate(road_map.nodes if isinstance(road_map, Items) else ()):
        many = len(cut(node, Reading())) if isinstance(node, Text) else 1
        if passed <= number < passed + many:
            if isinstance(node, Text):
                return (*where, "road_map", at), _opened_in(node.text, number - passed)
            return (*where, "road_map", at, "open"), True
        passed += many
    return None


def _opened_in(line: str, number: int) -> str:
    """Make a section of a short road map open.

    >>> _opened_in("Intro 4, Solo 16 x2* @lead", 1)
    'Intro 4, Solo 16 x2 open* @lead'
    """
    parts = line.split(",")
    head, at, sound = parts[number].partition("@")
    name = head.rstrip()
    star = "*" if name.endswith("*") else ""
    rest = head[len(name) :]
    parts[number] = f"{name.removesuffix('*').rstrip()} open{star}{rest}{at}{sound}"
    return ",".join(parts)


def _merged(change: tuple[Where, object], changes: dict[Where, object]) -> tuple[Where, object]:
    """Let a second section of one line be opened beside the first."""
    where, value = change
    earlier = changes.get(where)
    if not isinstance(earlier, str) or not isinstance(value, str):
        return change
    both = [one if " open" in one else other for one, other in zip(earlier.split(","), value.split(","), strict=True)]
    return where, ",".join(both)


def _quoted(text: str) -> object:
    """Give a text that is written in quotes, for readers that know times in base 60."""
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString  # noqa: PLC0415  only an edit pays for it

    return DoubleQuotedScalarString(text)


def reordered(text: str, shown: str, order: Sequence[Sequence[Named]], path: Path) -> str:
    """Move the songs of a show file as whole blocks of lines, their comments with them. Raises CompanionError."""
    cannot = CompanionError("the order cannot be written by itself: put the songs where they were played")
    source = Source(shown, text)
    root = parse(source, [])
    lists = list(_song_lists(root))
    named = {place: name for name, (place, _) in _songs_in(path, source).items()}
    if len(lists) != len(order) or any(not songs for songs in order):
        raise cannot
    lines = text.splitlines(keepends=True)
    blocks: dict[Named, list[str]] = {}
    spans = []
    indents = set()
    for where, songs in lists:
        starts = [_first_line(lines, node.line - 1) for node in songs.nodes]
        indents.add(len(lines[songs.nodes[0].line - 1]) - len(lines[songs.nodes[0].line - 1].lstrip()))
        end = _end_of_list(lines, songs.nodes[-1].line - 1)
        spans.append((starts[0], end))
        for at, (start, stop) in enumerate(itertools.pairwise([*starts, end])):
            if not lines[songs.nodes[at].line - 1].lstrip().startswith("- "):
                raise cannot
            blocks[named[*where, at]] = _ended(lines[start:stop])
    if len(indents) > 1 or sorted(blocks) != sorted(itertools.chain(*order)):
        raise cannot
    out, passed = [], 0
    for (start, end), now in zip(spans, order, strict=True):
        out += [*lines[passed:start], *itertools.chain.from_iterable(blocks[one] for one in now)]
        passed = end
    after = "".join([*out, *lines[passed:]])
    if _song_texts(parse(Source(shown, after), [])) != _wanted(root, named, order):
        raise cannot
    return after


def _wanted(root: Node, named: dict[Where, Named], order: Iterable[Sequence[Named]]) -> list[list[Any]]:
    said = {named[where]: plainly(node) for where, node in _song_places(root)}
    return [[said[one] for one in songs] for songs in order]


def _song_texts(root: Node) -> list[list[Any]]:
    return [[plainly(node) for node in songs.nodes] for _, songs in _song_lists(root)]


def _first_line(lines: list[str], dash: int) -> int:
    """Give the line where a song begins: its comments stand above it, at the same depth."""
    depth = len(lines[dash]) - len(lines[dash].lstrip())
    while dash and lines[dash - 1].lstrip().startswith("#") and lines[dash - 1].startswith(" " * depth + "#"):
        dash -= 1
    return dash


def _end_of_list(lines: list[str], dash: int) -> int:
    """Give the line behind a list's last song."""
    depth = len(lines[dash]) - len(lines[dash].lstrip())
    end = dash + 1
    for number in range(dash + 1, len(lines)):
        text = lines[number].strip()
        if text and len(lines[number]) - len(lines[number].lstrip()) <= depth:
            break
        if text:
            end = number + 1
    return end


def _ended(block: list[str]) -> list[str]:
    """Let the last line of a file that ends without one have its end, so that another may follow."""
    return [*block[:-1], block[-1] if block[-1].endswith("\n") else block[-1] + "\n"]
