"""Print the requested sheets, for the requested songs, to one PDF."""

import enum
import itertools
import re
import zlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import CompanionError, Fault, NotWritten
from companion.files import nearest, shown
from companion.music import Key
from companion.paper.band_pack import pack_leaves
from companion.paper.chart import chart_of
from companion.paper.chart_sheets import chart_sheets
from companion.paper.crib_sheet import crib_leaves
from companion.paper.floor_list import floor_list_leaves
from companion.paper.leaves import Leaf, Paper
from companion.paper.paper_fonts import lacks
from companion.paper.pdf_file import write_pdf
from companion.paper.pen import with_foot
from companion.paper.readers import ChartReader, readers_for, requested_key
from companion.paper.set_list import set_list_leaves
from companion.paper.words_of import SongNumbers, song_numbers
from companion.show import Show, Song, read_show
from companion.show.sense import unreadable_chords


class Sheet(enum.Enum):
    """The sheets that can be printed; the value is the word on the command line."""

    SET_LIST = "setlist"
    FLOOR_LIST = "floor"
    CRIB_SHEET = "crib"
    CHARTS = "charts"
    BAND_PACK = "pack"


LONGEST_PART: Final = 60  # letters of a file's name; a system takes 255 bytes
_NO_NAME: Final = re.compile(r"[^\w#]+")  # F and F# are two keys
WITH_CHORDS: Final = (Sheet.CHARTS, Sheet.BAND_PACK)


class PrintJob(msgspec.Struct, frozen=True):
    """The player's request. No sheets: the set list; or charts, where a song, a key, numbers or a player is named."""

    sheets: tuple[Sheet, ...] = ()
    paper: Paper = Paper.A4
    songs: tuple[str, ...] = ()  # titles, or parts of them; none: all
    set_name: str | None = None
    key: str | None = None
    players: tuple[str, ...] = ()
    in_numbers: bool = False
    capo: int = 0  # for the guitars among the players
    share: bool = False  # consecutive short songs share a page
    blank: bool = False  # charts for songs without a road map too, as empty bars

    @property
    def all_sheets(self) -> tuple[Sheet, ...]:
        """The requested sheets, or the default if none is named."""
        about_charts = self.songs or self.key or self.players or self.in_numbers or self.capo
        return self.sheets or ((Sheet.CHARTS,) if about_charts else (Sheet.SET_LIST,))

    def charts(self, song: Song) -> bool:
        """Return whether to chart this song: one without a road map only with ``blank``, or where it was requested."""
        return bool(song.road_map) or self.blank or bool(self.songs)

    @property
    def part(self) -> str:
        """What is printed of the show and for whom, as a part of a file's name; empty for all of it.

        >>> PrintJob(songs=("Rope Walk",), key="C").part
        '-rope-walk-c'
        """
        capo = f"capo {self.capo}" if self.capo else ""
        words = (self.set_name or "", *self.songs, self.key or "", *self.players, capo, "numbers" * self.in_numbers)
        part = "".join(f"-{slug}" for word in words if (slug := _NO_NAME.sub("-", word.casefold()).strip("-")))
        return part if len(part) <= LONGEST_PART else f"{part[:LONGEST_PART]}-{zlib.crc32(part.encode()):08x}"


class PrintResult(msgspec.Struct, frozen=True):
    """What was written. ``notes`` are for the player; ``faults`` are unreadable chord lines, printed as written."""

    path: Path
    pages: int
    notes: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


class NothingToPrint(CompanionError):  # noqa: N818 - named like NoStage
    """No such song or set, no songs at all, or the file cannot be written."""


def print_show(
    path: Path,
    wanted: PrintJob,
    out: Path | None = None,
    progress: Callable[[int, int], None] = lambda _done, _of: None,
) -> PrintResult:
    """Print a show. ``progress`` is called with the number of charts done, and of all: before the first, after each."""
    read = read_show(path)
    show, numbers = _chosen(read.show, wanted)
    key = _key(show, wanted)
    readers = readers_for(wanted.players, in_numbers=wanted.in_numbers, capo=wanted.capo)
    with_chords = any(sheet in WITH_CHORDS for sheet in wanted.all_sheets)
    if with_chords and wanted.all_sheets == (Sheet.CHARTS,) and not any(wanted.charts(song) for song in _songs(show)):
        raise NothingToPrint("no song has a road map yet. Write: --blank for empty bars to fill in")
    out = out or path.with_name(f"{path.stem}-{'-'.join(sheet.value for sheet in wanted.all_sheets)}{wanted.part}.pdf")
    charts = sum(map(wanted.charts, _songs(show))) * len(readers)
    charts *= sum(sheet in WITH_CHORDS for sheet in wanted.all_sheets)
    progress(0, charts)
    done = itertools.count(1)
    leaves = _leaves((show, numbers), wanted, readers, key, lambda: progress(next(done), charts))
    try:
        pages = write_pdf(out, leaves, wanted.paper, show.title)
    except NotWritten as error:
        raise NothingToPrint(f"{error.problem}. Write: --out and {error.write or 'another file'}") from None
    faults = unreadable_chords(show, read.places) if with_chords else ()
    return PrintResult(out, pages, (*_left_out(show, wanted, with_chords=with_chords), *_unprintable(show)), faults)


