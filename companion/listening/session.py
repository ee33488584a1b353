"""One session of listening: play the recordings in set order and record what was heard."""

import datetime as dt
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from companion.listening.heard_parts import Timed, timed_sections
from companion.listening.player import Listened, Now, Player, Press, listen, records_of
from companion.listening.playlist import playlist_of
from companion.practice_log.logged import Path_, show_and_progress
from companion.practice_log.records import add_records
from companion.regular import is_regular
from companion.show import Song


def listen_to(  # noqa: PLR0913 - what a session needs, named
    show_path: Path_,
    player: Player,
    presses: Callable[[], Iterator[Press]],
    report: Callable[[Now], None],
    wait: Callable[[], None],
    now: Callable[[], dt.datetime],
    *,
    only: str = "",
    sections: Callable[[Song], Sequence[Timed]] = timed_sections,
) -> tuple[Listened, tuple[str, ...]]:
    """Play the recordings in set order and record what was heard; return also what was not played, with the reason."""
    show, _ = show_and_progress(show_path)
    beside = Path(show_path).resolve().parent
    found = playlist_of(show, lambda recording: is_regular(beside / recording), only)
    files = [track for track in found.tracks if not track.is_link]
    listened = listen(files, lambda where: str(beside / where), player, presses, report, wait, sections)
    add_records(show_path, records_of(listened, now()))
    silent = [
        *(f"{track.song.title}: {track.where} is missing" for track in found.missing),
        *(f"{track.song.title}: a link; companion playlist includes it" for track in found.tracks if track.is_link),
        *(f"{song.title}: no recording" for song in found.without),
        *(f"{track.song.title}: {problem}" for track, problem in listened.unplayable),
    ]
    return listened, tuple(silent)
