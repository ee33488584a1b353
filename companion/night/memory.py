"""The night's memory: which journal is taken up and which begun, and the promise that no second copy writes it."""

import contextlib
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec

from companion.errors import NoStage
from companion.ports import (
    JOURNAL_VERSION,
    AnotherCopy,
    Header,
    Journal,
    NotAJournal,
    OneCopy,
    Told,
    is_stale,
    journals_on,
    new_name,
    read_journal,
    shelf_of,
    wall_time_s,
)
from companion.rig import data_path
from companion.stage import Book, Landmark, State, at_start, find_again, landmark, replay

from .entries import Around, Entry, Note, TakenUp, entries_of, fingerprint, note_line

_MS = 1000


class Memory:
    """The journal of one night, open; or none, where the disk takes none."""

    def __init__(self, taken_up: TakenUp, journal: Journal | None) -> None:
        """Take where the night begins, and what it is written to."""
        self.taken_up = taken_up
        self._journal = journal

    def write(self, record: bytes) -> None:
        """Hand one record to the system."""
        if self._journal is not None:
            self._journal.write(record)

    def note(self, record: bytes) -> None:
        """Hand over what happened around the show."""
        if self._journal is not None:
            self._journal.note(record)

    def end(self) -> None:
        """Write that the night was ended in order."""
        if self._journal is not None:
            self._journal.end()


class Wish(msgspec.Struct, frozen=True):
    """What the player asked for: start over, or take up a night that was ended or is old."""

    fresh: bool = False
    resume: bool = False


@contextlib.contextmanager
def memory_of(show_path: Path, book: Book, wish: Wish, say: Callable[[str], None]) -> Iterator[Memory]:
    """Open the memory of a show, alone. Raises NoStage where another copy plays it."""
    shelf = shelf_of(show_path, data_path())
    try:
        lock = OneCopy(shelf / "lock")
    except AnotherCopy:
        raise NoStage(f"{show_path} is being played by another copy of companion; end that one first") from None
    with lock:
        yield _open(shelf, show_path, book, wish, say)


def _open(shelf: Path, show_path: Path, book: Book, wish: Wish, say: Callable[[str], None]) -> Memory:
    told_at = None if wish.fresh else _last_night(shelf, wish, say)
    mark = fingerprint(book.show)
    if told_at is not None and told_at[0].header.fingerprint == mark:
        told, path = told_at
        taken_up = _replayed(book, told, wall_time_s())
        with contextlib.suppress(OSError):
            return _told_again(Memory(taken_up, Journal.gone_on(path, told, say)))
    elif told_at is not None:
        taken_up = _found_again(book, told_at[0], wall_time_s())
    else:
        taken_up = TakenUp(at_start(book))
    begins_at = msgspec.Raw(msgspec.json.encode(landmark(taken_up.state) if told_at is not None else None))
    header = Header(
        JOURNAL_VERSION,
        str(show_path),
        book.show.title,
        mark,
        begins_at,
        msgspec.Raw(msgspec.json.encode(book.show)),
        before=told_at[1].name if told_at is not None else "",
    )
    try:
        memory = Memory(taken_up, Journal.begun(new_name(shelf), header, say))
    except OSError as fault:
        say(f"no journal can be kept ({fault.strerror}): the show goes on, a restart would not know its place")
        return Memory(taken_up, None)
    return memory if told_at is None else _told_again(memory)


def _told_again(memory: Memory) -> Memory:
    """Write down that the program was started again, for the debrief."""
    taken_up = memory.taken_up
    memory.note(note_line(Note(taken_up.at_ms, Around.TAKEN_UP, landmark(taken_up.state))))
    return memory


def _last_night(shelf: Path, wish: Wish, say: Callable[[str], None]) -> tuple[Told, Path] | None:
    """Give the journal to take up, if there is one.

    "A killed program goes on where it was. One that was ended in order, or a journal older than twelve hours, starts
    anew (``--resume`` takes it up)."
    """
    path = next(iter(journals_on(shelf)), None)
    if path is None:
        return None
    try:
        told = read_journal(path)
    except (NotAJournal, OSError) as fault:
        say(f"the last journal is left as it is and a new one begun: {fault}")
        return None
    if told.lost:
        say(told.lost)
    if not wish.resume and told.ended:
        return None
    if not wish.resume and is_stale(told.last_s, wall_time_s()):
        say("the last journal is older than twelve hours and a new one begun (--resume takes it up)")
        return None
    return told, path


def _replayed(book: Book, told: Told, now_s: float) -> TakenUp:
    """Play the journal again, from where it began."""
    entries = entries_of(told.events)
    state = replay(book, (entry.event for entry in entries), _beginning(book, told))
    return TakenUp(state, _time_now(entries, told, now_s), _place_said("taken up", state) if entries else "")


def _found_again(book: Book, told: Told, now_s: float) -> TakenUp:
    """Find the last place again by its names, in a show that was edited since."""
    entries = entries_of(told.events)
    at_ms = _time_now(entries, told, now_s)
    mark = entries[-1].mark if entries else _begins_at(told)
    if mark is None:
        return TakenUp(at_start(book), at_ms)
    found = find_again(book, mark)
    if found is None:
        return TakenUp(at_start(book), at_ms, f'the show was edited, "{mark.song}" is gone: from the top')
    return TakenUp(found, at_ms, _place_said("the show was edited; taken up", found))


def _beginning(book: Book, told: Told) -> State | None:
    mark = _begins_at(told)
    return None if mark is None else find_again(book, mark)


def _begins_at(told: Told) -> Landmark | None:
    try:
        return msgspec.json.decode(told.header.begins_at, type=Landmark | None)
    except msgspec.DecodeError:
        return None


def _time_now(entries: tuple[Entry, ...], told: Told, now_s: float) -> int:
    """Go on with the show's own time; a clock that was set back since stops it for as long as we were away."""
    last_ms = entries[-1].event.at_ms if entries else 0
    return last_ms + max(0, round((now_s - told.last_s) * _MS))


def _place_said(how: str, state: State) -> str:
    mark = landmark(state)
    where = f"{mark.song}, {mark.section}".rstrip(", ") if mark.song else mark.where.value
    return f"{how} at {where}"