def _leaves(
    chosen: tuple[Show, SongNumbers],
    wanted: PrintJob,
    readers: Sequence[ChartReader],
    key: Key | None,
    charted: Callable[[], None],
) -> Iterator[Leaf]:
    show, numbers = chosen
    for sheet in wanted.all_sheets:
        match sheet:
            case Sheet.SET_LIST:
                yield from _footed(
                    set_list_leaves(show, wanted.paper, numbers), wanted.paper, f"{show.title} · set list"
                )
            case Sheet.FLOOR_LIST:
                yield from floor_list_leaves(show, wanted.paper)
            case Sheet.CRIB_SHEET:
                yield from _footed(crib_leaves(show, wanted.paper, numbers), wanted.paper, f"{show.title} · crib sheet")
            case Sheet.CHARTS:
                for reader in readers:
                    yield from _charts(show, reader, key, wanted, charted)
            case Sheet.BAND_PACK:
                for number, reader in enumerate(readers, start=1):
                    yield from pack_leaves(
                        show, reader, wanted.paper, wanted.charts, charted, copy=number, share=wanted.share
                    )


def _charts(
    show: Show, reader: ChartReader, key: Key | None, wanted: PrintJob, charted: Callable[[], None]
) -> Iterator[Leaf]:
    for one in show.sets:
        charts = ((chart_of(song, reader, key), "") for song in filter(wanted.charts, one.songs))
        for sheets in chart_sheets(charts, wanted.paper, share=wanted.share):
            left = f"{show.title} · {' / '.join(sheets.titles)} · {reader.shown}"
            yield from _footed(sheets.leaves, wanted.paper, left)
            for _title in sheets.titles:
                charted()


def _footed(leaves: Sequence[Leaf], paper: Paper, left: str) -> Iterator[Leaf]:
    for number, leaf in enumerate(leaves, start=1):
        yield with_foot(leaf, paper, left, f"{number} / {len(leaves)}" if len(leaves) > 1 else "")


def _chosen(show: Show, wanted: PrintJob) -> tuple[Show, SongNumbers]:
    """Return the show with only the requested set and song, and its songs' numbers in the whole show."""
    if not any(one.songs for one in show.sets):
        raise NothingToPrint(
            f"{shown(show.title)} has no songs yet, so there is nothing to print. Write: songs: [a title]"
        )
    chosen = [
        (one, list(zip(numbers, one.songs, strict=True)))
        for one, numbers in zip(show.sets, song_numbers(show), strict=True)
    ]
    if wanted.set_name is not None:
        names = [one.name for one in show.sets]
        numbered = {str(number): name for number, name in enumerate(names, start=1)}
        name = _found(numbered.get(wanted.set_name.strip(), wanted.set_name), names, "set")
        chosen = [next(one for one in chosen if one[0].name == name)]
    if wanted.songs:
        every = [song.title for _, songs in chosen for _, song in songs]
        titles = {_found(title, every, "song") for title in wanted.songs}
        chosen = [(one, [song for song in songs if song[1].title in titles]) for one, songs in chosen]
        chosen = [one for one in chosen if one[1]]
    if not any(songs for _, songs in chosen):
        raise NothingToPrint(f"the set {shown(chosen[0][0].name)} has no songs yet. Write: another --set")
    sets = (msgspec.structs.replace(one, songs=tuple(song for _, song in songs)) for one, songs in chosen)
    numbers = tuple(tuple(number for number, _ in songs) for _, songs in chosen)
    return msgspec.structs.replace(show, sets=tuple(sets)), numbers


def _found(wanted: str, names: Sequence[str], what: str) -> str:
    """Return the name that matches in full, else the only one that contains these words. Raises NothingToPrint."""
    folded = " ".join(wanted.split()).casefold()
    same = [name for name in names if name.casefold() == folded]
    within = same or [name for name in names if folded and folded in name.casefold()]
    if len(set(within)) == 1:
        return within[0]
    alike = nearest(wanted, names)
    offered = within or ([alike] if alike else names)
    write = " or ".join(shown(name) for name in offered[:3]) or '"its title"'
    problem = f"several {what}s contain {shown(wanted)}" if within else f"there is no {what} {shown(wanted)}"
    raise NothingToPrint(f"{problem}. Write: --{what} {write}")


def _key(show: Show, wanted: PrintJob) -> Key | None:
    if wanted.key is None:
        return None
    songs = _songs(show)
    if len(songs) != 1:
        raise NothingToPrint('only one song at a time can be transposed. Write: --song "its title"')
    return requested_key(songs[0], wanted.key)


def _songs(show: Show) -> list[Song]:
    return [song for one in show.sets for song in one.songs]


def _left_out(show: Show, wanted: PrintJob, *, with_chords: bool) -> Iterator[str]:
    """Say how many songs have no chart, and how to print them."""
    songs = _songs(show)
    missing = sum(not wanted.charts(song) for song in songs)
    if with_chords and missing:
        have = "has no road map yet, so it has" if missing == 1 else "have no road map yet, so they have"
        yield f"{missing} of {len(songs)} songs {have} no chart. Write: --blank for empty bars to fill in"


def _unprintable(show: Show) -> Iterator[str]:
    """Report titles with letters that the typeface lacks."""
    for song in _songs(show):
        missing = "".join(dict.fromkeys(sign for sign in song.title if lacks(sign)))
        if missing:
            yield f"the typeface has no {missing[:12]} in {shown(song.title)}: a box is printed instead"
