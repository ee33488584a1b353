"""The show on the desk: its last good reading, every accepted edit on disk, undo and redo, and other hands' changes."""

import base64
import datetime as dt
import functools
import hashlib
import os
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import (
    ChangedOnDisk,
    Edit,
    FileText,
    NewText,
    SetNamed,
    SongNamed,
    Undo,
    commit,
    names_in,
    open_text,
    redo_of,
    save,
    take_back,
    undo_of,
)
from companion.errors import CompanionError, Fault, FaultyFile
from companion.files import SourceFile
from companion.files.text_file import open_source
from companion.show import ReadShow, Set, Show, Song
from companion.show.show_file import show_in

INTO_BOOK: Final = "its songs into the songbook"
"""The step with which a show's songs go into the songbook: undone there alone, the shows would lose them."""
MAX_TRIES: Final = 20  # while another program keeps changing the show


class SongOnDesk(msgspec.Struct, frozen=True):
    """A song, its name for edits, and its place: the numbers of its set and of the song in it, from 0."""

    named: SongNamed
    song: Song
    set_at: int
    song_at: int

    @property
    def mark(self) -> str:
        """The song's id on the page: it stays when the song moves."""
        return f"s{mark_of(f'{self.named.occurrence} {self.named.title}')}"


class SetOnDesk(msgspec.Struct, frozen=True):
    """A set, its name for edits, and its songs."""

    named: SetNamed
    one: Set
    songs: tuple[SongOnDesk, ...]

    @property
    def mark(self) -> str:
        """The set's id on the page."""
        return f"t{mark_of(f'{self.named.occurrence} {self.named.name}')}"


class Stack(msgspec.Struct, frozen=True):
    """One reading of the show. ``version`` differs for different texts.

    ``faults`` are those of the file as it is now; the rest is then the last good reading.
    """

    version: str
    read: ReadShow
    file: FileText
    sets: tuple[SetOnDesk, ...]
    faults: tuple[Fault, ...] = ()

    @property
    def show(self) -> Show:
        """The show."""
        return self.read.show

    @property
    def songs(self) -> tuple[SongOnDesk, ...]:
        """All songs in set order."""
        return tuple(song for one in self.sets for song in one.songs)

    def song(self, named: SongNamed) -> SongOnDesk:
        """Return a song by its name. Raises CompanionError if it is not there any more."""
        for one in self.songs:
            if one.named == named:
                return one
        raise CompanionError(f"{named} is no longer in this show")

    def marked(self, mark: str) -> SongOnDesk | None:
        """Return the song with this id on the page, or None."""
        return next((one for one in self.songs if one.mark == mark), None)


