"""Carry the state of a night over into the edited show: place, running order and added songs. Pure."""

from collections.abc import Iterable, Iterator

import msgspec
from msgspec.structs import replace

from companion.show import Song
from companion.stage.book import Book, BookSection, BookSong, SoundPerKeyboard, with_song
from companion.stage.events import Drop
from companion.stage.moves import Order, opening_after
from companion.stage.order import settled
from companion.stage.place import PositionKind, ShowPosition
from companion.stage.retitled import same_songs
from companion.stage.state import State, at_start, called_for
from companion.stage.step import step
from companion.stage.tonight import Tonight

Lists = list[list[int]]
At = tuple[int, int]


class Beginning(msgspec.Struct, frozen=True):
    """The state at which a continuing journal begins, without the show itself.

    ``put_in`` are the songs added to the show, which follow its own in the book; ``on`` names the sound of each
    keyboard; ``at_ms`` is the time of this state.
    """

    place: ShowPosition
    order: Order
    put_in: tuple[Song, ...] = ()
    left_out: tuple[int, ...] = ()
    shift: int = 0
    taps_ms: tuple[int, ...] = ()
    stepped_ms: int | None = None
    section_began_ms: int = 0
    song_began_ms: int | None = None
    on: tuple[str | None, ...] = ()
    at_ms: int = 0
    tonight: Tonight = ()


def beginning_of(state: State, at_ms: int = 0) -> Beginning:
    """Return the beginning of a journal that continues from this state."""
    return Beginning(
        state.place,
        state.order,
        tuple(one.song for one in state.book.songs[_written(state.book) :]),
        tuple(sorted(state.left_out)),
        state.shift,
        state.taps_ms,
        state.stepped_ms,
        state.section_began_ms,
        state.song_began_ms,
        tuple(sound.name if sound else None for sound in state.on),
        at_ms,
        state.tonight,
    )


def begun(book: Book, beginning: Beginning) -> State | None:
    """Return the state at this beginning, with no steps to take back; None if it does not fit this show."""
    for song in beginning.put_in:
        book = with_song(book, song)
    place, order = beginning.place, beginning.order
    if len(order) != len(book.order) or any(not 0 <= one < len(book.songs) for songs in order for one in songs):
        return None
    if place.where is not PositionKind.END and not 0 <= place.set < len(order):
        return None
    if place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING):
        songs = order[place.set]
        sections = book.songs[songs[place.at]].sections if 0 <= place.at < len(songs) else ()
        if not 0 <= place.section < len(sections):
            return None
        if not 1 <= place.passed <= sections[place.section].section.passes:
            return None
    state = State(
        book,
        order,
        place,
        _named(book, beginning.on),
        frozenset(beginning.left_out),
        beginning.shift,
        beginning.taps_ms,
        beginning.stepped_ms,
        beginning.section_began_ms,
        beginning.song_began_ms,
        beginning.tonight,
    )
    return replace(state, on=called_for(state))


def carried_over(state: State, book: Book) -> State:
    """Return the same state in the book of the edited show.

    Songs match by title and occurrence, or by what is left of them where a title was edited (``same_songs``); sections
    by name and occurrence. If the current section is gone, the song's first section of that name takes its place, else
    the song's first section. If tonight's running order is still the written one, the newly written order applies;
    otherwise tonight's order stays, and each new song goes in after the song that precedes it in the file. Added songs
    stay, and so does the current song, even if the file no longer has it. Steps before this point cannot be taken back.
    """
    moved = _Move(state, book)
    order, place = settled(moved.order(), moved.place())
    there = at_start(moved.book)
    if len(there.on) == len(state.on) and book.rig == state.book.rig:
        there = replace(there, on=state.on)
    same_place = state.song is not None
    there = replace(
        there,
        order=order,
        place=place,
        left_out=moved.left_out(),
        shift=state.shift if same_place else 0,
        taps_ms=state.taps_ms if same_place else (),
        stepped_ms=state.stepped_ms,
        section_began_ms=state.section_began_ms,
        song_began_ms=state.song_began_ms,
        tonight=moved.tonight(),
    )
    return replace(there, on=called_for(there))


def is_gone(was: State, there: State) -> bool:
    """Return whether the current song was one of the show's own before it was carried over, and no longer is."""
    if was.song is None or there.song is None:
        return False
    before, after = (one.order[one.place.set][one.place.at] for one in (was, there))
    return before < _written(was.book) and after >= _written(there.book)


def without_next(state: State) -> State:
    """Return the state without the song that is up next: the one after it is, and nothing was stepped."""
    there, _ = step(state, Drop(state.stepped_ms or 0))
    return replace(there, stepped_ms=state.stepped_ms, past=state.past)


