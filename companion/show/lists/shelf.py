"""Dropped songs with their work: a songbook beside the show, from which a song comes back when it is listed again."""

import os
import re
import unicodedata
from collections.abc import Iterable, Sequence
from pathlib import Path

from companion.errors import FaultyFile
from companion.files import Source, Table, parse
from companion.files.opening import open_source
from companion.files.writing import edited, plainly
from companion.show.model import Song
from companion.show.reading import show_in
from companion.show.songbook import USE

HEADING = (
    "# Songs that a later set list left out, with all work done on them. They come back when they are listed again."
)


def shelf_path(show_path: str | os.PathLike[str]) -> Path:
    """Give the songbook of a show's dropped songs: pier-street.dropped.yaml beside pier-street.yaml."""
    path = Path(show_path)
    return path.with_name(f"{path.stem}.dropped.yaml")


def slug_of(title: str, taken: Iterable[str] = ()) -> str:
    """Give a title as a songbook's key: small letters and hyphens, with a number where it is taken."""
    plain = unicodedata.normalize("NFKD", title.casefold())
    plain = re.sub(r"[^a-z0-9]+", "-", "".join(letter for letter in plain if not unicodedata.combining(letter))).strip(
        "-"
    )
    slug, number, known = plain or "song", 1, set(taken)
    if slug.isdecimal() or slug in ("yes", "no", "on", "off", "true", "false", "null", "y", "n"):
        slug = f"song-{slug}"  # YAML would read another thing
    first = slug
    while slug in known:
        number += 1
        slug = f"{first}-{number}"
    return slug


def on_the_shelf(show_path: str | os.PathLike[str]) -> tuple[tuple[str, Song], ...]:
    """Read the dropped songs by slug; none where there is no such songbook, or it has faults of its own."""
    path = shelf_path(show_path)
    try:
        slugs = slugs_of(open_source(path).text, str(path))
        uses = "".join(f"  - use: {path.name}#{slug}\n" for slug in slugs)
        if not slugs:
            return ()
        (one,) = show_in(Source(str(show_path), f"show: x\nsongs:\n{uses}")).show.sets
    except FaultyFile:
        return ()
    return tuple(zip(slugs, one.songs, strict=True))


def _with_news(text: str, path: str, slug: str, block: list[str]) -> str:
    """Put the keys of a song that had come back into its place in the songbook."""
    root = plainly(parse(Source(path, "\n".join(block) + "\n"), []))
    news: dict[tuple[str | int, ...], object] = {(slug, key): value for key, value in root[0].items() if key != USE}
    return edited(text, news, path) if news else text


def slugs_of(text: str, path: str) -> tuple[str, ...]:
    """Give the slugs of a songbook."""
    root = parse(Source(path, text), [])
    return tuple(root.entries) if isinstance(root, Table) else ()


def with_songs(text: str, path: str, songs: Sequence[tuple[str, list[str]]]) -> str:
    """Add songs to a songbook's text: each its title, and its lines as they stand behind a dash at the margin."""
    taken = list(slugs_of(text, path)) if text else []
    lines = text.splitlines() if text else [HEADING]
    for title, block in songs:
        back = re.search(rf"^- use: {re.escape(Path(path).name)}#(\S+)", "\n".join(block), re.MULTILINE)
        if back and back[1] in taken:  # it came back for a while; what was worked out meanwhile goes to the rest
            lines = _with_news("\n".join(lines) + "\n", path, back[1], block).splitlines()
            continue
        slug = slug_of(title, taken)
        taken.append(slug)
        lines += [f"{slug}:", *(re.sub(r"^- ", "  ", line) for line in block)]
    return "\n".join(lines) + "\n"
