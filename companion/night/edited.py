"""Watch the night's files for edits, and read the show again if the player asks.

Never automatically: tidying up a file in the break must not change what the foot does.
"""

import contextlib
import queue
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

import msgspec

from companion.errors import Fault, FaultyFile
from companion.night.default_keys import READ_KEY
from companion.night.happenings import FilesEdited, ShowRead, SongbooksRead
from companion.night.preflight import faults_of_missed
from companion.night.songbooks import AFTER_S, fetch_songs
from companion.rig import Rig
from companion.stage import State, carried_over, make_book
from companion.view.short_words import cut

LOOK_EVERY_S = 2.0
AT_REST_S = 0.12  # longer than the 92 ms of the slowest key repeat: the key is released (see screen/terminal_keys.py)
FAULT_WORDS = 8  # of a fault, on the screen
WRITE_WORDS = 3  # of what to write instead; the terminal has all of both
LONG_S = 5.0  # two thousand songs take a second or two: after this the disk may hang, and the player must know

Stamp = tuple[int, int, int]
"""When a file was written, its size, and its identity: an editor may replace the file by another."""


class Files(msgspec.Struct, frozen=True):
    """The files of a night, with their stamps from before they were read."""

    show: Path
    rig: Path
    songbooks: tuple[Path, ...] = ()
    stamps: tuple[tuple[Path, Stamp], ...] = ()

    def of_show(self) -> tuple[Path, ...]:
        """Return the files that the show is read from."""
        return (self.show, *self.songbooks)


def stamp_of(path: Path) -> Stamp | None:
    """Return a file's stamp; None if it is missing, as it may be for a moment while an editor writes it."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def files_now(show: Path, rig: Path, songbooks: Sequence[Path] = ()) -> Files:
    """Return the files with their stamps; call this before they are read."""
    found = ((path, stamp_of(path)) for path in dict.fromkeys((show, rig, *songbooks)))
    return Files(show, rig, tuple(songbooks), tuple((path, stamp) for path, stamp in found if stamp is not None))


class ShowReader(Protocol):
    """Reads the show again on request."""

    def read_again(self, rig: Rig) -> None:
        """Request it without waiting: the answer comes to the inbox, one for all requests made meanwhile."""


class EditedFiles:
    """Checks the files now and then, and reads the show again; in its own threads, until ``over`` is set."""

    def __init__(
        self, files: Files, tell: Callable[[FilesEdited | ShowRead | SongbooksRead], None], over: threading.Event
    ) -> None:
        """``files`` are as they were when the night began; ``tell`` puts each event into the night's inbox."""
        self._files = files
        self._tell = tell
        self._over = over
        self._reported = FilesEdited(show=False, rig=False)
        self._before: dict[Path, Stamp | None] = {}
        self._requests: queue.SimpleQueue[Rig] = queue.SimpleQueue()
        threading.Thread(target=self._read_on_request, name="show read again", daemon=True).start()

    def watch(self) -> None:
        """Start checking, and read the songbooks for the call box."""
        threading.Thread(target=self._watch, name="files", daemon=True).start()
        self._fetch()

    def read_again(self, rig: Rig) -> None:
        """Read the show again, on this rig: an edited rig takes effect at the next start."""
        self._requests.put(rig)

    def look(self) -> None:
        """Check once. A file is reported if it differs from the one read and was the same at two checks."""
        known, files = dict(self._files.stamps), self._files
        now = {path: stamp_of(path) for path in (*files.of_show(), files.rig)}
        changed = {
            path
            for path, stamp in now.items()
            if stamp is not None and stamp != known.get(path) and stamp == self._before.get(path)
        }
        self._before = now
        found = FilesEdited(show=not changed.isdisjoint(files.of_show()), rig=files.rig in changed)
        if found != self._reported:
            self._reported = found
            self._tell(found)

    def _fetch(self, after_s: float = AFTER_S) -> bool:
        """Fetch the songs of the songbooks that the show now uses; return whether it uses any."""
        files = self._files

        def tell(read: SongbooksRead) -> None:
            if self._files is files:  # otherwise the show was read again meanwhile, and these songs are outdated
                self._tell(read)

        return fetch_songs(files.show, files.songbooks, tell, self._over, after_s) is not None

    def _watch(self) -> None:
        while not self._over.wait(LOOK_EVERY_S):
            self.look()

    def _read_on_request(self) -> None:
        """Read at once on request, and once more for all requests made meanwhile: a held key repeats them."""
        rig = self._requests.get()
        while True:
            self._read(rig)
            rig = self._requested_meanwhile() or self._requests.get()

    def _requested_meanwhile(self) -> Rig | None:
        """Return the last request made during the reading, once the key is released; None if there was none."""
        last = None
        with contextlib.suppress(queue.Empty):
            while True:
                last = self._requests.get(timeout=AT_REST_S)
        return last

    def _read(self, rig: Rig) -> None:
        """Read and answer, and survive any error: if this thread ended, f5 would do nothing all night."""
        slow = threading.Timer(LONG_S, self._refuse, ("it is still being read",))
        try:
            slow.start()
            read = self._read_now(rig)
        except Exception as fault:  # noqa: BLE001 - same
            self._refuse(f"an internal error while reading ({fault!r})")
            return
        finally:
            slow.cancel()
        self._tell(read)
        with contextlib.suppress(RuntimeError):  # no thread can be started: the call box keeps its songs
            if read.book is not None and not self._fetch(after_s=0):
                self._tell(SongbooksRead(()))  # songs of songbooks that the show no longer uses are removed

    def _refuse(self, why: str) -> None:
        self._tell(ShowRead(faults=(Fault(str(self._files.show), 0, 0, why),)))

    def _read_now(self, rig: Rig) -> ShowRead:
        from companion.show import read_show

        before, path = self._files, self._files.show
        stamps = files_now(path, before.rig, before.songbooks).stamps
        try:
            read = read_show(path)
        except FaultyFile as faulty:
            return ShowRead(faults=faulty.faults)
        book, missed = make_book(read.show, rig)
        if missed:
            return ShowRead(faults=faults_of_missed(read, missed, path))
        found = {**dict(files_now(path, before.rig, read.songbooks).stamps), **dict(stamps)}
        if before.rig in dict(before.stamps):
            found[before.rig] = dict(before.stamps)[before.rig]  # it was not read again
        self._files = Files(path, before.rig, read.songbooks, tuple(found.items()))
        return ShowRead(book)


