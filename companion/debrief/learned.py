"""Write what was learned into the show file: lengths, open sections and the order, keeping every comment in place."""

import datetime as dt
import difflib
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from companion.debrief.called_songs import with_called
from companion.debrief.night_report import Learned
from companion.debrief.song_tables import song_tables
from companion.debrief.songs_known import KNOWS, NOT_YET, KnownLearned, known_edits
from companion.edits import (
    ArrangedSet,
    CannotArrange,
    Edit,
    EditClash,
    FileText,
    NewText,
    SectionNamed,
    SetNamed,
    SetValue,
    SongNamed,
    applied,
    arranged,
    commit,
    names_in,
    no_file,
    open_text,
    save,
)
from companion.edits.saving import Saved
from companion.errors import CompanionError
from companion.files import SourceFile, parse
from companion.files.nodes import plainly
from companion.music import shown_length
from companion.setlist.known_songs import FIRST
from companion.show import Song
from companion.show.show_file import show_in
from companion.show.songbook import DEEPEST, ROAD_MAP, USE

SongName = tuple[str, int]
"""A song by its title and the number of its occurrence in the show, from 1."""

CANNOT_ORDER = "companion cannot write this order. Move the songs yourself"


class Rewritten(msgspec.Struct, frozen=True):
    """The show file as it would be, a diff for the player, and what cannot be written automatically."""

    file: FileText
    after: str
    edits: tuple[Edit, ...] = ()
    order: tuple[ArrangedSet, ...] = ()
    left: tuple[str, ...] = ()
    books: tuple["BookRewritten", ...] = ()
    called: tuple[Song, ...] = ()  # for the songbook
    known: KnownLearned = KnownLearned()

    @property
    def differs(self) -> bool:
        """Whether there is anything to write."""
        return self.after != self.file.text or bool(self.books or self.called or self.known != KnownLearned())

    @property
    def changed_files(self) -> tuple[Path, ...]:
        """The files that it changes, the show first."""
        show = [self.file.path] if self.after != self.file.text else []
        called = [self._songbook] if self.called else []
        return tuple(dict.fromkeys((*show, *(one.file.path for one in self.books), *called)))

    @property
    def difference(self) -> str:
        """The diff: lines removed (-) and added (+)."""
        lines: list[str] = []
        written = [(self.file, self.after), *((one.file, one.after) for one in self.books)]
        if self.called:
            book = next((one for one in written if one[0].path == self._songbook), (_opened_book(self._songbook), ""))
            written = [one for one in written if one is not book]
            written.append((book[0], with_called(book[1] or book[0].text or "", self._songbook, self.called)))
        for file, after in written:
            before, path = file.text or "", str(file.path)
            lines += difflib.unified_diff(before.splitlines(), after.splitlines(), path, path, lineterm="")
        return "\n".join(lines)

    @property
    def _songbook(self) -> Path:
        return self.file.path.with_name(FIRST)

    def write(
        self, at: dt.datetime, ask: Callable[[EditClash], bool] | None = None, folder: Path | None = None
    ) -> None:
        """Write it, keeping what another program saved since; the practice log notes what the player knows ``at`` now.

        A new order is written only if the file still has the old one. ``folder`` holds the undo lists. Raises
        CompanionError.
        """
        path, log = str(self.file.path), self.known.appended(self.file.path, at)
        for book in self.books:
            save(book.file, book.edits, "debrief", ask=ask, folder=folder)
        if self.called:
            held = _opened_book(self._songbook)
            commit([NewText(held, with_called(held.text or "", self._songbook, self.called))], "debrief", folder=folder)

        def save_edits() -> Saved:
            return save(
                *(self.file, self.edits, "debrief"),
                check=lambda text: show_in(SourceFile(path, text)),
                ask=ask,
                appends=log,
                folder=folder,
            )

        if not self.order:
            save_edits()
            return
        now = open_text(self.file.path)
        if now.text == self.file.text:
            commit([NewText(now, self.after)], "debrief", appends=log, folder=folder)
            return
        if names_in(now.text or "", path) != names_in(self.file.text or "", path):
            raise CompanionError(f"{path} was edited meanwhile, its order too. Nothing written; run the debrief again")
        saved = save_edits()
        moved = open_text(self.file.path)
        commit([NewText(moved, arranged(saved.after, self.order, path).text)], "debrief: the order", folder=folder)


class BookRewritten(msgspec.Struct, frozen=True):
    """A songbook as it would be."""

    file: FileText
    edits: tuple[Edit, ...]
    after: str


