"""The debrief, from the night's journal: what was played, what was different, what to learn from it."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import median

import msgspec

from companion.debrief.called_songs import called_in, in_no_file
from companion.debrief.night_kinds import JournalKind, KindFound, kind_of, marks_on, moment_of
from companion.debrief.order_played import OrderPlayed, order_played
from companion.debrief.songs_known import KnownLearned, songs_to_ask
from companion.errors import UNREADABLE, CompanionError
from companion.music import bar_seconds
from companion.night.entries import EntryContext, JournalNote, beginning_in, entries_of, notes_of, state_at
from companion.ports import JournalReading, NotAJournal, journals_on, read_journal, shelf_of
from companion.ports.journal_lines import NewerJournal
from companion.rig import Rig, data_path
from companion.show import Show, Song, read_show
from companion.stage import Beginning, Book, PositionKind, make_book
from companion.stage.counting import COMMON_TIME
from companion.stage.played import Changed, NightPlayed, SongPlayed, TakenBack, played, section_word

NO_RIG = Rig("")
"""What was played asks for no sound."""

LENGTH_DIFFERS_S = 10  # presses are not exact: smaller differences do not count
SHORTEST_S = 30  # anything shorter is not a song (common practice, no source)
TOO_SHORT = 1 / 3  # of the expected length; a song cut that far says nothing about its length
OPEN_ROUNDS = (
    2  # further rounds of an open section; one chorus more may be tonight's alone (common practice, no source)
)
GOES_ROUND = re.compile(r"\b(?:solos?|vamp|jam|groove)\b", re.IGNORECASE)  # here one round more is enough
MAX_PARTS = 100  # journals of one night


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
    """Proposed changes to the show file.

    ``order`` gives each set as (title, occurrence), ``order_lines`` the same in words; empty if nothing moved.

    ``called``: songs that were called on the night, for the songbook. ``known``: songs that count as known now.
    """

    lengths: tuple[LengthLearned, ...] = ()
    opened: tuple[OpenLearned, ...] = ()
    order: tuple[tuple[tuple[str, int], ...], ...] = ()
    order_lines: tuple[str, ...] = ()
    called: tuple[Song, ...] = ()
    known: KnownLearned = KnownLearned()


class Debrief(msgspec.Struct, frozen=True):
    """One night, summarized. Times in ms since the show began; ``remarks`` are remarks about the journal itself.

    ``kind``: whether it was the night, a rehearsal or a dry run. Only a night offers lengths and an order.
    """

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
    remarks: tuple[str, ...] = ()
    kind: JournalKind = JournalKind.NIGHT


class NightPart(msgspec.Struct, frozen=True):
    """One journal of a night: a show that is edited during the night continues in another one."""

    path: Path
    journal: JournalReading
    book: Book
    played: NightPlayed
    steps: int


def newest_journal(show_path: Path) -> Path | None:
    """Return the journal of a show's newest night, or None.

    One without a header is not a night: it was begun on a full disk, or the program was killed just then, and the night
    before it was continued. It is returned if there is no other.
    """
    journals = journals_on(shelf_of(show_path, data_path()))
    for path in journals:
        try:
            read_journal(path)
        except (NewerJournal, OSError):  # the player reads why
            return path
        except NotAJournal:
            continue
        return path
    return next(iter(journals), None)


def debrief(show_path: Path, journal: Path | None = None) -> Debrief | None:
    """Return the debrief of a show's newest night, or of a given journal; None if no night has been recorded yet.

    Raises CompanionError if the journal cannot be read.
    """
    path = journal or newest_journal(show_path)
    if path is None:
        return None
    parts = list(_parts(path, show_path))
    last = parts[-1]
    night = _joined(parts)
    remarks = [one.journal.lost for one in parts if one.journal.lost]
    remarks += [
        f"only the first {one.steps} steps of {one.path} can be read; the rest was written by a newer version"
        for one in parts
        if one.steps < len(one.journal.events)
    ]
    kind = _kind(last, marks_on(path.parent))
    if kind.because:
        remarks.append(f"{kind.kind.value}: {kind.because}; lengths and the order are not offered")
    is_night = kind.kind is JournalKind.NIGHT
    order = order_played(last.book, night) if is_night else OrderPlayed()
    nights = list(_nights(show_path, path.parent)) if is_night and journal is None else []
    return Debrief(
        last.journal.header.title,
        str(path),
        last.journal.ended,
        sum(one.steps for one in parts),
        night.songs,
        night.changes,
        night.taken_back,
        tuple(note for one in parts for note in notes_of(one.journal.notes) if note.what is not EntryContext.DRY_RUN),
        night.not_played,
        Learned(
            tuple(_lengths(last.book, night.songs, nights or [_whole(last.book, night.songs)])) if is_night else (),
            tuple(_opened(last.book, night.songs)) if kind.kind is not JournalKind.DRY_RUN else (),
            order.sets,
            order.lines,
            _called(show_path, parts, night) if is_night else (),
            _known(show_path, last, night.songs) if is_night else KnownLearned(),
        ),
        tuple(remarks),
        kind.kind,
    )


def _parts(path: Path, show_path: Path) -> Iterator[NightPart]:
    """Yield the journals of a night, the first one first; one that is gone or cannot be read is left out."""
    journal = _read(path)
    parts = [_part(path, journal, _book_of(journal, show_path))]
    while len(parts) < MAX_PARTS:
        if parts[-1].played.from_the_top:
            break  # what came before was another night, or a rehearsal
        name = Path(parts[-1].journal.header.before).name
        before = path.with_name(name) if name else path
        if before in [one.path for one in parts]:
            break
        try:
            journal = read_journal(before)
        except (NotAJournal, OSError):
            break
        parts.append(_part(before, journal, _book_of(journal, show_path)))
    yield from reversed(parts)


def _part(path: Path, journal: JournalReading, book: Book) -> NightPart:
    entries = entries_of(journal.events)
    begins = beginning_in(journal.header.begins_at)
    begins_ms = begins.at_ms if isinstance(begins, Beginning) else 0
    night = played(book, (one.event for one in entries), state_at(book, begins), begins_ms)
    return NightPart(path, journal, book, night, len(entries))


def _joined(parts: Sequence[NightPart]) -> NightPlayed:
    """Return the whole night, its songs numbered as in the last part's show."""
    last = parts[-1]
    numbers = {(one.song.title, one.occurrence): number for number, one in enumerate(last.book.songs)}
    unwritten = len(last.book.songs)  # the number of a song that the show does not have
    songs: list[SongPlayed] = []
    for part in parts:
        for at, one in enumerate(part.played.songs):
            was = part.book.songs[one.number] if one.number < len(part.book.songs) else None  # None: put in tonight
            number = numbers.get((was.song.title, was.occurrence), unwritten) if was else unwritten
            here = msgspec.structs.replace(one, number=number)
            goes_on = part is not parts[0] and not at and songs and _goes_on(part)
            if goes_on and was and songs[-1].number == number:
                songs[-1] = _one_song(songs[-1], here, len(was.sections))
            else:
                songs.append(here)
    done = {one.number for one in songs}
    left = [one for in_set in last.played.order for one in in_set if one not in done and one < unwritten]
    return NightPlayed(
        tuple(songs),
        tuple(one for part in parts for one in part.played.changes),
        tuple(one for part in parts for one in part.played.taken_back),
        tuple(last.book.songs[one].song.title for one in left),
        last.played.order,
    )


