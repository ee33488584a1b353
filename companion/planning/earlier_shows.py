"""What the player knew at earlier engagements, from the show files in the same folder and their practice logs."""

import datetime as dt
import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, NamedTuple

import msgspec

from companion.errors import CompanionError
from companion.planning.priority import READY, rank
from companion.practice_log.logged import Path_
from companion.practice_log.records import read_records
from companion.practice_log.song_progress import Progress, known_written, of_song, progress_of
from companion.setlist.known_songs import same_titles
from companion.show import Show, Song, read_show
from companion.show.titles import folded

MAX_SHOWS: Final = 10  # the newest files; each takes a tenth of a second to read
ENDINGS: Final = (".yaml", ".yml")
NIGHT_ENDS: Final = dt.timedelta(hours=6)  # until six in the morning it is still the night of the day before
OTHER_KEY: Final = 4.0  # most that a song in another key than before counts as known (common practice, no source)


KNOWN_ON_THE_NIGHT: Final = 5.0  # it was played on stage

LastPlayed = Callable[[Path], Mapping[str, dt.datetime]]
"""When the last night of a show ended on which each song was played, by folded title."""


def never_played(_: Path) -> Mapping[str, dt.datetime]:
    """Return nothing, where the journals are not looked at."""
    return {}


class KnownBefore(msgspec.Struct, frozen=True):
    """A song that the player worked on for an earlier show: how well it was known, 0 to 5, and that show's file.

    ``night`` is when it was played there, if that is why it counts as known.
    """

    title: str
    known: int
    file: str
    night: dt.date | None = None

    def __str__(self) -> str:
        return f"{self.title}: known {self.known} of 5 from {self.source}"

    @property
    def source(self) -> str:
        """Where it comes from: spring.yaml, played on 2027-04-03."""
        return f"{self.file}, played on {self.night}" if self.night else self.file


class Earlier(NamedTuple):
    """A song as an earlier show has it, how well it was known after that show, and why."""

    song: Song
    known: float
    file: str
    night: dt.date | None


def with_earlier(
    show_path: Path_, show: Show, progress: Mapping[str, Progress], last_played: LastPlayed = never_played
) -> tuple[Show, tuple[KnownBefore, ...]]:
    """Return the show with ``known`` filled in from earlier shows, and these songs.

    Only songs that were not worked on for this show take it over, and only if they have no ``known``, or still the one
    from before the night on which they were played.
    """
    open_ones = [
        song
        for one in show.sets
        for song in one.songs
        if (song.known is None or song.known < READY) and not of_song(progress, song).practised
    ]
    if not open_ones:
        return show, ()
    before = {**_known_in_folder(show_path, show.date, last_played), **_own_nights(show_path, show, last_played)}
    written = known_written(read_records(show_path).kept)
    titles = same_titles((song.title for song in open_ones), before)
    found: dict[str, KnownBefore] = {}
    for song in open_ones:
        known = _carried(song, before.get(titles.get(song.title, "")))
        if known is not None and (song.known is None or (known.night and folded(song.title) not in written)):
            found.setdefault(folded(song.title), known)
    if not found:
        return show, ()

    def filled(song: Song) -> Song:
        known = found.get(folded(song.title))
        return msgspec.structs.replace(song, known=known.known) if known and song in open_ones else song

    sets = [msgspec.structs.replace(one, songs=tuple(map(filled, one.songs))) for one in show.sets]
    return msgspec.structs.replace(show, sets=tuple(sets)), tuple(found.values())


def _carried(song: Song, earlier: Earlier | None) -> KnownBefore | None:
    if earlier is None:
        return None
    was, known, file, night = earlier
    if song.known not in (None, was.known):
        return None  # the player says something else for this show
    if song.artist and was.artist and folded(song.artist) != folded(was.artist):
        return None  # another song with this title
    if song.key and was.key and song.key != was.key:
        known = min(known, OTHER_KEY)
    return KnownBefore(song.title, round(known), file, night)


def _known_in_folder(show_path: Path_, date: dt.date | None, last_played: LastPlayed) -> dict[str, Earlier]:
    """Return the songs of earlier shows in the show's folder, by folded title; the newest show counts.

    A song that was played on a show's night is known, unless ``known`` was written since.
    """
    found: dict[str, Earlier] = {}
    shows = []
    for path in _files_beside(Path(show_path)):
        try:
            show = read_show(path).show
            records = read_records(path).kept
        except CompanionError:
            continue  # a songbook, a rig, or a show with a fault
        if show.date is None or date is None or show.date < date:
            shows.append((show.date or dt.date.min, path, show, records))
    for _, path, show, records in sorted(shows, key=lambda one: (one[0], one[1].name)):
        progress, played = progress_of(records), last_played(path)
        written = known_written(records)
        for one in rank(show, 1, progress):
            title = folded(one.song.title)
            ended = played.get(title)
            is_older = one.song.known is None or (ended is not None and written.get(title, ended) <= ended)
            if ended is not None and one.known_now < READY and is_older:
                found[title] = Earlier(one.song, KNOWN_ON_THE_NIGHT, path.name, (ended - NIGHT_ENDS).date())
            elif one.song.known is not None or title in progress:
                found[title] = Earlier(one.song, one.known_now, path.name, None)
    return found


def _own_nights(show_path: Path_, show: Show, last_played: LastPlayed) -> dict[str, Earlier]:
    """Return the songs that were played on an earlier night of this very show, as of one that is played every month."""
    played = last_played(Path(show_path))
    found: dict[str, Earlier] = {}
    for song in (song for one in show.sets for song in one.songs):
        ended = played.get(folded(song.title))
        night = (ended - NIGHT_ENDS).date() if ended is not None else dt.date.max
        if song.known is None and night < (show.date or dt.date.max):
            found[folded(song.title)] = Earlier(song, KNOWN_ON_THE_NIGHT, Path(show_path).name, night)
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