class _Move:
    """One carry-over: maps old song numbers to new ones and builds the running order."""

    def __init__(self, state: State, book: Book) -> None:
        self._state = state
        self._written = _written(state.book)
        self.book = book
        self._number: dict[int, int] = {}
        self._lists: Lists = [[] for _ in book.order]
        self._here: At | None = None
        if book.order:
            sets = {number: self._set(number) for number in range(len(state.book.order))}
            self._number = same_songs(state.book, book, self._written, sets)

    def order(self) -> Order:
        """Return tonight's order in the numbers of the new book. Added songs go into that book."""
        if not self._lists:
            return ()
        if self._state.order == self._state.book.order:
            self._lists = [list(songs) for songs in self.book.order]
            self._find_here()
        else:
            for in_set, at, number in self._tonight():
                mapped = self._mapped(number, needed=(in_set, at) == self._place_now())
                if mapped is not None:
                    if (in_set, at) == self._place_now():
                        self._here = (self._set(in_set), len(self._lists[self._set(in_set)]))
                    self._lists[self._set(in_set)].append(mapped)
            self._add_new()
        return self._frozen()

    def place(self) -> ShowPosition:
        """Return the current place in the new order."""
        place = self._state.place
        if place.where is PositionKind.END or not self._lists:
            return ShowPosition(PositionKind.END)
        if place.where is PositionKind.BETWEEN_SETS or self._here is None:
            ended = self._set(place.set)
            return (
                ShowPosition(PositionKind.BETWEEN_SETS, ended)
                if self._lists[ended]
                else opening_after(self._frozen(), ended)
            )
        song = self.book.songs[self._lists[self._here[0]][self._here[1]]]
        section = None if self._state.section is None else _section(song, self._state.section)
        if place.where is PositionKind.UP_NEXT or section is None:
            return ShowPosition(place.where, *self._here)
        passes = song.sections[section].section.passes
        return ShowPosition(place.where, *self._here, section, min(place.passed, passes), place.rounds)

    def left_out(self) -> frozenset[int]:
        """Return the left-out sections, by their new numbers."""
        if self._here is None or self._state.song is None:
            return frozenset()
        song = self.book.songs[self._lists[self._here[0]][self._here[1]]]
        return _sections(self._state.song, self._state.left_out, song)

    def tonight(self) -> Tonight:
        """Return tonight's changes to songs played earlier, for the songs that still exist."""
        return tuple(
            replace(one, song=number, left_out=_sections(was, one.left_out, self.book.songs[number]))
            for one in self._state.tonight
            for was in self._state.book.songs[one.song : one.song + 1]
            if (number := self._number.get(one.song)) is not None
        )

    def _frozen(self) -> Order:
        return tuple(tuple(songs) for songs in self._lists)

    def _tonight(self) -> Iterator[tuple[int, int, int]]:
        for in_set, songs in enumerate(self._state.order):
            for at, number in enumerate(songs):
                yield in_set, at, number

    def _place_now(self) -> At | None:
        place = self._state.place
        return (place.set, place.at) if place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING) else None

    def _mapped(self, number: int, *, needed: bool) -> int | None:
        """Return a song's new number; None if it is gone from the file and tonight's order does not need it."""
        if number not in self._number and (needed or number >= self._written):
            self._put_in(number)
        return self._number.get(number)

    def _put_in(self, number: int) -> None:
        song = self._state.book.songs[number].song
        has_it = next((at for at, one in enumerate(self.book.songs) if _alike(one.song, song)), None)
        if has_it is not None and has_it not in self._number.values():
            self._number[number] = has_it  # added to the file since
            return
        self.book = with_song(self.book, song)
        self._number[number] = len(self.book.songs) - 1

    def _find_here(self) -> None:
        """Find the current song in the newly written order; a song that is gone keeps its old position."""
        here = self._place_now()
        if here is None:
            return
        number = self._state.order[here[0]][here[1]]
        mapped = self._number.get(number)
        for in_set, songs in enumerate(self._lists):
            if mapped in songs:
                self._here = (in_set, songs.index(mapped))
                return
        mapped = self._mapped(number, needed=True)
        before = [self._number[one] for one in self._state.order[here[0]][: here[1]] if one in self._number]
        in_set, at = self._behind(before, self._set(here[0]))
        self._lists[in_set].insert(at, mapped or 0)
        self._here = (in_set, at)

    def _add_new(self) -> None:
        """Insert each song that is new in the file after the song that precedes it there."""
        known = set(self._number.values())
        for in_set, songs in enumerate(self.book.order):
            for at, number in enumerate(songs):
                if number not in known:
                    home, where = self._behind(songs[:at], in_set)
                    self._lists[home].insert(where, number)
                    if self._here is not None and self._here[0] == home and where <= self._here[1]:
                        self._here = (home, self._here[1] + 1)

    def _behind(self, before: "list[int] | tuple[int, ...]", in_set: int) -> At:
        """Return the position after the last of these songs in the running order; the set's start if none is there."""
        for number in reversed(before):
            for home, songs in enumerate(self._lists):
                if number in songs:
                    return home, songs.index(number) + 1
        return in_set, 0

    def _set(self, number: int) -> int:
        """Return the set of the same name; else the set of the same number, or the last."""
        names = [one.name.casefold() for one in self.book.show.sets]
        name = self._state.book.show.sets[number].name.casefold()
        return names.index(name) if name in names else min(number, len(names) - 1)


def _section(song: BookSong, was: BookSection, *, exact: bool = False) -> int | None:
    same = [at for at, one in enumerate(song.sections) if _same_name(one.section.name, was.section.name)]
    found = [at for at in same if song.sections[at].occurrence == was.occurrence]
    return next(iter(found if exact else found or same), None)


def _sections(was: BookSong, numbers: Iterable[int], song: BookSong) -> frozenset[int]:
    """Return the new numbers of these sections of a song, without the sections that are gone."""
    found = (_section(song, was.sections[number], exact=True) for number in numbers if 0 <= number < len(was.sections))
    return frozenset(number for number in found if number is not None)


def _named(book: Book, names: tuple[str | None, ...]) -> SoundPerKeyboard:
    """Return the keyboards' own sounds of these names; None for a name that the edited rig lacks."""
    boards = book.rig.keyboards
    if len(names) != len(boards):
        return (None,) * len(boards)
    return tuple(
        next((sound for sound in board.sounds if sound.name == name), None)
        for board, name in zip(boards, names, strict=True)
    )


def _written(book: Book) -> int:
    """Return how many of the book's songs are in the show; the songs after these were added."""
    return sum(map(len, book.order))


def _alike(one: Song, other: Song) -> bool:
    return _same_name(one.title, other.title)


def _same_name(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()
