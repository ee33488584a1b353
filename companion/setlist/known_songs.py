"""Which songs of a list the songbooks beside a show know."""

import os
from collections.abc import Collection, Iterable
from pathlib import Path
from typing import Final

from companion.errors import FaultyFile
from companion.files import parse
from companion.files.text_file import open_source
from companion.setlist.revising.dropped_songs import slug_of
from companion.setlist.revising.number_words import with_one_spelling
from companion.setlist.revising.revision import KnownSong
from companion.show.show_file import book_songs
from companion.show.songbook import MAX_BOOKS, is_songbook
from companion.show.titles import folded

FIRST: Final = "songbook.yaml"
"""The songbook that comes before all others of the folder."""
OF_BAND: Final = "@"
"""Between a song's slug and its band's: gasworks-corner@tidewater-nine is that band's version."""


def known_songs(
    show_path: str | os.PathLike[str], titles: Iterable[str], band: str | None = None
) -> dict[str, KnownSong]:
    """Return the songs that the songbooks beside a show know, by title as asked.

    Titles match without regard to case, accents, signs, a leading article and how numbers and "and" are written, and
    never by likeness. The band's own version comes before the general one; another band's is never taken. A faulty file
    or song is passed over.
    """
    by_title = songs_by_title(show_path, band)
    return {title: by_title[found] for title, found in same_titles(titles, by_title).items()}


def same_titles(titles: Iterable[str], among: Collection[str]) -> dict[str, str]:
    """Return which of these folded titles each title is: exactly, or else the only one that spells it otherwise.

    >>> same_titles(["Two Moths", "Weeds", "Ink"], {"2 moths", "weeds"})
    {'Two Moths': '2 moths', 'Weeds': 'weeds'}
    """
    by_spelling: dict[str, list[str]] = {}
    for one in among:
        by_spelling.setdefault(with_one_spelling(one), []).append(one)
    found: dict[str, str] = {}
    for title in titles:
        exact = folded(title)
        same = [exact] if exact in among else by_spelling.get(with_one_spelling(exact), [])
        if len(same) == 1:
            found[title] = same[0]
    return found


def songs_by_title(show_path: str | os.PathLike[str], band: str | None = None) -> dict[str, KnownSong]:
    """Return the songs of the songbooks beside a show, by their folded titles."""
    by_title: dict[str, KnownSong] = {}
    for path in songbooks_beside(show_path):
        found = tuple(book_songs(show_path, path))
        for own in (True, False):
            for slug, song in found:
                _, at, of_band = slug.partition(OF_BAND)
                if bool(at) is own and (not at or (band and of_band == band_slug(band))):
                    by_title.setdefault(folded(song.title), KnownSong(f"{path.name}#{slug}", song))
    return by_title


def band_slug(band: str) -> str:
    """Return a band's name as it is in the slugs of its versions: The Tidewater Nine is tidewater-nine."""
    return slug_of(folded(band))


def songbooks_beside(show_path: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Return the songbooks in a show's folder, ``songbook.yaml`` first; not those of dropped songs."""
    folder = Path(show_path).parent
    try:
        files = sorted(one for one in folder.iterdir() if one.suffix in (".yaml", ".yml"))
    except OSError:
        return ()
    files.sort(key=lambda one: one.name != FIRST)
    books: list[Path] = []
    for path in files:
        if len(books) < MAX_BOOKS and not path.stem.endswith(".dropped") and _is_book(path):
            books.append(path)
    return tuple(books)


def _is_book(path: Path) -> bool:
    try:
        return path.is_file() and is_songbook(parse(open_source(path), []))
    except FaultyFile:
        return False
