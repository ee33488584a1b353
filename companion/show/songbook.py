"""Songs written once and used in several shows: ``use: songbook.yaml#gasworks-corner``.

A songbook is a file of songs listed under their slugs. Keys beside ``use`` override the songbook's, one by one. The
path is relative to the file that it is in, and may not leave the show's folder.
"""

import os
from pathlib import Path, PurePosixPath, PureWindowsPath

import msgspec

from companion.errors import FaultyFile
from companion.files import Items, Node, Reading, SourceFile, Table, Text, nearest, nearest_or_all, parse, shown
from companion.files.parsing import LIMIT_NODES
from companion.files.text_file import open_source
from companion.music import NotMusic, read_key
from companion.show.notes_in_key import notes_written_in

USE = "use"
KEY, ROAD_MAP, CHORDS_IN, NOTES = "key", "road_map", "chords_in", "notes"
MAX_BOOKS = 20  # up to 1 MiB each
MAX_NODES = LIMIT_NODES  # nodes of all songs used, as if written out
DEEPEST = 8  # levels of songbooks that use another one
NO_SLUGS = {"show", "sets", "songs", "band", "date", "venue", "notes", "rig", "keyboards"}  # keys of a show or a rig
WRITE = "use: songbook.yaml#slug-of-the-song"


class Songbooks:
    """The songbooks of one show, each opened once."""

    def __init__(self, show_path: str | os.PathLike[str]) -> None:
        self._folder = Path(show_path).parent
        self._open: dict[Path, Table | None] = {}
        self._named: dict[Path, Path] = {}  # each path by which a file was named, and the file
        self._weights: dict[str, int] = {}
        self._used = 0

    @property
    def paths(self) -> tuple[Path, ...]:
        """The songbooks that could be read, in show order."""
        return tuple(path for path, book in self._open.items() if book is not None)

    @property
    def sources(self) -> tuple[SourceFile, ...]:
        """Their texts, one for each path by which a songbook was named: a link may change later."""
        books = ((path, self._open[known]) for path, known in self._named.items())
        return tuple(SourceFile(str(path), book.source.text) for path, book in books if book is not None)

    def with_used(self, table: Table, reading: Reading, chain: tuple[str, ...] = ()) -> tuple[Table, Node | None]:
        """Return a song's table merged with the song that it uses, without ``use``.

        If the road map is the songbook's, also return the key of the songbook's song, for which it was written.
        """
        if USE not in table.entries:
            return table, None
        typed = table.entries[USE][1]
        own = {key: entry for key, entry in table.entries.items() if key != USE}
        used, written_for = self._song(typed, reading, chain) or (None, None)
        if used is None:
            unknown = Text("?", table.source, table.line, table.column)  # the fault about the song not found is enough
            return Table({"title": (unknown, unknown), **own}, table.source, table.line, table.column), None
        entries = {**used.entries, **own}
        if ROAD_MAP in own:  # written here, in the song's key here
            written_for = None
            if CHORDS_IN not in own:
                entries.pop(CHORDS_IN, None)
        elif written_for is None and KEY in used.entries:
            written_for = used.entries[KEY][1]
        if NOTES in used.entries and NOTES not in own and KEY in used.entries and KEY in own:
            at, notes = used.entries[NOTES]
            entries[NOTES] = at, _in_key(notes, used.entries[KEY][1], own[KEY][1])
        return Table(entries, table.source, table.line, table.column), written_for

    def _song(self, typed: Node, reading: Reading, chain: tuple[str, ...]) -> tuple[Table, Node | None] | None:
        if not isinstance(typed, Text):
            reading.fault(typed, "use takes one text", WRITE)
            return None
        name, _, slug = typed.text.partition("#")
        if not name or not slug:
            if not typed.is_empty:
                reading.fault(typed, f"{shown(typed.text)} names no song in a songbook", WRITE)
            return None
        path = self._path(name, typed, reading)
        book = self._book(path, name, typed, reading) if path else None
        if book is None:
            return None
        if slug not in book.entries:
            near = (
                nearest_or_all(slug, list(book.entries)[:12])
                if len(book.entries) <= 12
                else nearest(slug, book.entries)
            )
            reading.fault(
                typed, f"{name} has no song {shown(slug)}", f"{name}#{near}" if near else WRITE, len(name) + 1
            )
            return None
        link = f"{path}#{slug}"
        if link in chain or len(chain) >= DEEPEST:
            problem = "these songs use each other in a circle" if link in chain else f"more than {DEEPEST} songs deep"
            reading.fault(typed, problem, "the song itself in one of them")
            return None
        song = book.entries[slug][1]
        if isinstance(song, Text):
            if song.is_empty:
                reading.fault(book.entries[slug][0], f"{shown(slug)} is empty", "title: ... below it")
                return None
            return Table({"title": (song, song)}, song.source, song.line, song.column), None
        if link not in self._weights:
            self._weights[link] = weight(song)
        self._used += self._weights[link]
        if self._used > MAX_NODES:
            reading.fault(typed, "the songs used from songbooks are more than a show can hold", "fewer songs")
            return None
        if not isinstance(song, Table):
            reading.fault(song, "a song is written as keys and values, not as a list", "title: ...")
            return None
        return self.with_used(song, reading, (*chain, link))

    def _path(self, name: str, typed: Text, reading: Reading) -> Path | None:
        """Return the file's path if it stays inside the show's folder; else note a fault and return None."""
        if "\\" in name:
            reading.fault(typed, f"{shown(name)} has a backslash, which works on one system only", WRITE)
            return None
        windows = PureWindowsPath(name)
        if PurePosixPath(name).is_absolute() or windows.drive or windows.root:
            reading.fault(typed, f"{shown(name)} is an absolute path, which works on one computer only", WRITE)
            return None
        path = Path(typed.source.path).parent / name
        try:
            stays = path.resolve().is_relative_to(self._folder.resolve())
        except (OSError, ValueError, RuntimeError):  # a name that the system cannot hold, or links in a circle
            stays = False
        if not stays:
            reading.fault(typed, f"{shown(name)} leads out of the show's folder", WRITE)
            return None
        return path

    def _book(self, path: Path, name: str, typed: Text, reading: Reading) -> Table | None:
        """Open a songbook. Report its own faults once, a missing file at each place that names it."""
        known = self._named[path] = path.resolve()
        if known in self._open:
            return self._open[known]
        if len(self._open) >= MAX_BOOKS:
            del self._named[path]
            reading.fault(typed, f"more than {MAX_BOOKS} songbooks", "fewer files")
            return None
        self._open[known] = None
        try:
            source = open_source(path)
        except FaultyFile as error:
            for fault in error.faults:
                near = (
                    f"{Path(fault.write).name}, in the same folder" if fault.write.endswith((".yaml", ".yml")) else ""
                )
                reading.fault(typed, f"{shown(name)}: {fault.problem}", near or fault.write or WRITE)
            return None
        try:
            root = parse(source, reading.faults)
        except FaultyFile as error:
            reading.faults.extend(error.faults)
            return None
        if not isinstance(root, Table):
            reading.fault(root, "a songbook lists songs under their slugs", "gasworks-corner: {title: Gasworks Corner}")
            return None
        self._open[known] = root
        return root


