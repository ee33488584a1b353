"""The night's memory: which journal to resume and which to begin, with a lock against a second copy."""

import contextlib
import errno
import queue
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from companion.errors import UNREADABLE, NoStage
from companion.night.entries import (
    Entry,
    EntryContext,
    JournalNote,
    ResumedNight,
    beginning_in,
    entries_of,
    fingerprint,
    note_line,
    state_at,
)
from companion.night.notices import CONTINUED
from companion.ports import (
    JOURNAL_VERSION,
    AnotherCopy,
    Header,
    Journal,
    JournalReading,
    NotAJournal,
    SingleCopyLock,
    is_marked_ended,
    is_stale,
    journals_on,
    new_name,
    read_journal,
    shelf_of,
    wall_time_s,
)
from companion.ports.journal import RESUMES
from companion.rig import Rig, data_path
from companion.show import Show
from companion.shown import harmless
from companion.stage import (
    Beginning,
    Book,
    Landmark,
    PositionKind,
    State,
    at_start,
    beginning_of,
    carried_over,
    find_again,
    is_gone,
    landmark,
    make_book,
    replay,
    without_next,
)

EDITED = "the show was edited"
_MS = 1000
BEGIN_S = 0.25  # the longest that the foot waits for a new journal, when the show is read again
END_S = 2.0  # the longest that an ended night waits for its disk


class Shelf(msgspec.Struct, frozen=True):
    """Where the journals of one show are, and how to report problems with them."""

    path: Path
    show_path: Path
    say: Callable[[str], None]

    def begin(self, state: State, beginning: Beginning | None = None, before: str = "") -> Journal:
        """Begin a journal at this state: the show's start, or a continuation of ``before``. Raises OSError."""
        show = state.book.show
        header = Header(
            JOURNAL_VERSION,
            harmless(str(self.show_path)),
            show.title,
            fingerprint(show),
            msgspec.Raw(msgspec.json.encode(beginning)),
            msgspec.Raw(msgspec.json.encode(show)),
            before,
        )
        return Journal.begun(new_name(self.path), header, self.say)

    def begin_soon(self, state: State, beginning: Beginning, before: str) -> Journal:
        """Begin a journal, or raise TimeoutError if the disk hangs. Raises OSError."""
        begun: queue.SimpleQueue[Journal | OSError] = queue.SimpleQueue()
        given_up = threading.Lock()

        def begin() -> None:
            try:
                journal = self.begin(state, beginning, before)
            except OSError as fault:
                begun.put(fault)
                return
            if given_up.acquire(blocking=False):
                begun.put(journal)
            else:  # a restart must not find it: the night goes on in the old one
                journal.close()
                with contextlib.suppress(OSError):
                    journal.path.unlink()

        threading.Thread(target=begin, name="journal begin", daemon=True).start()
        try:
            found = begun.get(timeout=BEGIN_S)
        except queue.Empty:
            if given_up.acquire(blocking=False):
                raise TimeoutError(errno.ETIMEDOUT, "the disk does not answer") from None
            found = begun.get()  # it began at the last moment
        if isinstance(found, OSError):
            raise found
        return found


class Memory:
    """The journal of one night, open; or none, if the disk cannot be written."""

    def __init__(self, resumed: ResumedNight, journal: Journal | None, shelf: Shelf) -> None:
        """``resumed`` is where the night begins, and the journal records it from there."""
        self.resumed = resumed
        self._journal = journal
        self._shelf = shelf

    @property
    def is_unsaved(self) -> bool:
        """Whether a restart would lose this place."""
        return self._journal is None or self._journal.is_unsaved

    def write(self, record: bytes) -> None:
        """Write one record."""
        if self._journal is not None:
            self._journal.write(record)

    def note(self, record: bytes) -> None:
        """Write what happened around the show."""
        if self._journal is not None:
            self._journal.note(record)

    def go_on(self, state: State, at_ms: int) -> str:
        """Continue in a new journal from a state whose show was read again; return why that failed, or "".

        If the program is killed before the new journal has its header, the old one is resumed, and its place is found
        in the edited show.
        """
        if self._journal is None:
            return ""
        try:
            journal = self._shelf.begin_soon(state, beginning_of(state, at_ms), self._journal.path.name)
        except OSError as fault:
            return f"cannot write the journal ({fault.strerror})"
        # This waits for its own disk access, and the foot must not.
        threading.Thread(target=self._journal.close, name="journal end", daemon=True).start()
        self._journal = journal
        return ""

    def end(self, *, dry_run: bool = False, is_over: bool = True) -> None:
        """Record that the player ended the night, or, if it is not over, only sync it: the next start continues it.

        ``dry_run``: no keyboard was ever there, so a night that is over was not a show.
        """
        if self._journal is not None:
            if dry_run and is_over:
                self.note(note_line(JournalNote(0, EntryContext.DRY_RUN, landmark(self.resumed.state))))
            last = self._journal.end if is_over else self._journal.close
            ending = threading.Thread(target=last, name="journal end", daemon=True)
            ending.start()
            ending.join(END_S)
            if ending.is_alive() and self._journal.has_unwritten:  # not a sync that takes its time
                self._shelf.say(f"the disk does not answer: {RESUMES}")