class NothingToRead(CompanionError):  # noqa: N818  reads better than an Error
    """The show has faults, and no good reading of it is known yet."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("this show cannot be read yet")


class ShowDesk:
    """One show file while it is prepared. Any thread may call it; one call at a time reads or writes."""

    def __init__(self, path: Path, folder: Path | None = None) -> None:
        """``folder`` holds the undo lists; default: the user's data folder."""
        self.path = path
        self._folder = folder
        self._alone = threading.RLock()
        self._stack: Stack | None = None
        self._texts: tuple[tuple[str, str], ...] = ()
        self._checked: ReadShow | None = None
        self._since = dt.datetime.now(dt.UTC).isoformat(timespec="seconds")
        self._last = path  # the file that was written last, of the show and its songbooks

    def look(self) -> Stack:
        """Return the show as it is on disk now; with faults in it, the last good reading. Raises NothingToRead."""
        with self._alone:
            texts = self._read_texts()
            if self._stack is None or texts != self._texts:
                self._stack = self._read_anew()
                read = [(one.path, one.text) for one in self._stack.read.sources]
                self._texts = texts if self._stack.faults else tuple(read)  # as looked at: it may be another by now
            return self._stack

    @property
    def folder(self) -> Path | None:
        """Where the undo lists are; None for the user's data folder."""
        return self._folder

    @property
    def is_read_only(self) -> bool:
        """Whether the file or its folder cannot be written."""
        real = Path(os.path.realpath(self.path))
        return not (os.access(real.parent, os.W_OK) and (not real.exists() or os.access(real, os.W_OK)))

    def edit(self, says: str, make: Callable[[Stack], Sequence[Edit]]) -> Stack:
        """Apply the edits that ``make`` returns for the show as it is now; they are on disk when this returns.

        Raises CompanionError or FaultyFile, and changes nothing then.
        """
        with self._alone:
            now = self._writable()
            edits = make(now)
            if edits:
                save(now.file, edits, says, check=self._check, folder=self._folder)
                self._last = self.path
            return self.look()

    def rewrite(self, says: Callable[[], str], make: Callable[[Stack], Sequence[NewText]]) -> Stack:
        """Write the texts that ``make`` returns for the show as it is now, in one step; all are on disk then.

        ``says`` is called after ``make``, for the step's name in undo and redo.
        Raises CompanionError or FaultyFile, and changes nothing then.
        """
        with self._alone:
            for _ in range(MAX_TRIES):
                changes = make(self._writable())
                for one in changes:
                    if one.file.path == self.path:
                        self._check(one.after)
                with suppress(ChangedOnDisk):
                    commit(changes, says(), folder=self._folder)
                    self._last = self.path
                    return self.look()
            raise ChangedOnDisk("another program keeps changing this show; nothing written")

    def undo(self) -> tuple[str, Stack]:
        """Undo the newest change; return its name. Raises CompanionError if there is none, or if it cannot be."""
        return self._take_back(lambda: self.undoable, "nothing to undo")

    def redo(self) -> tuple[str, Stack]:
        """Redo what was undone last; return its name. Raises CompanionError."""
        says, stack = self._take_back(lambda: self.redoable, "nothing to redo")
        return says.removeprefix("undo: "), stack

    def _take_back(self, find: Callable[[], Undo | None], nothing: str) -> tuple[str, Stack]:
        with self._alone:
            self._writable()
            found = find()
            if found is None:
                raise CompanionError(nothing)
            take_back(found, self._folder)
            return found.says, self.look()

    @property
    def undoable(self) -> Undo | None:
        """The newest change that can be undone, of the show or its songbooks, or None.

        Raises CompanionError if its lines were edited since.
        """
        return self._newest(undo_of)

    @property
    def redoable(self) -> Undo | None:
        """The last undo that can be taken back, or None: a change after it ends that."""
        found = self._newest(redo_of)
        last = self._newest(undo_of)
        return None if found is None or (last is not None and last.at > found.at) else found

    def _newest(self, find: Callable[[Path, Path | None], Undo | None]) -> Undo | None:
        """Return the newest step of the show or its songbooks; of one second's steps, the last one's of this page."""
        found = [(one, self.path) for one in (find(self.path, self._folder),) if one]
        for path in self._books:  # only what was changed since the show lay on the desk: other shows use them too
            with suppress(CompanionError):
                one = find(path, self._folder)
                if one and one.at >= self._since and not one.says.endswith(INTO_BOOK):
                    found.append((one, path))
        return max(found, key=lambda one: (one[0].at, one[1] == self._last), default=(None, None))[0]

    @property
    def _books(self) -> tuple[Path, ...]:
        """The songbooks that the show takes songs from."""
        return self._stack.read.songbooks if self._stack else ()

    def edit_book(self, says: str, make: Callable[[Stack], NewText]) -> Stack:
        """Write a songbook's text that ``make`` returns; it is on disk when this returns. Raises as ``edit``."""
        with self._alone:
            for _ in range(MAX_TRIES):
                change = make(self._writable())
                with suppress(ChangedOnDisk):
                    commit([change], says, folder=self._folder)
                    self._last = change.file.path.resolve()
                    return self.look()
            raise ChangedOnDisk("another program keeps changing the songbook; nothing was written")

    def _check(self, text: str) -> None:
        """Read a text that is about to be written; its reading is kept for when it is. Raises FaultyFile."""
        self._checked = show_in(SourceFile(str(self.path), text))

    def _writable(self) -> Stack:
        now = self.look()
        if now.faults:
            raise CompanionError("the show file has faults from an edit elsewhere; put them right first")
        return now

    def _read_texts(self) -> tuple[tuple[str, str], ...]:
        """Return the text of the show and its songbooks, or what keeps each from being read."""
        read = self._stack.read if self._stack else None
        books = [source.path for source in read.sources[1:]] if read else []
        return tuple((path, text_of(path)) for path in (str(self.path), *books))

    def _read_anew(self) -> Stack:
        try:
            file = open_text(self.path, self._folder)
            source = SourceFile(str(self.path), file.text or "")
            read = self._checked if self._checked and self._checked.sources[0].text == source.text else show_in(source)
            self._checked = None
        except FaultyFile as faulty:
            if self._stack is None:
                raise NothingToRead(faulty.faults) from faulty
            version = _hash(repr(faulty.faults))
            return msgspec.structs.replace(self._stack, version=version, faults=faulty.faults)
        names = names_in(source.text, source.path)
        version = _hash("\0".join(one.text for one in read.sources))
        return Stack(version, read, file, _sets(read.show, names))


def _sets(show: Show, names: Sequence[Sequence[SongNamed]]) -> tuple[SetOnDesk, ...]:
    seen: list[str] = []
    found = []
    for set_at, one in enumerate(show.sets):
        seen.append(one.name)
        songs = tuple(
            SongOnDesk(name, song, set_at, song_at)
            for song_at, (name, song) in enumerate(zip(names[set_at], one.songs, strict=True))
        )
        found.append(SetOnDesk(SetNamed(one.name, seen.count(one.name)), one, songs))
    return tuple(found)


def text_of(path: str) -> str:
    """Return a file's text, or what keeps it from being read."""
    try:
        return open_source(path).text
    except FaultyFile as faulty:
        return f"\0{faulty}"


def _hash(text: str) -> str:
    return hashlib.blake2s(text.encode(errors="surrogateescape"), digest_size=6).hexdigest()


@functools.lru_cache(4096)  # asked for several times an answer, for each song
def mark_of(text: str) -> str:
    """Return a short id for the page: of 500 songs, two share one in fewer than 1 of a million shows."""
    digest = hashlib.blake2s(text.encode(errors="surrogateescape"), digest_size=5).digest()
    return base64.b32encode(digest).decode().lower()
