"""Dropped songs with their work, in a songbook beside the show; a song comes back when it is listed again."""

import os
import re
import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from companion.edits import SetValue, applied
from companion.errors import FaultyFile
from companion.files import SourceFile, Table, parse
from companion.files.nodes import plainly
from companion.files.text_file import open_source
from companion.setlist.revising.revision import KnownSong
from companion.show import Song
from companion.show.show_file import SONG, ShowReading, show_in
from companion.show.songbook import USE

HEADING = "# Songs dropped by a later set list, with all work done on them. They come back when they are listed again."


def shelf_path(show_path: str | os.PathLike[str]) -> Path:
    """Return the path of a show's dropped songs: pier-street.dropped.yaml beside pier-street.yaml."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.dropped.yaml")


def slug_of(title: str, taken: Iterable[str] = ()) -> str:
    """Return a title as a songbook's key: lower case and hyphens, with a number if it is taken."""
    plain = unicodedata.normalize("NFKD", title.casefold())
    plain = re.sub(r"[^a-z0-9]+", "-", "".join(letter for letter in plain if not unicodedata.combining(letter))).strip(
        "-"
    )
    slug, number, known = plain or "song", 1, set(taken)
    if slug.isdecimal() or slug in ("yes", "no", "on", "off", "true", "false", "null", "y", "n"):
        slug = f"song-{slug}"  # YAML would not read it as text
    first = slug
    while slug in known:
        number += 1
        slug = f"{first}-{number}"
    return slug


def on_the_shelf(show_path: str | os.PathLike[str]) -> tuple[KnownSong, ...]:
    """Return the songs that earlier lists dropped; none if their songbook is missing or has faults."""
    path = shelf_path(show_path)
    try:
        slugs = slugs_of(open_source(path).text, str(path))
        uses = [f"{path.name}#{slug}" for slug in slugs]
        if not uses:
            return ()
        lines = "".join(f"  - use: {use}\n" for use in uses)
        (one,) = show_in(SourceFile(str(show_path), f"show: x\nsongs:\n{lines}")).show.sets
    except FaultyFile:
        return ()
    return tuple(KnownSong(use, song) for use, song in zip(uses, one.songs, strict=True))


def songs_on(text: str, show_path: str | os.PathLike[str]) -> tuple[Song, ...]:
    """Return the songs of a songbook's text that are free of faults."""
    root = parse(SourceFile(str(shelf_path(show_path)), text), [])
    found = []
    for _, node in root.entries.values() if isinstance(root, Table) else ():
        reading = ShowReading(show_path)
        song = SONG.read(node, reading)
        if song is not None and not reading.faults:
            found.append(song)
    return tuple(found)


def slugs_of(text: str, path: str) -> tuple[str, ...]:
    """Return the slugs of a songbook."""
    root = parse(SourceFile(path, text), [])
    return tuple(root.entries) if isinstance(root, Table) else ()


def with_songs(text: str, path: str, songs: Sequence[tuple[str, list[str]]]) -> str:
    """Add songs to a songbook's text: (title, lines), the lines unindented from the song's dash on.

    A song dropped again joins its earlier entry; one already there word for word is not added.
    """
    newline = "\r\n" if "\r\n" in text else "\n"
    text = text or HEADING + newline
    for title, block in songs:
        held = _held(text, path)
        said = plainly(parse(SourceFile(path, "\n".join(block) + "\n"), []))[0]
        back = said.get(USE, "").partition("#") if isinstance(said, dict) else ("", "", "")
        if back[0] == Path(path).name and back[2] in held:
            text = applied(text, [SetValue((back[2], key), value) for key, value in said.items() if key != USE], path)
        elif said not in held.values():
            lines = [f"{slug_of(title, held)}:", *(re.sub(r"^-(?= |$)", " ", line) for line in block)]
            whole = text if text.endswith(("\n", "\r")) else text + newline
            text = whole + "".join(line.rstrip() + newline for line in lines)
    return text


def _held(text: str, path: str) -> dict[str, Any]:
    """Return a songbook's entries by slug."""
    said = plainly(parse(SourceFile(path, text), [])) if _has_songs(text) else {}
    return said if isinstance(said, dict) else {}


def _has_songs(text: str) -> bool:
    """Return whether a songbook holds anything besides comments."""
    return any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines())
