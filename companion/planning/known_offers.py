"""Offer a new ``known`` for songs that were worked on, and write it into the show file."""

import datetime as dt
from collections.abc import Callable, Sequence

from companion.edits import Appended, EditClash, FileText, open_text
from companion.files import SourceFile
from companion.leader.answers import LeaderAnswer
from companion.leader.landing_answers import land
from companion.planning.readiness import known_offers
from companion.practice_log.logged import Path_, show_and_progress
from companion.practice_log.records import LogKind, PracticeRecord, lines_of, records_path
from companion.show import Song
from companion.show.show_file import show_in


def offers_of_known(show_path: Path_) -> tuple[tuple[Song, int | None, int], ...]:
    """Offer a new ``known`` for songs that were worked on: (song, as written, offered)."""
    open_text(show_path)  # first finish a write that was cut short when the program was killed
    return known_offers(*show_and_progress(show_path))


def take_known(
    show_path: Path_,
    taken: Sequence[tuple[Song, int]],
    at: dt.datetime,
    file: FileText | None = None,
    ask: Callable[[EditClash], bool] | None = None,
) -> None:
    """Write a new ``known`` into the show file. It then includes everything done until now.

    ``file``: the show when the offer was made. The file and the records are written in one step.
    """
    file = file or open_text(show_path)
    show = show_in(SourceFile(str(show_path), file.text or "")).show
    wanted = {song.title: known for song, known in taken}
    answers = [
        LeaderAnswer("known", wanted[song.title], set_at, song_at, song.title)
        for set_at, one in enumerate(show.sets)
        for song_at, song in enumerate(one.songs)
        if song.title in wanted
    ]
    if answers:
        lines = lines_of([PracticeRecord(at, LogKind.KNOWN, title) for title in wanted]).decode()
        land(file, answers, "known", ask=ask, appends=[Appended(str(records_path(show_path)), lines)])
