"""Resume a night: replay its journal, and find the place again by names if the show was edited since."""

from collections.abc import Iterable

from msgspec.structs import replace

from companion.stage.book import Book, BookSong
from companion.stage.events import AnyEvent
from companion.stage.place import Landmark, PositionKind, ShowPosition
from companion.stage.retitled import is_nearly
from companion.stage.state import State, at_start, called_for
from companion.stage.step import step


def replay(book: Book, journal: Iterable[AnyEvent], beginning: State | None = None) -> State:
    """Return the state after these events, from the show's start or from where the journal began.

    Effects are not repeated: the caller sends only the current sounds.
    """
    state = beginning or at_start(book)
    for event in journal:
        state, _ = step(state, event)
    return state


def find_again(book: Book, mark: Landmark) -> State | None:
    """Return the state at a place named in an earlier version of the show; None if its song is gone.

    A title that was edited is found if one song alone has a nearly equal one.
    If the section is gone, the song's first section of that name takes its place, else the song's first section.
    """
    state = at_start(book)
    place = _place(state.order, book, mark)
    if place is None:
        return None
    there = replace(state, place=place, shift=mark.shift)
    return replace(there, on=called_for(there))


def _place(order: tuple[tuple[int, ...], ...], book: Book, mark: Landmark) -> ShowPosition | None:
    if mark.where is PositionKind.END:
        return ShowPosition(PositionKind.END)
    if mark.where is PositionKind.BETWEEN_SETS:
        names = [one_set.name.casefold() for one_set in book.show.sets]
        return (
            ShowPosition(PositionKind.BETWEEN_SETS, names.index(mark.set.casefold()))
            if mark.set.casefold() in names
            else None
        )
    found = _song(order, book, mark)
    if found is None:
        return None
    set_number, at, song = found
    section = _section(song, mark)
    if section is None:
        return ShowPosition(mark.where, set_number, at)
    written = song.sections[section].section.passes
    return ShowPosition(mark.where, set_number, at, section, min(mark.passed, written), mark.rounds)


def _song(order: tuple[tuple[int, ...], ...], book: Book, mark: Landmark) -> tuple[int, int, BookSong] | None:
    there = [
        (set_number, at, book.songs[number])
        for set_number, songs in enumerate(order)
        for at, number in enumerate(songs)
    ]
    same = [one for one in there if one[2].song.title.casefold() == mark.song.casefold()]
    if not same:
        nearly = [one for one in there if is_nearly(one[2].song.title, mark.song)]
        same = nearly if len(nearly) == 1 else []
    exact = [one for one in same if one[2].occurrence == mark.song_occurrence]
    return next(iter(exact or same), None)


def _section(song: BookSong, mark: Landmark) -> int | None:
    same = [
        number
        for number, section in enumerate(song.sections)
        if section.section.name.casefold() == mark.section.casefold()
    ]
    exact = [number for number in same if song.sections[number].occurrence == mark.section_occurrence]
    return next(iter(exact or same), None)