class StartOptions(msgspec.Struct, frozen=True):
    """The player's choice: start over, or resume a night that was ended or is old.

    ``as_if_at_s`` starts the night on the show's own day at this second after midnight (None: now).
    """

    fresh: bool = False
    resume: bool = False
    as_if_at_s: int | None = None


def should_resume(show_path: Path, options: StartOptions) -> bool:
    """Return whether a night of this show has had its first press and was not ended, and so will be resumed."""
    shelf = Shelf(shelf_of(show_path, data_path()), show_path, say=lambda _: None)
    last = None if options.fresh else _last_night(shelf, options)
    return last is not None and _has_begun(last[0])


def _has_begun(journal: JournalReading) -> bool:
    """Return whether anything was played in this journal or in the one that it continues."""
    return bool(journal.events or journal.header.before)


@contextlib.contextmanager
def memory_of(show_path: Path, book: Book, options: StartOptions, say: Callable[[str], None]) -> Iterator[Memory]:
    """Open the memory of a show, exclusively. Raises NoStage if another copy plays it."""
    shelf = shelf_of(show_path, data_path())
    try:
        lock = SingleCopyLock(shelf / "lock")
    except AnotherCopy:
        raise NoStage(f"{show_path} is being played by another copy of companion; end that one first") from None
    with lock:
        yield _open(Shelf(shelf, show_path, say), book, options)


def _open(shelf: Shelf, book: Book, options: StartOptions) -> Memory:
    found = None if options.fresh else _last_night(shelf, options)
    if found is None or not (_has_begun(found[0]) or _is_same_show(book.show, found[0])):
        # nothing was played of a show that differs now: it starts at its top
        resumed, beginning, before = ResumedNight(at_start(book)), None, ""
    else:
        journal, path = found
        if _is_same_show(book.show, journal):
            resumed = _replayed(book, journal, wall_time_s())
            if not (journal.has_gap or is_marked_ended(path)):  # lines written after a gap would never be read
                with contextlib.suppress(OSError):
                    return _with_restart_noted(Memory(resumed, Journal.continued(path, journal, shelf.say), shelf))
        else:
            if not book.songs:  # saved half-finished: that must not discard what was played
                raise NoStage(
                    f"{shelf.show_path} has no songs now, but the interrupted night had. Write: its songs again,"
                    " or play with --fresh"
                )
            resumed = _found_again(book, journal, wall_time_s())
        beginning, before = beginning_of(resumed.state, resumed.at_ms), path.name
    try:
        memory = Memory(resumed, shelf.begin(resumed.state, beginning, before), shelf)
    except OSError as fault:
        shelf.say(f"cannot write a journal ({fault.strerror}): the show continues, but a restart loses its place")
        return Memory(resumed, None, shelf)
    return memory if found is None else _with_restart_noted(memory)  # what the keyboard was sent must be undone


def _with_restart_noted(memory: Memory) -> Memory:
    """Record for the debrief that the program was started again."""
    resumed = memory.resumed
    memory.note(note_line(JournalNote(resumed.at_ms, EntryContext.TAKEN_UP, landmark(resumed.state))))
    return memory


