"""Read and add the records of practice and listening for one show file."""

import datetime as dt
import os

from companion.edits import Appended
from companion.errors import CompanionError
from companion.files.text_file import open_source
from companion.practice_log.records import LogKind, PracticeRecord, add_records, lines_of, read_records, records_path
from companion.practice_log.song_progress import Progress, named_songs, progress_of
from companion.setlist import Differs, Imported
from companion.show import Show, Song
from companion.show.show_file import show_in

USUAL_MINUTES = 10.0  # of a block; see BLOCK_MINUTES for how few count as one
Path_ = str | os.PathLike[str]


def show_and_progress(show_path: Path_) -> tuple[Show, dict[str, Progress]]:
    """Read a show and its songs' progress. Raises FaultyFile, CompanionError."""
    show = show_in(open_source(show_path)).show
    return show, progress_of(read_records(show_path).kept)


def log_practice(
    show_path: Path_, did: LogKind, words: str, at: dt.datetime, minutes: float | None = None
) -> tuple[Song, ...]:
    """Record listening, practice or runs done elsewhere, by a song's title or "set 1". Raises CompanionError.

    ``minutes`` of practice are shared among the songs; None is one block of ten minutes for each.
    """
    show, _ = show_and_progress(show_path)
    songs = tuple(song for song in named_songs(show, words) if not song.tacet)
    if not songs:
        raise CompanionError(f"this show has no song or set called {words!r}")
    share = 1.0 if did is LogKind.HEARD else 0.0
    each = (USUAL_MINUTES if minutes is None else minutes / len(songs)) if did is LogKind.PRACTISED else 0
    add_records(show_path, [PracticeRecord(at, did, song.title, minutes=each, share=share) for song in songs])
    return songs


def renamed_records(imported: Imported, at: dt.datetime) -> tuple[Appended, ...]:
    """Return records that carry progress over to the songs that a revised list has renamed."""
    renamed = [
        one for one in imported.differences if one.old_title and one.differs in (Differs.RENAMED, Differs.SPELLING)
    ]
    lines = lines_of([PracticeRecord(at, LogKind.RENAMED, one.old_title, to=one.title) for one in renamed])
    return (Appended(str(records_path(imported.show_path)), lines.decode()),) if lines else ()


def exported(show_path: Path_) -> list[dict[str, object]]:
    """Return all records as plain data."""
    rows: list[dict[str, object]] = []
    for one in read_records(show_path).kept:
        row: dict[str, object] = {"at": one.at.isoformat(), "did": one.did.value, "title": one.title}
        more = {"minutes": one.minutes, "share": one.share, "question": one.question, "grade": one.grade, "to": one.to}
        more |= {"recording": one.recording, "firsts": one.firsts, "beats": one.beats, "afresh": one.afresh}
        rows.append({**row, **{name: value for name, value in more.items() if value}})
    return rows
