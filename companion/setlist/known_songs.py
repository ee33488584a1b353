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
    return {title: by_title[found] for title in titles if (found := same_title(title, by_title)) is not None}


def same_title(title: str, by_title: Collection[str]) -> str | None:
    """Return which of these folded titles is this one: exactly, or else the only one that spells it otherwise."""
    if (exact := folded(title)) in by_title:
        return exact
    spelt = with_one_spelling(exact)
    others = [one for one in by_title if with_one_spelling(one) == spelt]
    return others[0] if len(others) == 1 else None


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
