"""The debrief: after the night, from its journal: what was played, what was different, what to learn from it."""

from collections.abc import Iterator
from pathlib import Path
from statistics import median

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.ports import NotAJournal, Told, journals_on, read_journal, shelf_of
from companion.rig import Rig, data_path
from companion.show import Show, read_show
from companion.stage import Book, State, make_book
from companion.stage.played import Changed, SongPlayed, TakenBack, played, section_word

from .entries import Note, beginning_in, entries_of, notes_of, state_at

NO_RIG = Rig("")
"""What was played asks for no sound."""

LENGTH_DIFFERS_S = 10  # a foot is not a stopwatch: less is no news


class LengthLearned(msgspec.Struct, frozen=True):
    """How long a song really took: the median of all nights in which it was played whole."""

    song: str
    occurrence: int
    was_s: int | None
    now_s: int
    nights: int


class OpenLearned(msgspec.Struct, frozen=True):
    """A section that went round though it was not written as open; ``number`` counts the song's sections from 0."""

    song: str
    occurrence: int
    number: int
    section: str


class Learned(msgspec.Struct, frozen=True):
    """What the show file could be told. ``order`` gives each set as (title, occurrence); empty where nothing moved."""

    lengths: tuple[LengthLearned, ...] = ()
    opened: tuple[OpenLearned, ...] = ()
    order: tuple[tuple[tuple[str, int], ...], ...] = ()


class Debrief(msgspec.Struct, frozen=True):
    """One night, told. Times in ms since the show began; ``said`` is what must be known about the telling itself."""

    show: str
    journal: str
    ended: bool
    steps: int
    songs: tuple[SongPlayed, ...]
    changes: tuple[Changed, ...]
    taken_back: tuple[TakenBack, ...]
    around: tuple[Note, ...]
    not_played: tuple[str, ...]
    learned: Learned
    said: tuple[str, ...] = ()


def debrief(show_path: Path, journal: Path | None = None) -> Debrief | None:
    """Tell the newest night of a show, or that of a journal; None where no night has been written down yet.

    Raises CompanionError where the journal cannot be read.
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
        said.append(f"the show was edited while it was played; what was before is in {told.header.before}")
    if len(entries) < len(told.events):
        said.append(f"only the first {len(entries)} steps can be read; the rest was written by a later version")
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


def _read(path: Path) -> Told:
    try:
        return read_journal(path)
    except NotAJournal as fault:
        raise CompanionError(str(fault)) from fault
    except OSError as fault:
        raise CompanionError(f"{path} cannot be read: {fault.strerror or fault}") from fault


def _book_of(told: Told, show_path: Path) -> Book:
    """Give the show as it was played, from the journal itself; else as the file says now."""
    try:
        show = msgspec.json.decode(told.header.as_played, type=Show | None)
    except UNREADABLE:
        show = None
    return make_book(show or read_show(show_path).show, NO_RIG)[0]


def _beginning(book: Book, told: Told) -> State | None:
    return state_at(book, beginning_in(told.header.begins_at))


Whole = dict[tuple[str, int], int]
"""Seconds that each song took which was played whole, by title and occurrence."""


def _songs_of(path: Path, show_path: Path) -> Whole | None:
    """Give the lengths of one more night; None where its journal cannot be read."""
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
    """Give the sections that went round; only where there is a road map to write it into."""
    for one in songs:
        if one.number >= len(book.songs) or not book.songs[one.number].song.road_map:
            continue
        song = book.songs[one.number]
        for number in dict.fromkeys(part.number for part in one.sections if part.again):
            if not song.sections[number].section.open:
                yield OpenLearned(one.title, song.occurrence, number, section_word(song, number))


def _order(book: Book, order: tuple[tuple[int, ...], ...]) -> tuple[tuple[tuple[str, int], ...], ...]:
    """Give the running order at the night's end. A song that was dropped stays behind the one it was written behind."""
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