def _goes_on(part: NightPart) -> bool:
    """Whether a part begins inside a song."""
    begins = beginning_in(part.journal.header.begins_at)
    return isinstance(begins, Beginning) and begins.place.where is PositionKind.PLAYING


def _one_song(first: SongPlayed, rest: SongPlayed, sections: int) -> SongPlayed:
    """Join a song that was playing while the show was edited."""
    whole = first.sections[:1] != () and first.sections[0].number == 0 and rest.is_over
    return msgspec.structs.replace(
        rest,
        at_ms=first.at_ms,
        lasted_ms=rest.at_ms + rest.lasted_ms - first.at_ms,
        whole=whole and rest.sections[-1].number >= sections - 1,
        sections=first.sections + rest.sections,
        false_starts=first.false_starts + rest.false_starts,
        cut=(),
        repeated=(*first.repeated, *rest.repeated),
        extended=(*first.extended, *rest.extended),
    )


def _kind(part: NightPart, marks: dict[str, JournalKind]) -> KindFound:
    return kind_of(part.journal, part.path, part.book.show.date, marks)


def _read(path: Path) -> JournalReading:
    try:
        return read_journal(path)
    except NotAJournal as fault:
        raise CompanionError(str(fault)) from fault
    except OSError as fault:
        raise CompanionError(f"{path} cannot be read: {fault.strerror or fault}") from fault


