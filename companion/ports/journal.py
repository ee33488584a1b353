"""The journal file: each record is written before the next event is handled, and synced in the background.

Nothing here raises once a night has begun: a full or lost disk is reported once, and unwritten records stay in memory
until they can be written.
"""

import contextlib
import os
import threading
from collections.abc import Callable
from pathlib import Path

import msgspec

from companion.ports.journal_lines import Header, JournalLineKind, JournalReading, ends_cleanly, line_of
from companion.ports.show_clock import wall_time_s

SYNC_EVERY_S = 0.1  # a power cut may lose 200 ms; a sync takes up to 50 ms
KEPT_AT_MOST = 100_000  # lines kept in memory while the disk cannot be written

Write = Callable[[int, bytes], int]
Sync = Callable[[int], None]


def fsync(descriptor: int) -> None:
    """Sync written data to the disk, through the drive's cache if the system supports it."""
    try:
        import fcntl

        full = getattr(fcntl, "F_FULLFSYNC", None)
        if full is not None:
            fcntl.fcntl(descriptor, full)
            return
    except (ImportError, OSError):
        pass  # the usual way, then
    os.fsync(descriptor)


class Journal:
    """One night's journal, open for writing."""

    def __init__(
        self,
        path: Path,
        next_number: int,
        trouble: Callable[[str], None],
        *,
        write: Write = os.write,
        sync: Sync = fsync,
    ) -> None:
        """Open the file, to continue after its contents. Raises OSError; later failures are passed to ``trouble``."""
        self.path = path
        path.parent.mkdir(parents=True, exist_ok=True)
        torn = path.exists() and not ends_cleanly(path)
        flags = os.O_APPEND | os.O_CREAT | os.O_WRONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOINHERIT", 0)
        self._file = os.open(path, flags, 0o644)
        self._write, self._sync = write, sync
        self._number = next_number
        self._trouble = trouble
        self._in_trouble = False
        self._sync_fails = False
        self._waiting: list[bytes] = []
        self._torn = torn
        self._lock = threading.Lock()
        self._new = threading.Event()
        self._over = False
        self._thread = threading.Thread(target=self._keep_syncing, name="journal sync", daemon=True)
        self._thread.start()

    @classmethod
    def begun(cls, path: Path, header: Header, trouble: Callable[[str], None]) -> "Journal":
        """Begin a new journal. Raises OSError."""
        journal = cls(path, 0, trouble)
        journal._add(JournalLineKind.HEADER, msgspec.json.encode(header))
        return journal

    @classmethod
    def continued(cls, path: Path, reading: JournalReading, trouble: Callable[[str], None]) -> "Journal":
        """Continue a journal after its last good line. Raises OSError."""
        return cls(path, reading.next_number, trouble)

    def write(self, record: bytes) -> None:
        """Write one event before returning; the sync follows in the background."""
        self._add(JournalLineKind.EVENT, record)

    def note(self, record: bytes) -> None:
        """Write what happened around the show; it does not change the state."""
        self._add(JournalLineKind.NOTE, record)

    def end(self) -> None:
        """Write that the night was ended normally, sync and close."""
        self._add(JournalLineKind.ENDED, b"{}")
        self.close()

    def close(self) -> None:
        """Sync and close."""
        self._over = True
        self._new.set()
        self._thread.join()
        with contextlib.suppress(OSError):
            self._sync(self._file)
        os.close(self._file)

    def _add(self, kind: JournalLineKind, content: bytes) -> None:
        with self._lock:
            self._waiting.append(line_of(self._number, kind, wall_time_s(), content))
            self._number += 1
            self._flush()
        self._new.set()

    def _flush(self) -> None:
        """Write the waiting lines, as far as possible. A torn line is terminated, then written again in full."""
        try:
            while self._waiting:
                line = self._waiting[0]
                whole = b"\n" + line if self._torn else line
                written = self._write(self._file, whole)
                if written < len(whole):
                    self._torn = self._torn or written > 0
                    self._tell("the disk is full")
                    return
                self._torn = False
                self._waiting.pop(0)
            self._in_trouble = False
        except OSError as fault:
            self._tell(fault.strerror or str(fault))
            del self._waiting[KEPT_AT_MOST:]

    def _tell(self, why: str) -> None:
        if not self._in_trouble:
            self._in_trouble = True
            self._trouble(f"the journal cannot be written ({why}): the show continues, but a restart loses this place")

    def _sync_or_report(self) -> None:
        try:
            self._sync(self._file)
        except OSError as fault:
            if not self._sync_fails:
                self._trouble(
                    f"the disk does not save the journal ({fault.strerror or fault}): the show continues, "
                    "but a power cut loses this place"
                )
            self._sync_fails = True
        else:
            self._sync_fails = False

    def _keep_syncing(self) -> None:
        """Sync what was written, and write what could not be written before. Runs in a thread of its own."""
        while not self._over:
            self._new.wait()
            self._new.clear()
            with self._lock:
                self._flush()
            self._sync_or_report()
            if self._over:
                return
            if self._waiting:  # the disk is full: try again at the next press, or in a while
                self._new.wait(SYNC_EVERY_S * 10)
                self._new.set()
            else:
                threading.Event().wait(SYNC_EVERY_S)
