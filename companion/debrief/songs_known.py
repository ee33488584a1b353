"""Songs that were played on a night: known from then on, unless the player says otherwise."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import msgspec

from companion.debrief.song_tables import song_tables
from companion.edits import Appended, Edit, SetValue, SongNamed, applied, open_text
from companion.errors import CompanionError
from companion.files import SourceFile, parse
from companion.files.nodes import plainly
from companion.practice_log.records import LogKind, PracticeRecord, lines_of, read_records, records_path
from companion.practice_log.song_progress import known_written
from companion.setlist.known_songs import OF_BAND
from companion.show import read_show
from companion.show.songbook import DEEPEST, USE
from companion.show.titles import folded

KNOWN: Final = "known"
KNOWS: Final = 5  # could play it tonight
NOT_YET: Final = 3  # played, but not known (common practice, no source)


class KnownLearned(msgspec.Struct, frozen=True):
    """Titles of songs that were played on the night and count as known, and of those that the player does not know."""

    songs: tuple[str, ...] = ()
    not_yet: tuple[str, ...] = ()

    def but(self, titles: Sequence[str]) -> "KnownLearned":
        """Return the same without these songs, which are not known yet."""
        return KnownLearned(tuple(one for one in self.songs if one not in titles), tuple(dict.fromkeys(titles)))

    def records(self, at: dt.datetime) -> bytes:
        """Return the practice log's lines: ``known`` includes everything until now, and the player was asked."""
        return lines_of([PracticeRecord(at, LogKind.KNOWN, title) for title in (*self.songs, *self.not_yet)])

    def appended(self, show_path: Path, at: dt.datetime) -> tuple[Appended, ...]:
        """Return the same as an addition to the log, empty if it says nothing."""
        lines = self.records(at).decode()
        return (Appended(str(records_path(show_path)), lines),) if lines else ()


def songs_to_ask(show_path: Path, titles: Sequence[str], ended: dt.datetime) -> KnownLearned:
    """Return the songs among these that the show does not call known, if ``known`` was not written since the night.

    A song without ``known`` is among them: what was written since has been undone.
    """
    try:
        show = read_show(show_path).show
        written = known_written(read_records(show_path).kept)
    except CompanionError:
        return KnownLearned()  # a file with faults gets no lessons
    open_ones = {
        song.title
        for one in show.sets
        for song in one.songs
        if not song.tacet
        and song.known != KNOWS
        and (song.known is None or written.get(folded(song.title), ended) <= ended)
    }
    return KnownLearned(tuple(dict.fromkeys(one for one in titles if one in open_ones)))


def known_edits(
    path: Path, text: str, named: Sequence[tuple[SongNamed, int | None]], known: int
) -> tuple[list[Edit], list[tuple[Path, Edit]]]:
    """Return the edits that write ``known`` for these songs: in the show, and in its songbooks.

    ``named`` has each song's present value: what is not known yet is never raised. The songbook keeps a song's value
    for the next show, unless this show has its own.
    """
    tables = dict(song_tables(text, str(path)))
    edits: list[Edit] = []
    in_books: list[tuple[Path, Edit]] = []
    for name, now in named:
        if now == known or (now is not None and known == NOT_YET and now < known):
            continue
        in_book = None if KNOWN in tables[name] else _in_book(path, tables[name].get(USE), known)
        if in_book is None:
            edits.append(SetValue((name, KNOWN), known))
        elif in_book not in in_books:
            in_books.append(in_book)
    return edits, in_books


def _in_book(show_path: Path, use: Any, known: int) -> tuple[Path, Edit] | None:  # noqa: ANN401  as typed
    """Return the songbook that keeps ``known`` for a song, and the edit; None if there is none that can be written.

    What the player knows is the same for every band: a band's own entry leaves it to the one that it uses.
    """
    path, found = show_path, None
    for _ in range(DEEPEST):
        if use is None:
            break
        name, _, slug = str(use).partition("#")
        path = path.with_name(name) if name == Path(name).name else path.parent / name
        try:
            book = open_text(path).text or ""
            entry = plainly(parse(SourceFile(str(path), book), [])).get(slug)
            use = entry.get(USE) if isinstance(entry, dict) else None
            bare = isinstance(entry, str)  # a title alone
            edit = SetValue((slug,), {"title": entry, KNOWN: known}) if bare else SetValue((slug, KNOWN), known)
            applied(book, [edit], str(path))
        except (CompanionError, AttributeError, ValueError):
            break
        found = path, edit
        if (not bare and KNOWN in entry) or not (use and OF_BAND in slug):
            break
    return found