def continued(
    state: State, read: ShowRead, go_on: Callable[[State, int], str], at_ms: int
) -> tuple[State, tuple[str, ...]]:
    """Return the state in the show as read, continued in a new journal, and the notice, longest form first.

    With faults, no songs or no journal, the state is unchanged; all faults are listed in the terminal.
    """
    if read.book is None:
        return state, _refusal(read.faults)
    if any(state.book.order) and not any(read.book.order):  # an editor may still be writing it
        return state, ("no songs in the file; the show continues unchanged", "no songs; show unchanged")
    after = carried_over(state, read.book)
    refused = go_on(after, at_ms)
    if refused:
        return state, (f"{refused}; the show continues unchanged", "no journal; show unchanged")
    return after, ("edited show read",)


def _refusal(faults: Sequence[Fault]) -> tuple[str, ...]:
    """Return what is wrong first, where, and what to write, longest form first."""
    first, more = faults[0], f"{len(faults)} faults, " if len(faults) > 1 else ""
    file = Path(first.path).name
    where = f"{more}line {first.line}" if first.line else file
    what = f"{where}: {cut(first.problem, FAULT_WORDS)}"
    write = f"; write: {first.write}" if first.write and len(first.write.split()) <= WRITE_WORDS else ""
    forms = (
        f"{what}{write}; the show continues unchanged",
        f"{what}; the show continues unchanged",
        f"{what}; show unchanged",
        f"{where}; show unchanged" if first.line else f"{file} is faulty; show unchanged",
    )
    return tuple(dict.fromkeys(forms))


def edited_words(edited: FilesEdited) -> str | None:
    """Return the notice that says what was edited, and what to do."""
    notices = [f"show edited: {READ_KEY} to read it"] if edited.show else []
    notices += ["rig edited: takes effect at the next start"] if edited.rig else []
    return "; ".join(notices) or None
