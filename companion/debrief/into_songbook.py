"""Put a show's songs into the songbook: the show then uses them, and the next show finds them.

A song that the songbook lacks moves there with its lines and comments. One that it has gains what it lacks; where the
two differ, the player says for whom the show's version is: for everyone, for this band, or for this show alone.
"""

import enum
import os
import re
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import msgspec

from companion.debrief.called_songs import HEADING, with_called
from companion.debrief.keys_of_night import keys_before
from companion.debrief.song_tables import song_tables
from companion.edits import (
    Edit,
    FileText,
    NewText,
    OneLine,
    Remove,
    SetValue,
    SongNamed,
    applied,
    commit,
    lines_of_song,
    no_file,
    open_text,
)
from companion.errors import CompanionError, FaultyFile
from companion.files import SourceFile, parse
from companion.files.nodes import plainly
from companion.setlist import slug_of
from companion.setlist.known_songs import OF_BAND, band_slug
from companion.setlist.revising.dropped_songs import slugs_of, with_songs
from companion.show import Show, Song, read_show
from companion.show.show_file import SONG, book_songs
from companion.show.songbook import USE
from companion.show.titles import folded

OF_SHOW: Final = ("title", USE, "segue")
"""Keys that stay with the show, or are not compared."""
OF_PLAYER: Final = ("known", "hard")
"""About the player, not the band: the newer value is everyone's."""


WIDEST: Final = 30  # characters of a value in a question
NUMBERS: Final = ("tempo", "known", "hard")
_NUMBER: Final = re.compile(r"[1-9][0-9]{0,3}(\.[0-9]{1,3})?\Z|0\Z")
DEFAULTS: Final = dict(zip(reversed(Song.__struct_fields__), reversed(Song.__struct_defaults__), strict=False))


class KeptFor(enum.Enum):
    """For whom the show's version of a song is kept, if the songbook has another."""

    BAND = "band"
    EVERYONE = "everyone"
    SHOW = "show"


class SongOffer(msgspec.Struct, frozen=True):
    """A song that can go into the songbook: its entry there, the keys that differ from it, and those it gains.

    ``words`` say how they differ. ``usual_key``: of a new song whose key was changed on the day of the show, the one
    before; then that is what differs. ``spelt``: the show spells the title another way than the songbook, and keeps its
    spelling.
    """

    name: SongNamed
    title: str
    slug: str
    is_new: bool
    differs: tuple[str, ...] = ()
    adds: tuple[str, ...] = ()
    spelt: bool = False
    words: tuple[str, ...] = ()
    usual_key: str = ""


class SongbookOffer(msgspec.Struct, frozen=True):
    """What a show can put into a songbook, both as read."""

    show: FileText
    book: FileText
    band: str | None
    offers: tuple[SongOffer, ...]
    used: str  # how the show names the songbook


def offer(show_path: Path, book_path: Path) -> SongbookOffer:
    """Return what the show can put into the songbook. Raises CompanionError."""
    file = open_text(show_path)
    show = read_show(show_path).show
    book = open_text(book_path) if os.path.lexists(book_path) else no_file(book_path)
    used = _relative(show_path, book_path)
    earlier = keys_before(show_path, show.date)
    known = dict(book_songs(show_path, book_path)) if book.text else {}
    taken = list(slugs_of(book.text or "", str(book_path))) if known else []
    of_band = f"{OF_BAND}{band_slug(show.band)}" if show.band else None
    offers: list[SongOffer] = []
    for name, song, table in _songs(file, show):
        if folded(song.title) in [folded(one.title) for one in offers]:
            continue  # the same song twice: the first one goes
        own = str(table.get(USE, ""))
        if own and not own.startswith(f"{used}#"):
            continue  # it is in another songbook
        slug = own.partition("#")[2] or _slug_with(song.title, known, of_band)
        if not slug:
            slug = slug_of(song.title, taken)
            taken.append(slug)
            usual = earlier.get(folded(song.title))
            one = SongOffer(name, song.title, slug, is_new=True)
            if usual is not None and song.key is not None and usual != song.key and "key" in table:
                says = f"key {song.key} since the day of the show, {usual} before"
                one = msgspec.structs.replace(one, differs=("key",), words=(says,), usual_key=str(usual))
            offers.append(one)
            continue
        there = known[slug]
        keys = [key for key in table if key not in OF_SHOW and key in SONG.fields]
        differing = [key for key in keys if not _same(key, song, there, key_too="key" in keys)]
        differs = tuple(key for key in differing if _is_set(there, key) and key not in OF_PLAYER)
        if "key" in differs and any(section.chords for section in song.road_map):
            differs += tuple(key for key in ("road_map", "chords_in") if key in differing and key not in differs)
        adds = tuple(key for key in differing if key not in differs)
        if not own or adds or differs:
            words = tuple(_difference(key, song, there) for key in differs)
            spelt = there.title != song.title
            offers.append(SongOffer(name, song.title, slug, False, differs, adds, spelt, words))
    return SongbookOffer(file, book, show.band, tuple(offers), used)


