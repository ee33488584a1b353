"""What the player knew at earlier engagements, from the show files in the same folder and their practice logs."""

import datetime as dt
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.planning.priority import rank
from companion.practice_log.logged import Path_
from companion.practice_log.records import read_records
from companion.practice_log.song_progress import Progress, of_song, progress_of
from companion.show import Show, Song, read_show
from companion.show.titles import folded

MAX_SHOWS: Final = 10  # the newest files; each takes a tenth of a second to read
ENDINGS: Final = (".yaml", ".yml")
OTHER_KEY: Final = 4.0  # most that a song in another key than before counts as known (common practice, no source)


class KnownBefore(msgspec.Struct, frozen=True):
    """A song that the player worked on for an earlier show: how well it was known, 0 to 5, and that show's file."""

    title: str
    known: int
    file: str

    def __str__(self) -> str:
        return f"{self.title}: known {self.known} of 5 from {self.file}"


def with_earlier(
    show_path: Path_, show: Show, progress: Mapping[str, Progress]
) -> tuple[Show, tuple[KnownBefore, ...]]:
    """Return the show with ``known`` filled in from earlier shows, and these songs.

    Only songs without ``known`` that were not worked on for this show take it over.
    """
    open_ones = [
        song for one in show.sets for song in one.songs if song.known is None and not of_song(progress, song).practised
    ]
    if not open_ones:
        return show, ()
    before = _known_in_folder(show_path, show.date)
    found: dict[str, KnownBefore] = {}
    for song in open_ones:
        known = _carried(song, before)
        if known is not None:
            found.setdefault(folded(song.title), known)
    if not found:
        return show, ()

    def filled(song: Song) -> Song:
        known = found.get(folded(song.title))
        return msgspec.structs.replace(song, known=known.known) if known and song.known is None else song

    sets = [msgspec.structs.replace(one, songs=tuple(map(filled, one.songs))) for one in show.sets]
    return msgspec.structs.replace(show, sets=tuple(sets)), tuple(found.values())


def _carried(song: Song, before: Mapping[str, tuple[Song, float, str]]) -> KnownBefore | None:
    if folded(song.title) not in before:
        return None
    was, known, file = before[folded(song.title)]
    if song.artist and was.artist and folded(song.artist) != folded(was.artist):
        return None  # another song with this title
    if song.key and was.key and song.key != was.key:
        known = min(known, OTHER_KEY)
    return KnownBefore(song.title, round(known), file)


def _known_in_folder(show_path: Path_, date: dt.date | None) -> dict[str, tuple[Song, float, str]]:
    """Return the songs of earlier shows in the show's folder, by folded title; the newest show counts."""
    found: dict[str, tuple[Song, float, str]] = {}
    shows = []
    for path in _files_beside(Path(show_path)):
        try:
            show = read_show(path).show
            progress = progress_of(read_records(path).kept)
        except CompanionError:
            continue  # a songbook, a rig, or a show with a fault
        if show.date is None or date is None or show.date < date:
            shows.append((show.date or dt.date.min, path.name, show, progress))
    for _, name, show, progress in sorted(shows, key=lambda one: one[:2]):
        for one in rank(show, 1, progress):
            if one.song.known is not None or folded(one.song.title) in progress:
                found[folded(one.song.title)] = (one.song, one.known_now, name)
    return found


def _files_beside(show_path: Path) -> list[Path]:
    """Return the other YAML files in the show's folder, the newest first, up to ``MAX_SHOWS``."""
    try:
        with os.scandir(show_path.resolve().parent) as entries:
            found = [
                (entry.stat().st_mtime, Path(entry.path))
                for entry in entries
                if entry.name.lower().endswith(ENDINGS) and entry.is_file(follow_symlinks=False)
            ]
    except OSError:
        return []
    own = show_path.resolve()
    mine = f"{own.stem}."  # the show itself, its older versions (pier-street.before-1.yaml), its dropped songs
    return [path for _, path in sorted(found, reverse=True) if not path.name.startswith(mine)][:MAX_SHOWS]
