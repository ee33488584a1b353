"""The player's own recordings in set order, as M3U8 and XSPF, with the songs that have none."""

import os
from collections.abc import Callable
from pathlib import Path, PurePath
from typing import Final
from urllib.parse import quote, urlsplit

import msgspec

from companion.errors import CompanionError
from companion.files.outputs import write_output
from companion.practice_log.song_progress import named_songs
from companion.regular import is_regular, is_there
from companion.show import Show, Song
from companion.shown import harmless

XSPF_NAMESPACE: Final = "http://xspf.org/ns/0/"  # XSPF version 1
SCHEMES: Final = ("http", "https", "file", "rtsp", "mms")


class Track(msgspec.Struct, frozen=True):
    """One recording and its song."""

    song: Song
    where: str  # a path as in the show file, or a link

    @property
    def is_link(self) -> bool:
        """Return whether it is a link."""
        return is_link(self.where)


class Playlist(msgspec.Struct, frozen=True):
    """The tracks in set order, the songs without a recording, and those whose file is missing."""

    title: str
    tracks: tuple[Track, ...]
    without: tuple[Song, ...] = ()
    missing: tuple[Track, ...] = ()


def is_link(where: str) -> bool:
    """Return whether a recording is a link, not a file; a drive letter is not a scheme."""
    return urlsplit(where).scheme.lower() in SCHEMES


def playlist_of(show: Show, exists: Callable[[str], bool], only: str = "") -> Playlist:
    """Return the recordings in set order, of the whole show or of the songs that ``only`` names ("set 1").

    ``exists`` takes a path as in the show file. Missing files are left out of the tracks.
    """
    songs = named_songs(show, only) if only else tuple(song for one in show.sets for song in one.songs)
    tracks, without, missing = [], [], []
    for song in songs:
        if not song.recording:
            without.append(song)
        elif is_link(song.recording) or exists(song.recording):
            tracks.append(Track(song, song.recording))
        else:
            missing.append(Track(song, song.recording))
    return Playlist(show.title, tuple(tracks), tuple(without), tuple(missing))


def m3u8(playlist: Playlist, place: Callable[[str], str] = str) -> str:
    """Return extended M3U: whole seconds, -1 where unknown. ``place`` maps a path in the show to the playlist's."""
    lines = ["#EXTM3U"]
    for track in playlist.tracks:
        seconds = track.song.length_s if track.song.length_s is not None else -1
        lines.append(f"#EXTINF:{seconds},{_one_line(_named(track.song))}")
        where = _one_line(track.where if track.is_link else place(track.where))
        lines.append(f"./{where}" if where.startswith("#") else where)  # a path may begin with #
    return "\n".join(lines) + "\n"


def xspf(playlist: Playlist, place: Callable[[str], str] = str) -> str:
    """Return XSPF version 1: lengths in milliseconds, files as relative references with spaces as %20."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<playlist version="1" xmlns="{XSPF_NAMESPACE}">',
        f"  <title>{_xml(playlist.title)}</title>",
        "  <trackList>",
    ]
    for track in playlist.tracks:
        location = _link(track.where) if track.is_link else uri(place(track.where))
        lines += [
            "    <track>",
            f"      <location>{_xml(location)}</location>",
            f"      <title>{_xml(track.song.title)}</title>",
        ]
        if track.song.artist:
            lines.append(f"      <creator>{_xml(track.song.artist)}</creator>")
        if track.song.key:
            lines.append(f"      <annotation>{_xml(f'our key: {track.song.key}')}</annotation>")
        if track.song.length_s is not None:
            lines.append(f"      <duration>{track.song.length_s * 1000}</duration>")
        lines.append("    </track>")
    return "\n".join([*lines, "  </trackList>", "</playlist>"]) + "\n"


def uri(path: str) -> str:
    """Return a path as a URI reference: relative with slashes, or an absolute file URI."""
    pure = PurePath(path)
    return pure.as_uri() if pure.is_absolute() else quote(os.fsencode(pure.as_posix()))  # a:b would be a scheme


def _link(where: str) -> str:
    return quote(where, safe="%/:?#[]@!$&'()*+,;=~-._")


def _named(song: Song) -> str:
    return f"{song.artist} - {song.title}" if song.artist else song.title


def _one_line(text: str) -> str:
    return " ".join(harmless(text).split())


def _xml(text: str) -> str:
    plain = harmless(text)
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def write_playlists(
    show: Show, show_path: str | os.PathLike[str], folder: str | os.PathLike[str] | None = None, only: str = ""
) -> tuple[Playlist, tuple[str, ...]]:
    """Write NAME.m3u8 and NAME.xspf beside the show, or into a folder; return the playlist and the two paths.

    Raises CompanionError if they cannot be written.
    """
    beside = Path(show_path).resolve().parent
    target = Path(folder).resolve() if folder else beside
    if not target.is_dir():
        wrong = f"{folder} is not a folder" if is_there(target) else f"there is no folder {folder}"
        raise CompanionError(f"{wrong}. Write: --to and an existing folder")
    playlist = playlist_of(show, lambda recording: is_regular(beside / recording), only)

    def place(recording: str) -> str:
        file = beside / recording
        try:
            return Path(os.path.relpath(file, target)).as_posix()
        except ValueError:  # another drive
            return str(file)

    stem = target / Path(show_path).stem
    paths = (f"{stem}.m3u8", f"{stem}.xspf")
    for path, text in zip(paths, (m3u8(playlist, place), xspf(playlist, place)), strict=True):
        write_output(path, text)
    return playlist, paths
