"""The state of a night carried over into the show as it was edited since: place, order and what was put in. Pure."""

from collections.abc import Iterable, Iterator

import msgspec
from msgspec.structs import replace

from companion.show import Song

from .book import Book, BookSection, BookSong, Sounds, with_song
from .moves import Order, opening_after
from .order import settled
from .place import Place, Where
from .state import State, at_start, called_for
from .tonight import Tonight

Lists = list[list[int]]
At = tuple[int, int]


class Beginning(msgspec.Struct, frozen=True):
    """Where a journal begins that goes on from another: what the state had besides its show.

    ``put_in`` are the songs that stand behind those of the show, in the book's order; ``on`` names the sound that each
    keyboard has; ``at_ms`` is when it was.
    """

    place: Place
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
    """Tell where a journal begins that goes on from here."""
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
    """Give the state at this beginning; None where it is not one of this show. Nothing can be taken back there."""
    for song in beginning.put_in:
        book = with_song(book, song)
    place, order = beginning.place, beginning.order
    if len(order) != len(book.order) or any(not 0 <= one < len(book.songs) for songs in order for one in songs):
        return None
    if place.where is not Where.END and not 0 <= place.set < len(order):
        return None
    if place.where in (Where.UP_NEXT, Where.PLAYING):
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
    """Give the same place, by identity, in another book: that of the show as it was edited since.

    Songs are the same by title and number of occurrence, sections by name and occurrence; a section that is gone is the
    song's first of that name, else its first. Where tonight's order is as it was written, the new one is taken; else
    tonight's stays, and songs that are new stand behind the one that they are written behind. What was put in stays
    put in, and so does the song that is on, though it is gone from the file. Nothing from before can be taken back.
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


class _Move:
    """One carrying over: which song is which, and the running order put together."""

    def __init__(self, state: State, book: Book) -> None:
        self._state = state
        self._written = _written(state.book)
        self.book = book
        self._number: dict[int, int] = {}
        self._lists: Lists = [[] for _ in book.order]
        self._here: At | None = None
        same = {_name(one): number for number, one in enumerate(book.songs)}
        for number, one in enumerate(state.book.songs[: self._written]):
            if _name(one) in same:
                self._number[number] = same[_name(one)]

    def order(self) -> Order:
        """Give tonight's order in the numbers of the new book, which gets what was put in."""
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

    def place(self) -> Place:
        """Give the place in that order."""
        place = self._state.place
        if place.where is Where.END or not self._lists:
            return Place(Where.END)
        if place.where is Where.BETWEEN_SETS or self._here is None:
            ended = self._set(place.set)
            return Place(Where.BETWEEN_SETS, ended) if self._lists[ended] else opening_after(self._frozen(), ended)
        song = self.book.songs[self._lists[self._here[0]][self._here[1]]]
        section = None if self._state.section is None else _section(song, self._state.section)
        if place.where is Where.UP_NEXT or section is None:
            return Place(place.where, *self._here)
        passes = song.sections[section].section.passes
        return Place(place.where, *self._here, section, min(place.passed, passes), place.rounds)

    def left_out(self) -> frozenset[int]:
        """Give the sections that are left out, by their numbers now."""
        if self._here is None or self._state.song is None:
            return frozenset()
        song = self.book.songs[self._lists[self._here[0]][self._here[1]]]
        return _sections(self._state.song, self._state.left_out, song)

    def tonight(self) -> Tonight:
        """Return what was changed in songs that were left, for those that are still there."""
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
        return (place.set, place.at) if place.where in (Where.UP_NEXT, Where.PLAYING) else None

    def _mapped(self, number: int, *, needed: bool) -> int | None:
        """Give a song's number now; None where it is gone from the file and need not stay for tonight."""
        if number not in self._number and (needed or number >= self._written):
            self._put_in(number)
        return self._number.get(number)

    def _put_in(self, number: int) -> None:
        song = self._state.book.songs[number].song
        has_it = next((at for at, one in enumerate(self.book.songs) if _alike(one.song, song)), None)
        if has_it is not None and has_it not in self._number.values():
            self._number[number] = has_it  # it was written into the file meanwhile
            return
        self.book = with_song(self.book, song)
        self._number[number] = len(self.book.songs) - 1

    def _find_here(self) -> None:
        """Find the song that is on in the order as it is written now; one that is gone stays where it was."""
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
        """Put each song that is new in the file behind the one that it is written behind."""
        known = set(self._number.values())
        for in_set, songs in enumerate(self.book.order):
            for at, number in enumerate(songs):
                if number not in known:
                    home, where = self._behind(songs[:at], in_set)
                    self._lists[home].insert(where, number)
                    if self._here is not None and self._here[0] == home and where <= self._here[1]:
                        self._here = (home, self._here[1] + 1)

    def _behind(self, before: "list[int] | tuple[int, ...]", in_set: int) -> At:
        """Give the place behind the last of these songs that is played; the set's beginning where none is."""
        for number in reversed(before):
            for home, songs in enumerate(self._lists):
                if number in songs:
                    return home, songs.index(number) + 1
        return in_set, 0

    def _set(self, number: int) -> int:
        """Give the set of the same name; else that of the same number, or the last."""
        names = [one.name.casefold() for one in self.book.show.sets]
        name = self._state.book.show.sets[number].name.casefold()
        return names.index(name) if name in names else min(number, len(names) - 1)


def _section(song: BookSong, was: BookSection, *, exact: bool = False) -> int | None:
    same = [at for at, one in enumerate(song.sections) if _same_name(one.section.name, was.section.name)]
    found = [at for at in same if song.sections[at].occurrence == was.occurrence]
    return next(iter(found if exact else found or same), None)


def _sections(was: BookSong, numbers: Iterable[int], song: BookSong) -> frozenset[int]:
    """Return the numbers that these sections of a song have in the song as it is now; without those that are gone."""
    found = (_section(song, was.sections[number], exact=True) for number in numbers if 0 <= number < len(was.sections))
    return frozenset(number for number in found if number is not None)


def _named(book: Book, names: tuple[str | None, ...]) -> Sounds:
    """Give the keyboards' own sounds of these names; None where the rig was edited and has none of that name."""
    boards = book.rig.keyboards
    if len(names) != len(boards):
        return (None,) * len(boards)
    return tuple(
        next((sound for sound in board.sounds if sound.name == name), None)
        for board, name in zip(boards, names, strict=True)
    )


def _written(book: Book) -> int:
    """Give how many of the book's songs stand in the show; those behind were put in."""
    return sum(map(len, book.order))


def _name(one: BookSong) -> tuple[str, int]:
    return one.song.title.casefold(), one.occurrence


def _alike(one: Song, other: Song) -> bool:
    return _same_name(one.title, other.title)


def _same_name(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()