def kept_unasked(one: SongOffer, band: str | None) -> KeptFor:
    """Return for whom a song's version is kept where nobody says: another key is this show's alone."""
    return KeptFor.BAND if band and "key" not in one.differs else KeptFor.SHOW


def put_in(offered: SongbookOffer, choices: Mapping[SongNamed, KeptFor]) -> tuple[NewText, ...]:
    """Return both files with these songs in the songbook; nothing is written. Raises CompanionError.

    The show, read again, must mean the same, except that songs may gain what they lacked.
    """
    text, book = offered.show.text or "", offered.book.text or ""
    path, book_path = str(offered.show.path), str(offered.book.path)
    show_edits: list[Edit] = []
    songs = _songs(offered.show, read_show(offered.show.path).show)
    tables = {name: table for name, _, table in songs}
    notes = {name: song.notes for name, song, _ in songs}
    for one in offered.offers:
        if one.name not in choices:
            continue
        table = tables[one.name]
        if one.is_new:
            lifted = applied(text, [Remove((one.name, "segue"))], path) if "segue" in table else text
            lines = list(lines_of_song(lifted, one.name, path))
            newline = "\r\n" if "\r\n" in book else "\n"
            book = with_songs((book or HEADING).rstrip() + newline * 2, book_path, [(one.title, lines)])
            is_tonights = one.usual_key and choices[one.name] is KeptFor.SHOW
            if is_tonights:
                book = applied(book, [SetValue((one.slug, "key"), one.usual_key)], book_path)
            stays = ("segue", "key") if is_tonights else ("segue",)
            show_edits += _uses(one.name, table, f"{offered.used}#{one.slug}", stays)
        else:
            moved, said = one, table
            if "key" in one.differs and notes[one.name] and "notes" not in table:  # the songbook's, for its old key
                moved = msgspec.structs.replace(one, differs=(*one.differs, "notes"))
                said = {**table, "notes": notes[one.name]}
            book, use, kept = _into_entry(book, offered, moved, said, choices[one.name])
            show_edits += _uses(one.name, table, use, (*kept, *(["title"] if one.spelt else [])))
    changed = (NewText(offered.book, book), NewText(offered.show, applied(text, show_edits, path)))
    _check(offered, changed)
    return changed


def with_songs_called(offered: SongbookOffer, changed: Sequence[NewText], songs: Sequence[Song]) -> tuple[NewText, ...]:
    """Return the files with songs that were called on the night in the songbook too."""
    if not songs:
        return tuple(changed)
    book, *rest = changed or (NewText(offered.book, offered.book.text or ""),)
    return (NewText(book.file, with_called(book.after, offered.book.path, songs)), *rest)


def write(changed: Sequence[NewText]) -> None:
    """Write both files as one step. Raises CompanionError."""
    commit(list(changed), "songbook")


def _into_entry(
    book: str, offered: SongbookOffer, one: SongOffer, table: Mapping[str, Any], kept_for: KeptFor
) -> tuple[str, str, tuple[str, ...]]:
    """Return the songbook with a song's changes, what the show writes after ``use``, and which keys it keeps."""
    base, _, of_band = one.slug.partition(OF_BAND)
    values = {key: _value(key, table[key]) for key in table}
    edits: list[Edit] = [SetValue((base, key), values[key]) for key in one.adds]
    use, kept = one.slug, ["segue"]
    if one.differs and kept_for is KeptFor.SHOW:
        kept += one.differs
    elif one.differs and kept_for is KeptFor.EVERYONE and not of_band:
        edits += [SetValue((base, key), values[key]) for key in one.differs]
    elif one.differs:
        use = f"{base}{OF_BAND}{band_slug(offered.band or '')}"
        if use in slugs_of(book, str(offered.book.path)):
            edits += [SetValue((use, key), values[key]) for key in one.differs]
        else:
            own = {key: values[key] for key in one.differs}
            edits.append(SetValue((use,), {USE: f"{Path(offered.book.path).name}#{base}", **own}))
    entry = plainly(parse(SourceFile(str(offered.book.path), book), [])).get(base)
    if isinstance(entry, str) and edits:  # a bare title has no place for a key
        edits = [SetValue((base,), {"title": entry}), *edits]
    return applied(book, edits, str(offered.book.path)), f"{offered.used}#{use}", tuple(kept)


