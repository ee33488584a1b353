"""Where a step leads, by the written road map and the running order: pure functions from place to place."""

from collections.abc import Mapping
from types import MappingProxyType

from companion.show import Ending
from companion.stage.book import Book, BookSong
from companion.stage.place import PositionKind, ShowPosition

Order = tuple[tuple[int, ...], ...]
NONE: frozenset[int] = frozenset()
IN_NO_SONG: Mapping[int, frozenset[int]] = MappingProxyType({})


def next_place(book: Book, order: Order, place: ShowPosition, left_out: frozenset[int] = NONE) -> ShowPosition:
    """Return one step forward: the next pass, section or song (up next), between sets, or the end, where it stays."""
    match place.where:
        case PositionKind.UP_NEXT:
            return ShowPosition(PositionKind.PLAYING, place.set, place.at)
        case PositionKind.PLAYING if place.passed < _song(book, order, place).sections[place.section].section.passes:
            return ShowPosition(PositionKind.PLAYING, place.set, place.at, place.section, place.passed + 1)
        case PositionKind.PLAYING:
            return skip_place(book, order, place, left_out)
        case PositionKind.BETWEEN_SETS:
            return opening_after(order, place.set)
        case PositionKind.END:
            return place


def skip_place(book: Book, order: Order, place: ShowPosition, left_out: frozenset[int] = NONE) -> ShowPosition:
    """Leave this section, however many passes are left. Outside a song this is a step forward."""
    if place.where is not PositionKind.PLAYING:
        return next_place(book, order, place)
    follows = section_after(_song(book, order, place), place.section, left_out)
    if follows is not None:
        return ShowPosition(PositionKind.PLAYING, place.set, place.at, follows)
    if runs_on(book, order, place.set, place.at):
        return ShowPosition(PositionKind.PLAYING, place.set, place.at + 1)
    return next_song_place(order, place)


def section_after(song: BookSong, section: int, left_out: frozenset[int] = NONE) -> int | None:
    """Return the number of the section that follows in this song, from 0; None after its last."""
    return next((number for number in range(section + 1, len(song.sections)) if number not in left_out), None)


def next_song_place(order: Order, place: ShowPosition) -> ShowPosition:
    """Return the next song, up next; after a set's last song, between sets; after the show's last, the end."""
    match place.where:
        case PositionKind.UP_NEXT | PositionKind.PLAYING if place.at + 1 < len(order[place.set]):
            return ShowPosition(PositionKind.UP_NEXT, place.set, place.at + 1)
        case PositionKind.UP_NEXT | PositionKind.PLAYING if any(order[place.set + 1 :]):
            return ShowPosition(PositionKind.BETWEEN_SETS, place.set)
        case PositionKind.BETWEEN_SETS:
            return opening_after(order, place.set)
        case _:
            return ShowPosition(PositionKind.END)


def back_place(
    book: Book,
    order: Order,
    place: ShowPosition,
    left_out: frozenset[int] = NONE,
    left_out_before: Mapping[int, frozenset[int]] = IN_NO_SONG,
) -> ShowPosition:
    """Return one step back; from an added round, the same pass without it. The first place stays.

    ``left_out`` are the left-out sections of this song, ``left_out_before`` those of songs played earlier, by their
    numbers.
    """

    def end_of(in_set: int, at: int) -> ShowPosition:
        number = order[in_set][at]
        end = len(book.songs[number].sections)
        return _last_pass(
            book, order, ShowPosition(PositionKind.PLAYING, in_set, at, end), left_out_before.get(number, NONE)
        )

    match place.where:
        case PositionKind.PLAYING if place.rounds:
            return ShowPosition(
                PositionKind.PLAYING, place.set, place.at, place.section, place.passed, place.rounds - 1
            )
        case PositionKind.PLAYING if place.passed > 1:
            return ShowPosition(PositionKind.PLAYING, place.set, place.at, place.section, place.passed - 1)
        case PositionKind.PLAYING if place.section:
            return _last_pass(book, order, place, left_out)
        case PositionKind.PLAYING if place.at and runs_on(book, order, place.set, place.at - 1):
            return end_of(place.set, place.at - 1)
        case PositionKind.PLAYING:
            return ShowPosition(PositionKind.UP_NEXT, place.set, place.at)
        case PositionKind.UP_NEXT if place.at:
            return end_of(place.set, place.at - 1)
        case PositionKind.UP_NEXT:
            before = _played_set_before(order, place.set)
            return place if before is None else ShowPosition(PositionKind.BETWEEN_SETS, before)
        case PositionKind.BETWEEN_SETS:
            return end_of(place.set, len(order[place.set]) - 1)
        case PositionKind.END:
            last = _played_set_before(order, len(order))
            return place if last is None else end_of(last, len(order[last]) - 1)


def previous_song_place(order: Order, place: ShowPosition) -> ShowPosition:
    """Return the song before this one; from between sets or the end, the last one played. The first song stays."""
    if place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING) and place.at:
        return ShowPosition(PositionKind.UP_NEXT, place.set, place.at - 1)
    if place.where is PositionKind.BETWEEN_SETS:
        return ShowPosition(PositionKind.UP_NEXT, place.set, len(order[place.set]) - 1)
    before = _played_set_before(order, len(order) if place.where is PositionKind.END else place.set)
    if before is None:
        return place if place.where is PositionKind.END else ShowPosition(PositionKind.UP_NEXT, place.set, place.at)
    return ShowPosition(PositionKind.UP_NEXT, before, len(order[before]) - 1)


def ending_place(book: Book, order: Order, place: ShowPosition) -> ShowPosition:
    """Return the ending of the song that is playing; the same place if the ending is already reached or passed."""
    if place.where is not PositionKind.PLAYING or place.section >= _song(book, order, place).ending:
        return place
    return ShowPosition(PositionKind.PLAYING, place.set, place.at, _song(book, order, place).ending)


def runs_on(book: Book, order: Order, in_set: int, at: int) -> bool:
    """Return whether the song at this place of the order segues into the next one."""
    songs = order[in_set]
    if at + 1 >= len(songs):
        return False
    song, follows = book.songs[songs[at]].song, book.songs[songs[at + 1]].song
    if song.segue is None:
        return song.ending is Ending.SEGUE
    return song.segue.casefold() == follows.title.casefold()


def _song(book: Book, order: Order, place: ShowPosition) -> BookSong:
    return book.songs[order[place.set][place.at]]


def _last_pass(book: Book, order: Order, before: ShowPosition, left_out: frozenset[int]) -> ShowPosition:
    """Return the last pass of the section that is played before this place in a song; up next if there is none."""
    sections = _song(book, order, before).sections
    number = next((one for one in reversed(range(before.section)) if one not in left_out), None)
    if number is None:
        return ShowPosition(PositionKind.UP_NEXT, before.set, before.at)
    return ShowPosition(PositionKind.PLAYING, before.set, before.at, number, sections[number].section.passes)


def opening_after(order: Order, ended: int) -> ShowPosition:
    """Return the first song, up next, of the next set that has songs; the end if there is none."""
    for number in range(ended + 1, len(order)):
        if order[number]:
            return ShowPosition(PositionKind.UP_NEXT, number)
    return ShowPosition(PositionKind.END)


def _played_set_before(order: Order, number: int) -> int | None:
    return next((earlier for earlier in reversed(range(number)) if order[earlier]), None)
