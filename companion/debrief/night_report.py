"""The debrief, from the night's journal: what was played, what was different, what to learn from it."""

from collections.abc import Iterator
from pathlib import Path
from statistics import median

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.night.entries import JournalNote, beginning_in, entries_of, notes_of, state_at
from companion.ports import JournalReading, NotAJournal, journals_on, read_journal, shelf_of
from companion.rig import Rig, data_path
from companion.show import Show, read_show
from companion.stage import Book, State, make_book
from companion.stage.played import Changed, SongPlayed, TakenBack, played, section_word

NO_RIG = Rig("")
"""What was played asks for no sound."""

LENGTH_DIFFERS_S = 10  # presses are not exact: smaller differences do not count


class LengthLearned(msgspec.Struct, frozen=True):
    """A song's real length: the median of all nights in which it was played whole."""

    song: str
    occurrence: int
    was_s: int | None
    now_s: int
    nights: int


class OpenLearned(msgspec.Struct, frozen=True):
    """A section that was repeated without being written as open; ``number`` counts the song's sections from 0."""

    song: str
    occurrence: int
    number: int
    section: str


class Learned(msgspec.Struct, frozen=True):
    """Proposed changes to the show file. ``order`` gives each set as (title, occurrence); empty if nothing moved."""

    lengths: tuple[LengthLearned, ...] = ()
    opened: tuple[OpenLearned, ...] = ()
    order: tuple[tuple[tuple[str, int], ...], ...] = ()


class Debrief(msgspec.Struct, frozen=True):
    """One night, summarized. Times in ms since the show began; ``said`` are remarks about the journal itself."""

    show: str
    journal: str
    ended: bool
    steps: int
    songs: tuple[SongPlayed, ...]
    changes: tuple[Changed, ...]
    taken_back: tuple[TakenBack, ...]
    around: tuple[JournalNote, ...]
    not_played: tuple[str, ...]
    learned: Learned
    said: tuple[str, ...] = ()


def debrief(show_path: Path, journal: Path | None = None) -> Debrief | None:
    """Return the debrief of a show's newest night, or of a given journal; None if no night has been recorded yet.

    Raises CompanionError if the journal cannot be read.
    """
    shelf = journals_on(shelf_of(show_path, data_path()))
    path = journal or next(iter(shelf), None)
    if path is None:
        return None
    told = _read(path)
    book = _book_of(told, show_path)
    entries = entries_of(told.events)
    night = played(book, (one.event for one in entries), _beginning(book, told))
    said = [told.lost] if told.lost else []
    if told.header.before:
        said.append(f"the show was edited during the night; the part before that is in {told.header.before}")
    if len(entries) < len(told.events):
        said.append(f"only the first {len(entries)} steps can be read; the rest was written by a newer version")
    nights = [one for other in shelf if (one := _songs_of(other, show_path)) is not None] if journal is None else []
    return Debrief(
        told.header.title,
        str(path),
        told.ended,
        len(entries),
        night.songs,
        night.changes,
        night.taken_back,
        notes_of(told.notes),
        night.not_played,
        Learned(
            tuple(_lengths(book, night.songs, nights or [_whole(book, night.songs)])),
            tuple(_opened(book, night.songs)),
            _order(book, night.order),
        ),
        tuple(said),
    )


def _read(path: Path) -> JournalReading:
    try:
        return read_journal(path)
    except NotAJournal as fault:
        raise CompanionError(str(fault)) from fault
    except OSError as fault:
        raise CompanionError(f"{path} cannot be read: {fault.strerror or fault}") from fault


def _book_of(told: JournalReading, show_path: Path) -> Book:
    """Return the show as it was played, from the journal itself; else as the file has it now."""
    try:
        show = msgspec.json.decode(told.header.as_played, type=Show | None)
    except UNREADABLE:
        show = None
    return make_book(show or read_show(show_path).show, NO_RIG)[0]


def _beginning(book: Book, told: JournalReading) -> State | None:
    return state_at(book, beginning_in(told.header.begins_at))


Whole = dict[tuple[str, int], int]
"""Return the seconds that each song took when played whole, by title and occurrence."""


def _songs_of(path: Path, show_path: Path) -> Whole | None:
    """Add the lengths of one more night; None if its journal cannot be read."""
    try:
        told = read_journal(path)
    except (NotAJournal, OSError):
        return None
    book = _book_of(told, show_path)
    return _whole(book, played(book, (one.event for one in entries_of(told.events)), _beginning(book, told)).songs)


def _whole(book: Book, songs: tuple[SongPlayed, ...]) -> Whole:
    whole = (one for one in songs if one.whole and one.number < len(book.songs))
    return {(one.title, book.songs[one.number].occurrence): round(one.lasted_ms / 1000) for one in whole}


def _lengths(book: Book, songs: tuple[SongPlayed, ...], nights: list[Whole]) -> Iterator[LengthLearned]:
    for one in songs:
        if not one.whole or one.number >= len(book.songs):
            continue
        occurrence = book.songs[one.number].occurrence
        took = [night[one.title, occurrence] for night in nights if (one.title, occurrence) in night]
        now_s = round(median(took)) if took else round(one.lasted_ms / 1000)
        if one.planned_s is None or abs(now_s - one.planned_s) > LENGTH_DIFFERS_S:
            yield LengthLearned(one.title, occurrence, one.planned_s, now_s, max(1, len(took)))


def _opened(book: Book, songs: tuple[SongPlayed, ...]) -> Iterator[OpenLearned]:
    """Yield the sections that were repeated; only in songs with a road map to write that into."""
    for one in songs:
        if one.number >= len(book.songs) or not book.songs[one.number].song.road_map:
            continue
        song = book.songs[one.number]
        for number in dict.fromkeys(part.number for part in one.sections if part.again):
            if not song.sections[number].section.open:
                yield OpenLearned(one.title, song.occurrence, number, section_word(song, number))


def _order(book: Book, order: tuple[tuple[int, ...], ...]) -> tuple[tuple[tuple[str, int], ...], ...]:
    """Return the running order at the night's end. A dropped song stays after the song that precedes it in the file."""
    written = [list(songs) for songs in book.order]
    first: dict[int, int] = {}
    for in_set, songs in enumerate(order):
        for number in songs:
            if number < len(book.songs):
                first.setdefault(number, in_set)
    now: list[list[int]] = [[] for _ in written]
    for number, in_set in first.items():
        now[in_set].append(number)
    for in_set, here in enumerate(written):
        for at, number in enumerate(here):
            if number not in first:
                before = here[at - 1] if at else None
                home = next((one for one in now if before in one), now[in_set])
                home.insert(home.index(before) + 1 if before in home else 0, number)
    if now == written:
        return ()
    return tuple(tuple((book.songs[one].song.title, book.songs[one].occurrence) for one in songs) for songs in now)
