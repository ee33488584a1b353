"""The show file in its new order: each song's own lines are moved as they stand, comments and all."""

import re
from collections.abc import Sequence
from typing import Any, Final

import msgspec

from companion.errors import CompanionError
from companion.files import Items, Node, Source, Table, parse
from companion.files.scalars import spoken
from companion.files.writing import edited
from companion.show.key_change import beside_the_key
from companion.show.lists.revising import Revision
from companion.show.model import Set, Show, Song
from companion.show.reading import SET, SONG, show_in
from companion.show.songbook import ROAD_MAP
from companion.show.writing import SPECIAL, write_show

COMMENT: Final = re.compile(r"\s*(?:#.*)?$")
FIELDS: Final = (
    "title",
    "key",
    "chords_in",
    "record_key",
    "tempo_bpm",
    "meter",
    "length_s",
    "artist",
    "starts_with",
    "ending",
    "recording",
    "chart",
    "segue",
    "notes",
)


class CannotKeep(CompanionError):  # noqa: N818  said as it is
    """The file is written in a way in which its lines cannot be moved: in braces, with labels, or without sets."""


class _Block:
    """The lines of one song or of one set's head, and how far they stand in."""

    def __init__(self, lines: Sequence[str], indent: int) -> None:
        self.lines = list(lines)
        self.indent = indent

    def at(self, indent: int) -> list[str]:
        """Give the lines so far in; what is inside keeps its own distance."""
        by = indent - self.indent
        if by >= 0:
            return [" " * by + line if line.strip() else line for line in self.lines]
        return [line[-by:] if not line[:-by].strip() else line.lstrip() for line in self.lines]


class Rearranged(msgspec.Struct, frozen=True):
    """The show file's new text, and each dropped song's title and lines, with its dash at the margin."""

    text: str
    dropped: tuple[tuple[str, list[str]], ...]


def rearranged(text: str, old: Show, revision: Revision, path: str, shelf_name: str) -> Rearranged:
    """Give the show file's text in the new order, with the list's changes. Raises CannotKeep where that cannot be done.

    The result is read back: it is the revised show, or nothing is given.
    """
    root = parse(Source(path, text), [])
    sets = root.entries.get("sets") if isinstance(root, Table) else None
    if not sets or not isinstance(sets[1], Items) or ("&" in text and re.search(r"(?:^|[\s:])[&*]\w", text)):
        raise CannotKeep(f"{path} is not written song by song")
    lines = text.splitlines()
    heads, songs, first, last = _cut(lines, sets[1])
    body = []
    for set_at, source in enumerate(revision.sets_from):
        one = revision.show.sets[set_at]
        body += _without_last_blanks(heads[source].at(2)) if source is not None else [f"  - set: {spoken(one.name)}"]
        body.append("    songs:")
        for origin, song in zip(revision.origins[set_at], one.songs, strict=True):
            if origin is None:
                body += _written(song, 6)
            elif origin.slug:
                body += [f"      - use: {shelf_name}#{origin.slug}"]
            else:
                body += songs[origin.set_at][origin.song_at].at(6)
    moved = "\n".join([*lines[:first], *body, *lines[last:]]) + "\n"
    dropped = tuple((old.sets[at].songs[index].title, songs[at][index].at(0)) for at, index in revision.dropped)
    return Rearranged(_with_changes(moved, revision, path), dropped)


def written(old: Show, revision: Revision) -> Rearranged:
    """Write the revised show anew, without the old file's comments."""
    gone = [old.sets[at].songs[index] for at, index in revision.dropped]
    return Rearranged(write_show(revision.show), tuple((song.title, _written(song, 0)) for song in gone))


def _cut(lines: list[str], sets: Items) -> tuple[list[_Block], list[list[_Block]], int, int]:
    """Cut the file: the head of each set, the songs of each set, and the lines between which they all stand."""
    heads: list[_Block] = []
    songs: list[list[_Block]] = []
    starts = [_start(lines, node) for node in sets.nodes]
    end = _end(lines, starts[-1][0], starts[-1][1]) if starts else 0
    for at, node in enumerate(sets.nodes):
        if not isinstance(node, Table) or node.braces:
            raise CannotKeep("a set in braces")
        stop = starts[at + 1][0] if at + 1 < len(starts) else end
        entry = node.entries.get("songs")
        if entry is None or not isinstance(entry[1], Items) or not entry[1].nodes:
            heads.append(
                _Block(
                    [line for line in lines[starts[at][0] : stop] if not re.match(r"\s*songs:", line)], starts[at][1]
                )
            )
            songs.append([])
            continue
        key_line = entry[0].line - 1
        inner = [_start(lines, song) for song in entry[1].nodes]
        if any(line <= key_line for line, _ in inner):
            raise CannotKeep("songs in brackets")
        list_end = min(_end(lines, inner[-1][0], inner[-1][1]), stop)
        cuts = [line for line, _ in inner] + [list_end]
        songs.append([_Block(lines[cuts[i] : cuts[i + 1]], inner[i][1]) for i in range(len(inner))])
        before_songs = [*lines[starts[at][0] : key_line], *_comment_of(lines[key_line], starts[at][1] + 2)]
        heads.append(_Block([*before_songs, *lines[key_line + 1 : cuts[0]], *lines[list_end:stop]], starts[at][1]))
    return heads, songs, starts[0][0] if starts else len(lines), end


def _without_last_blanks(lines: list[str]) -> list[str]:
    while lines and not lines[-1].strip():
        lines = lines[:-1]
    return lines