def _book_of(journal: JournalReading, show_path: Path) -> Book:
    """Return the show as it was played, from the journal itself; else as the file has it now."""
    try:
        show = msgspec.json.decode(journal.header.as_played, type=Show | None)
    except UNREADABLE:
        show = None
    return make_book(show or read_show(show_path).show, NO_RIG)[0]


Whole = dict[tuple[str, int], int]
"""The seconds that each song took when played whole, by title and occurrence."""


def _nights(show_path: Path, shelf: Path) -> Iterator[Whole]:
    """Yield the lengths of each night on the shelf."""
    for part in night_parts(show_path, shelf):
        yield _whole(part.book, part.played.songs)


def night_parts(show_path: Path, shelf: Path) -> Iterator[NightPart]:
    """Yield each journal of a night on the shelf: no rehearsals, no dry runs, no unreadable journals."""
    marks = marks_on(shelf)
    for path in journals_on(shelf):
        try:
            journal = read_journal(path)
        except (NotAJournal, OSError):
            continue
        if journal.header.before and path.name in marks:  # the mark is for the whole night
            marks = {Path(journal.header.before).name: marks[path.name], **marks}
        book = _book_of(journal, show_path)
        if kind_of(journal, path, book.show.date, marks).kind is JournalKind.NIGHT:
            yield _part(path, journal, book)


def _whole(book: Book, songs: tuple[SongPlayed, ...]) -> Whole:
    whole = (one for one in songs if one.whole and one.number < len(book.songs) and not is_stepped_through(book, one))
    return {(one.title, book.songs[one.number].occurrence): round(one.lasted_ms / 1000) for one in whole}


def _lengths(book: Book, songs: tuple[SongPlayed, ...], nights: list[Whole]) -> Iterator[LengthLearned]:
    for one in songs:
        if not one.whole or one.number >= len(book.songs) or is_stepped_through(book, one):
            continue
        occurrence = book.songs[one.number].occurrence
        took = [night[one.title, occurrence] for night in nights if (one.title, occurrence) in night]
        now_s = round(median(took)) if took else round(one.lasted_ms / 1000)
        if one.planned_s is None or abs(now_s - one.planned_s) > LENGTH_DIFFERS_S:
            yield LengthLearned(one.title, occurrence, one.planned_s, now_s, max(1, len(took)))


def is_stepped_through(book: Book, song: SongPlayed) -> bool:
    """Whether a song went by too fast to have been played: its length says nothing."""
    written = book.songs[song.number].song
    tempo_bpm = written.tempo_bpm
    expected_s = float(song.planned_s or 0)
    if not expected_s and tempo_bpm and all(one.bars for one in written.road_map):
        bars = sum((one.bars or 0) * one.passes for one in written.road_map)
        expected_s = bars * bar_seconds(written.meter or COMMON_TIME, tempo_bpm)
    return song.lasted_ms / 1000 < max(SHORTEST_S, expected_s * TOO_SHORT)


def _opened(book: Book, songs: tuple[SongPlayed, ...]) -> Iterator[OpenLearned]:
    """Yield the sections that turned out to be open; only in songs with a road map to write that into."""
    for one in songs:
        if one.number >= len(book.songs) or not book.songs[one.number].song.road_map:
            continue
        song = book.songs[one.number]
        again: Counter[int] = Counter()
        for part in one.sections:
            again[part.number] += part.again
        for number, rounds in again.items():
            section = song.sections[number].section
            if rounds >= (1 if GOES_ROUND.search(section.name) else OPEN_ROUNDS) and not section.open:
                yield OpenLearned(one.title, song.occurrence, number, section_word(song, number))


def _called(show_path: Path, parts: Sequence[NightPart], night: NightPlayed) -> tuple[Song, ...]:
    """Return the songs that were called and are in no file yet."""
    events = [entry.event for one in parts for entry in entries_of(one.journal.events)]
    return in_no_file(show_path, called_in(events, night.songs))


def _known(show_path: Path, part: NightPart, songs: Sequence[SongPlayed]) -> KnownLearned:
    """Return the songs of a night that count as known now, if the player was not asked yet."""
    ended = moment_of(part.journal.last_s)
    titles = [one.title for one in songs if was_played(part.book, one)]
    return songs_to_ask(show_path, titles, ended) if ended is not None else KnownLearned()


def was_played(book: Book, song: SongPlayed) -> bool:
    """Whether a song was played rather than stepped through. ``book`` is the show as it was then."""
    if song.number >= len(book.songs):  # called, and not in the show
        return song.lasted_ms / 1000 >= SHORTEST_S
    return not is_stepped_through(book, song)