def _in_key(notes: Node, old: Node, new: Node) -> Node:
    """Return a songbook's notes for a song in another key; as they are if one of the keys cannot be read."""
    if not (isinstance(notes, Text) and isinstance(old, Text) and isinstance(new, Text)):
        return notes
    try:
        text = notes_written_in(notes.text, read_key(old.text), read_key(new.text))
    except NotMusic:
        return notes
    return msgspec.structs.replace(notes, text=text or "")


def is_songbook(root: Node) -> bool:
    """Whether a file is a songbook: every value is a song, and no key is a show's or a rig's."""
    if not isinstance(root, Table) or not root.entries or NO_SLUGS & set(root.entries):
        return False
    songs = [node for _, node in root.entries.values()]
    tables = [bool({"title", USE} & set(one.entries)) for one in songs if isinstance(one, Table)]
    texts = [not one.is_empty for one in songs if isinstance(one, Text)]
    return bool(tables) and all(tables) and all(texts) and len(tables) + len(texts) == len(songs)


def weight(node: Node) -> int:
    """Count the nodes of a tree, including each repeat by label."""
    if isinstance(node, Table):
        return 1 + sum(1 + weight(behind) for _, behind in node.entries.values())
    return 1 + sum(weight(one) for one in node.nodes) if isinstance(node, Items) else 1