def _uses(name: SongNamed, table: Mapping[str, Any], use: str, kept: Sequence[str]) -> list[Edit]:
    """Return the edits that make the show's song use the songbook's, keeping these keys."""
    edits: list[Edit] = [Remove((name, key)) for key in table if key not in ("title", USE, *kept)]
    if table.get(USE) != use:
        edits.append(SetValue((name, USE), use))
    if "title" in table and "title" not in kept:
        edits.append(Remove((name, "title")))
    return edits


def _check(offered: SongbookOffer, changed: Sequence[NewText]) -> None:
    """Read both texts back in a separate folder. Raises CompanionError if a song would say something else."""
    before = read_show(offered.show.path)
    folder = Path(offered.show.path).parent.absolute()
    with tempfile.TemporaryDirectory() as place:
        for one in before.sources[1:]:
            _write_beside(Path(place), Path(one.path).absolute().relative_to(folder), one.text)
        for new in changed:
            _write_beside(Path(place), Path(new.file.path).absolute().relative_to(folder), new.after)
        try:
            after = read_show(Path(place) / Path(offered.show.path).name).show
        except FaultyFile as faulty:
            problem = faulty.faults[0].problem
            raise CompanionError(f"the songbook cannot hold these songs: {problem}") from None
    for was, now in zip(_all(before.show), _all(after), strict=True):
        lost = [field for field in Song.__struct_fields__ if _changed(was, now, field)]
        letters = any(section.chords for section in was.road_map)
        lost += ["its chords"] if letters and (was.chords_in or was.key) != (now.chords_in or now.key) else []
        if lost:
            raise CompanionError(f"{was.title} would change: {', '.join(lost)}. Leave it out with --only")


def _changed(was: Song, now: Song, field: str) -> bool:
    """Whether a value that a song had has changed; a value that it lacked may come from the songbook."""
    return getattr(was, field) not in (getattr(now, field), DEFAULTS.get(field))


def _write_beside(place: Path, relative: Path, text: str) -> None:
    path = place / relative
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write(text)


def _all(show: Show) -> list[Song]:
    return [song for one in show.sets for song in one.songs]


def _songs(file: FileText, show: Show) -> list[tuple[SongNamed, Song, dict[str, Any]]]:
    """Return each song of the show: its name, what it says, and its own keys as typed."""
    tables = song_tables(file.text or "", str(file.path))
    return [(name, song, table) for (name, table), song in zip(tables, _all(show), strict=True)]


def _slug_with(title: str, known: Mapping[str, Song], of_band: str | None) -> str:
    """Return the entry for a title, the band's own before the general one; "" if there is none."""
    found = [slug for slug, song in known.items() if folded(song.title) == folded(title)]
    own = [slug for slug in found if of_band and slug.endswith(of_band)]
    return next(iter([*own, *(slug for slug in found if OF_BAND not in slug)]), "")


def _same(key: str, here: Song, there: Song, *, key_too: bool) -> bool:
    """Whether both songs say the same at a key. Letters belong to their key: with another key they are others."""
    if key in ("road_map", "chords_in") and key_too and here.key != there.key:
        return False
    field = SONG.fields[key].name
    return bool(getattr(here, field) == getattr(there, field))


def _difference(key: str, here: Song, there: Song) -> str:
    """Return how two songs differ at a key: both values if they are short."""
    values = [getattr(song, SONG.fields[key].name) for song in (here, there)]
    shown = [f"{one:g}" if isinstance(one, float) else str(getattr(one, "value", one)) for one in values]
    if key in ("road_map", "sound", "length") or max(map(len, shown)) > WIDEST:
        return key
    return f"{key} {shown[0]}, not {shown[1]}"


def _is_set(song: Song, key: str) -> bool:
    field = SONG.fields[key].name
    return bool(getattr(song, field) != DEFAULTS.get(field))


def _value(key: str, value: Any) -> object:  # noqa: ANN401  what the show says at a key
    """Return a value as an edit writes it: numbers and yes without quotes, tables of one line on one."""
    if isinstance(value, list):
        return [OneLine(one) if isinstance(one, dict) else one for one in value]
    if isinstance(value, dict):
        return OneLine(value)
    if key == "road_map":
        return str(value).rstrip("\n")
    if key in NUMBERS and _NUMBER.match(value):
        return float(value) if "." in value else int(value)
    return value == "yes" if value in ("yes", "no") else value


def _relative(show_path: Path, book_path: Path) -> str:
    """Return how the show names the songbook. Raises CompanionError if it is outside the show's folder."""
    folder = show_path.parent.resolve()
    book = book_path.parent.resolve() / book_path.name
    if not book.is_relative_to(folder):
        raise CompanionError(f"{book_path} is not in the show's folder. Write: a songbook beside {show_path.name}")
    return book.relative_to(folder).as_posix()