def _last_night(shelf: Shelf, options: StartOptions) -> tuple[JournalReading, Path] | None:
    """Return the journal to resume, if there is one.

    A night that the player did not end continues where it was, whatever ended the program. One that the player ended,
    or a journal older than twelve hours, starts from the top unless ``--resume`` continues it. If the newest journal
    lacks its header because of a kill, the one before it counts.
    """
    for path in journals_on(shelf.path):
        if is_marked_ended(path) and not options.resume:
            return None  # whatever the full disk left in it: the journal before it is not the last night's
        try:
            journal = read_journal(path)
        except (NotAJournal, OSError) as fault:
            shelf.say(f"skipping a journal, which stays as it is: {fault}")
            continue
        if journal.lost:
            shelf.say(journal.lost)
        if not options.resume and journal.ended:
            return None
        if not options.resume and is_stale(journal.last_s, wall_time_s()):
            shelf.say("the last journal is older than twelve hours; starting a new one (--resume continues the last)")
            return None
        return journal, path
    return None


def _replayed(book: Book, journal: JournalReading, now_s: float) -> ResumedNight:
    """Replay the journal, from where it began."""
    entries = entries_of(journal.events)
    state = replay(book, (entry.event for entry in entries), _beginning(book, journal))
    notice = _continued_at("continued", state) if entries or journal.header.before else ""
    return ResumedNight(state, _time_now(entries, journal, now_s), notice)


def _found_again(book: Book, journal: JournalReading, now_s: float) -> ResumedNight:
    """Find the last place again by its names, in a show that was edited since."""
    entries = entries_of(journal.events)
    at_ms = _time_now(entries, journal, now_s)
    was = _earlier_state(book.rig, journal, entries)
    if was is not None:
        return _carried(was, book, at_ms)
    begins = beginning_in(journal.header.begins_at)
    mark = entries[-1].mark if entries else begins if isinstance(begins, Landmark) else None
    state = None if mark is None else find_again(book, mark)
    if mark is None or state is None:
        gone = f'"{mark.song}" is gone' if mark else "and its journal does not know the old one"
        words = f"{EDITED}, {gone}: from the top" if entries else ""
        return ResumedNight(at_start(book), at_ms, words, from_the_top=True)
    return ResumedNight(state, at_ms, _continued_at(f"{EDITED}{CONTINUED}", state))


def _carried(was: State, book: Book, at_ms: int) -> ResumedNight:
    """Return the night in the edited show.

    A song that plays and is gone from the file stays for tonight; if it was only up next, the one after it is now.
    """
    there = carried_over(was, book)
    if was.song is None or not is_gone(was, there):
        return ResumedNight(there, at_ms, _continued_at(f"{EDITED}{CONTINUED}", there))
    if there.place.where is PositionKind.UP_NEXT:
        there = without_next(there)
    words = f'{EDITED}, "{was.song.song.title}" is gone from it{CONTINUED}'
    return ResumedNight(there, at_ms, _continued_at(words, there))


def _titles(book: Book) -> set[str]:
    return {one.song.title.casefold() for one in book.songs}


def _is_same_show(show: Show, journal: JournalReading) -> bool:
    """Return whether the journal is of this show, as written now.

    An earlier version of the program gave the same show another fingerprint if its songs had fewer keys; the copy in
    the journal then shows that nothing was edited.
    """
    return journal.header.fingerprint == fingerprint(show) or _as_played(journal) == show


def _as_played(journal: JournalReading) -> Show | None:
    """Return the copy of the show in the journal; None if it has none that this version can read."""
    try:
        return msgspec.json.decode(journal.header.as_played, type=Show | None)
    except UNREADABLE:
        return None


def _earlier_state(rig: Rig, journal: JournalReading, entries: tuple[Entry, ...]) -> State | None:
    """Return the last state of the show as it was then, from the copy in the journal; None if there is no copy."""
    show = _as_played(journal)
    if show is None:
        return None
    book = make_book(show, rig)[0]
    state = replay(book, (entry.event for entry in entries), _beginning(book, journal))
    return state if not entries or landmark(state) == entries[-1].mark else None


def _beginning(book: Book, journal: JournalReading) -> State | None:
    return state_at(book, beginning_in(journal.header.begins_at))


def _time_now(entries: tuple[Entry, ...], journal: JournalReading, now_s: float) -> int:
    """Continue the show's own time; if the clock was set back since, the time away does not count."""
    begins = beginning_in(journal.header.begins_at)
    began_ms = begins.at_ms if isinstance(begins, Beginning) else 0
    last_ms = entries[-1].event.at_ms if entries else began_ms
    return last_ms + max(0, round((now_s - journal.last_s) * _MS))


def _continued_at(how: str, state: State) -> str:
    mark = landmark(state)
    where = f"{mark.song}, {mark.section}".rstrip(", ") if mark.song else mark.where.value
    return f"{how} at {where}"