def _comment_of(line: str, indent: int) -> list[str]:
    """Give the comment behind ``songs:`` as a line of its own."""
    found = re.search(r"\s(#.*)$", line)
    return [" " * indent + found[1]] if found else []


def _start(lines: list[str], node: Node) -> tuple[int, int]:
    """Give the first line of a list's entry, with the comments right above it, and how far its dash stands in."""
    line = node.line - 1
    while line >= 0 and not re.match(r"\s*-(?:\s|$)", lines[line]):
        line -= 1
    if line < 0 or (not lines[line][: node.column].strip().startswith("-") and node.line - 1 == line):
        raise CannotKeep("an entry without a dash of its own")
    indent = len(lines[line]) - len(lines[line].lstrip())
    while line > 0 and re.match(rf"\s{{{indent}}}\s*#", lines[line - 1]) and indent:
        line -= 1
    return line, indent


def _end(lines: list[str], line: int, indent: int) -> int:
    """Give the line after a list's last entry: the first that stands no deeper than its dash."""
    at = line
    while at < len(lines) and COMMENT.match(lines[at]):
        at += 1
    at += 1
    while at < len(lines) and (COMMENT.match(lines[at]) or len(lines[at]) - len(lines[at].lstrip()) > indent):
        at += 1
    while at > line + 1 and COMMENT.match(lines[at - 1]) and len(lines[at - 1]) - len(lines[at - 1].lstrip()) <= indent:
        at -= 1
    return at


def _written(song: Song, indent: int) -> list[str]:
    """Write a new song's lines, as the writer of shows does."""
    text = write_show(Show("x", sets=(Set("x", songs=(song,)),)))
    lines = text.splitlines()
    first = next(at for at, line in enumerate(lines) if re.match(r"\s*- title:", line))
    return _Block(lines[first:], len(lines[first]) - len(lines[first].lstrip())).at(indent)


def _with_changes(text: str, revision: Revision, path: str) -> str:
    """Write the list's changes into the moved lines, and look that the file now says what it should."""
    text = _with_new_keys(text, revision, path)
    root: Any = parse(Source(path, text), [])
    now = show_in(Source(path, text)).show
    changes: dict[tuple[str | int, ...], object] = {}
    keys = {field.name: key for key, field in SONG.fields.items()}
    for set_at, one in enumerate(revision.show.sets):
        for song_at, song in enumerate(one.songs):
            before = now.sets[set_at].songs[song_at]
            node = _song_node(root, set_at, song_at)
            for field in _fields_of(node):
                value = getattr(song, field)
                if value != getattr(before, field) and value is not None:
                    changes["sets", set_at, "songs", song_at, keys[field]] = _plain(field, value)
            for within, said in beside_the_key(before, song.key, node).items() if song.key else ():
                changes["sets", set_at, "songs", song_at, *within] = said
        for field in ("starts_min", "minutes"):
            value = getattr(one, field)
            if value is not None and value != getattr(now.sets[set_at], field):
                key = next(key for key, known in SET.fields.items() if known.name == field)
                changes["sets", set_at, key] = _plain(field, value)
    for key in ("band", "date", "venue", "notes"):  # the same words in the file
        value = getattr(revision.show, key)
        if value is not None and value != getattr(now, key):
            changes[(key,)] = str(value)
    after = edited(text, changes, path) if changes else text
    if show_in(Source(path, after)).show != revision.show:
        raise CannotKeep(f"{path} would not say what it should")
    return after


def _with_new_keys(text: str, revision: Revision, path: str) -> str:
    """Write what a song's lines do not say yet under its first line, where no comment is pushed aside."""
    root: Any = parse(Source(path, text), [])
    now = show_in(Source(path, text)).show
    lines = text.splitlines()
    keys = {field.name: key for key, field in SONG.fields.items()}
    new: list[tuple[int, str]] = []
    for set_at, one in enumerate(revision.show.sets):
        for song_at, song in enumerate(one.songs):
            node = _song_node(root, set_at, song_at)
            before = now.sets[set_at].songs[song_at]
            for field in _fields_of(node) if not node.braces else ():
                value = getattr(song, field)
                is_new = value is not None and value != getattr(before, field) and keys[field] not in node.entries
                said = SPECIAL[field](value) if field in SPECIAL and is_new else spoken(value, in_braces=True)
                if is_new and re.match(r"\s*- ", lines[node.line - 1]):
                    new.append((node.line, f"{' ' * (node.column - 1)}{keys[field]}: {said}"))
    for line, said in sorted(new, key=lambda one: -one[0]):
        lines.insert(line, said)
    return "\n".join(lines) + "\n"


def _song_node(root: Any, set_at: int, song_at: int) -> Any:  # noqa: ANN401  its table, or its title alone
    return root.entries["sets"][1].nodes[set_at].entries["songs"][1].nodes[song_at]


def _fields_of(node: Any) -> tuple[str, ...]:  # noqa: ANN401  same
    """Return the fields that a list may change; a songbook's letters belong to the songbook's key."""
    has_own_chords = isinstance(node, Table) and ROAD_MAP in node.entries
    return FIELDS if has_own_chords else tuple(field for field in FIELDS if field != "chords_in")


def _plain(field: str, value: object) -> object:
    if field in SPECIAL:
        return SPECIAL[field](value).strip('"')
    return value if isinstance(value, bool | int) else str(getattr(value, "value", value))
