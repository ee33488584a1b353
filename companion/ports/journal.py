"""The journal file: each record is written before the next event is handled, and synced in the background.

A thread of its own writes, and the foot waits for it: a killed program must find what it did. It waits briefly, since a
disk may hang: the show then continues without waiting until the disk answers again.

Nothing here raises once a night has begun: a full, lost or hanging disk is reported once, and unwritten records stay in
memory until they can be written.
"""

import contextlib
import os
import queue
import threading
import time
from collections.abc import Callable
from pathlib import Path

import msgspec

from companion.ports.journal_lines import Header, JournalLineKind, JournalReading, ends_cleanly, line_of
from companion.ports.journal_shelf import mark_ended
from companion.ports.show_clock import wall_time_s
from companion.ports.thread_priority import ask_for_real_time

SYNC_EVERY_S = 0.1  # a power cut may lose 200 ms; a sync takes up to 50 ms
TRY_AGAIN_S = 1.0  # between two attempts on a full disk
KEPT_AT_MOST = 100_000  # lines kept in memory while the disk cannot be written
WAIT_S = 0.05  # the longest that a press waits for its line; a disk that is well takes a thousandth of it
RESUMES = "the next start resumes this night unless you give --fresh"
HANGS_AFTER_S = 0.5  # a disk that is only busy is not worth a word on stage

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
    """One night's journal, open for writing. One thread adds lines; it waits for each, but never long."""

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
        self._why_unsaved = ""
        self._sync_fails = False
        self._added: queue.SimpleQueue[tuple[int, bytes] | None] = queue.SimpleQueue()  # None: no more
        self._tried: queue.SimpleQueue[int] = queue.SimpleQueue()  # numbers of the lines that the writer has tried
        self._waiting: list[bytes] = []  # the writer's own: lines that the disk did not take
        self._hanging = threading.Event()
        self._torn = torn
        self._new = threading.Event()
        self._over = False
        self._syncer = threading.Thread(target=self._keep_syncing, name="journal sync", daemon=True)
        self._writer = threading.Thread(target=self._keep_writing, name="journal", daemon=True)
        self._syncer.start()
        self._writer.start()

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

    @property
    def is_unsaved(self) -> bool:
        """Whether a restart would lose this place: the disk has not taken the last lines."""
        return bool(self._why_unsaved)

    @property
    def has_unwritten(self) -> bool:
        """Whether lines wait for a disk that is full or hangs, even for a moment."""
        return self._hanging.is_set() or bool(self._waiting)

    def write(self, record: bytes) -> None:
        """Write one event before returning, unless the disk hangs; the sync follows in the background."""
        self._add(JournalLineKind.EVENT, record)

    def note(self, record: bytes) -> None:
        """Write what happened around the show; it does not change the state."""
        self._add(JournalLineKind.NOTE, record)

    def end(self) -> None:
        """Write that the night was ended normally, sync and close. A full disk takes this as the file's name."""
        self._add(JournalLineKind.ENDED, b"{}")
        self.close()
        if self._waiting:
            try:
                self.path = mark_ended(self.path)
            except OSError as fault:
                self._trouble(f"the journal cannot be ended ({fault.strerror}): {RESUMES}")

    def close(self) -> None:
        """Sync and close. This waits for the disk as long as it takes."""
        self._added.put(None)
        self._writer.join()
        self._over = True
        self._new.set()
        self._syncer.join()
        with contextlib.suppress(OSError):
            self._sync(self._file)
        os.close(self._file)

    def _add(self, kind: JournalLineKind, content: bytes) -> None:
        """Pass a line to the writer, and wait until it was tried; not while the disk hangs."""
        number = self._number
        self._number += 1
        if self._added.qsize() < KEPT_AT_MOST:
            self._added.put((number, line_of(number, kind, wall_time_s(), content)))
        if self._hanging.is_set() or self._was_tried(number, WAIT_S):
            return
        self._hanging.set()
        if self._was_tried(number, 0):  # at the last moment
            self._hanging.clear()
            return
        patience = threading.Timer(HANGS_AFTER_S, self._tell_if_hanging)
        patience.daemon = True
        patience.start()

    def _was_tried(self, number: int, wait_s: float) -> bool:
        """Wait until the writer has tried this line; return False if it takes longer."""
        until_s = time.monotonic() + wait_s
        with contextlib.suppress(queue.Empty):
            while self._tried.get(timeout=max(0.0, until_s - time.monotonic())) < number:
                pass
            return True
        return False

    def _keep_writing(self) -> None:
        """Write each line as it comes, and what a full disk did not take. Runs in a thread of its own."""
        ask_for_real_time()
        while True:
            try:
                added = self._added.get(timeout=TRY_AGAIN_S if self._waiting else None)
            except queue.Empty:
                self._flush()
                continue
            if added is None:
                self._flush()
                return
            number, line = added
            self._waiting.append(line)
            self._flush()
            self._tried.put(number)
            if self._added.empty():
                self._hanging.clear()
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
            if self._added.empty():
                self._why_unsaved = ""
        except OSError as fault:
            self._tell(fault.strerror or str(fault))
            del self._waiting[KEPT_AT_MOST:]

    def _tell_if_hanging(self) -> None:
        if self._hanging.is_set():
            self._tell("the disk does not answer")

    def _tell(self, why: str) -> None:
        if not self._why_unsaved:
            self._why_unsaved = why
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
        """Sync what was written. Runs in a thread of its own: a sync takes longer than a press may wait."""
        while not self._over:
            self._new.wait()
            self._new.clear()
            self._sync_or_report()
            if not self._over:
                threading.Event().wait(SYNC_EVERY_S)