def rewritten(path: Path, learned: Learned, file: FileText | None = None) -> Rewritten:
    """Return the show file, or its text as read before, with what was learned; nothing is written.

    Raises CompanionError.
    """
    file = file or open_text(path)
    text = file.text or ""
    songs = songs_in(text, str(path))
    left: list[str] = []
    edits: list[Edit] = []
    for length in learned.lengths:
        found = songs.get((length.song, length.occurrence))
        if found is None:
            left.append(f"{length.song} is no longer in the show file")
        else:
            edits.append(SetValue((found[0], "length"), shown_length(length.now_s)))
    in_books: dict[Path, list[Edit]] = {}
    for section in learned.opened:
        found = songs.get((section.song, section.occurrence))
        named = _section_named(found[1], section.number) if found else None
        edit = _opened(found[0], named, text) if found and named else None
        in_book = _opened_in_book(path, found[0], named, text) if found and named and edit is None else None
        if edit is not None:
            edits.append(edit)
        elif in_book is not None:
            in_books.setdefault(in_book[0], []).append(in_book[1])
        else:
            left.append(f"{section.song}, {section.section} is open: its road map is not in this file")
    for known, titles in ((KNOWS, learned.known.songs), (NOT_YET, learned.known.not_yet)):
        rated = [(name, song.known) for (title, _), (name, song) in songs.items() if title in titles]
        in_show, of_books = known_edits(path, text, rated, known)
        edits += in_show
        for book_path, edit in of_books:
            in_books.setdefault(book_path, []).append(edit)
    after = applied(text, edits, str(path))
    order: tuple[ArrangedSet, ...] = ()
    if learned.order:
        try:
            order = _order_of(learned.order, songs, text, str(path))
            after = arranged(after, order, str(path)).text
        except CannotArrange:
            order = ()
            left.append(CANNOT_ORDER)
    books = tuple(_book_rewritten(book, tuple(of_book)) for book, of_book in in_books.items())
    return Rewritten(file, after, tuple(edits), order, tuple(left), books, learned.called, learned.known)


def _opened_book(path: Path) -> FileText:
    return open_text(path) if path.exists() else no_file(path)


def _book_rewritten(path: Path, edits: tuple[Edit, ...]) -> BookRewritten:
    file = open_text(path)
    return BookRewritten(file, edits, applied(file.text or "", edits, str(path)))


def songs_in(text: str, path: str) -> dict[SongName, tuple[SongNamed, Song]]:
    """Find each song of the file: its name there, and the song. Titles may come from a songbook."""
    titles: Counter[str] = Counter()
    found: dict[SongName, tuple[SongNamed, Song]] = {}
    for one, names in zip(show_in(SourceFile(path, text)).show.sets, names_in(text, path), strict=True):
        for song, name in zip(one.songs, names, strict=True):
            titles[song.title] += 1
            found[song.title, titles[song.title]] = (name, song)
    return found


def _section_named(song: Song, number: int) -> SectionNamed | None:
    if number >= len(song.road_map):
        return None
    name = song.road_map[number].name
    return SectionNamed(name, [one.name for one in song.road_map[: number + 1]].count(name))


def _opened(song: SongNamed, section: SectionNamed, text: str) -> Edit | None:
    """Return the edit that makes a section open; None if its road map is not in this file."""
    edit = SetValue((song, ROAD_MAP, section, "open"), value=True)
    try:
        applied(text, [edit])
    except CompanionError:
        return None
    return edit


def _opened_in_book(show_path: Path, song: SongNamed, section: SectionNamed, text: str) -> tuple[Path, Edit] | None:
    """Return the songbook that has the song's road map, and the edit that makes the section open there."""
    table = dict(song_tables(text, str(show_path)))[song]
    use, path = table.get(USE), show_path
    for _ in range(DEEPEST):
        name, _, slug = str(use).partition("#")
        path = path.with_name(name) if name == Path(name).name else path.parent / name
        try:
            book = open_text(path).text or ""
            entry = plainly(parse(SourceFile(str(path), book), [])).get(slug)
            if isinstance(entry, dict) and ROAD_MAP in entry:
                edit = SetValue((slug, ROAD_MAP, section, "open"), value=True)
                applied(book, [edit], str(path))
                return path, edit
        except (CompanionError, AttributeError, ValueError):
            return None
        use = entry.get(USE) if isinstance(entry, dict) else None
        if use is None:
            return None
    return None


def _order_of(
    order: Sequence[Sequence[SongName]], songs: dict[SongName, tuple[SongNamed, Song]], text: str, path: str
) -> tuple[ArrangedSet, ...]:
    """Return the new order of the file's songs. Raises CannotArrange if the file has other songs."""
    show = show_in(SourceFile(path, text)).show
    if len(show.sets) != len(order) or sorted(songs) != sorted(one for songs_of in order for one in songs_of):
        raise CannotArrange(CANNOT_ORDER)
    names = [one.name for one in show.sets]
    return tuple(
        ArrangedSet(SetNamed(names[at], names[: at + 1].count(names[at])), tuple(songs[one][0] for one in songs_of))
        for at, songs_of in enumerate(order)
    )
