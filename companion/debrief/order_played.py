"""The order in which a night's songs were played, as an order for the show file, and that order in words."""

import difflib
from collections.abc import Iterator, Sequence

import msgspec

from companion.stage import Book
from companion.stage.played import How, NightPlayed, SongPlayed

Sets = Sequence[Sequence[int]]
"""Each set as numbers of the book's songs."""


class OrderPlayed(msgspec.Struct, frozen=True):
    """The new order, each set as (title, occurrence), and a line for each set that differs; empty if none does."""

    sets: tuple[tuple[tuple[str, int], ...], ...] = ()
    lines: tuple[str, ...] = ()


def order_played(book: Book, night: NightPlayed) -> OrderPlayed:
    """Return the order of the songs by when they were played.

    A song counts from the first time that it was not broken off in its first half, else from its first time, in the set
    in which it was played then. One that was not played stays behind the song before it in its set: in tonight's order;
    in the file's if it was dropped, or called and never begun.
    """
    now: list[list[int]] = [[] for _ in book.order]
    turns = _turns(book, night.songs)
    for number, one in turns.items():
        now[_set_of(one, number, book, night)].append(number)
    called = {one.song for one in night.changes if one.how is How.CALLED}
    waiting = {
        number
        for songs in night.order
        for number in songs
        if number < len(book.songs) and book.songs[number].song.title not in called
    } - set(turns)
    for sets, numbers in ((night.order, waiting), (book.order, set(range(len(book.songs))) - waiting - set(turns))):
        for in_set, songs in enumerate(sets):
            for at, number in enumerate(songs):
                if number in numbers and not any(number in one for one in now):
                    before = next((one for one in reversed(songs[:at]) if one in now[in_set]), None)
                    now[in_set].insert(0 if before is None else now[in_set].index(before) + 1, number)
    if now == [list(songs) for songs in book.order]:
        return OrderPlayed()
    named = tuple(tuple((book.songs[one].song.title, book.songs[one].occurrence) for one in songs) for songs in now)
    return OrderPlayed(named, tuple(_lines(book, now)))


def _turns(book: Book, songs: Sequence[SongPlayed]) -> dict[int, SongPlayed]:
    """Return each song of the show that was played, with the time that counts, in the order of these."""
    found: dict[int, SongPlayed] = {}
    for one in songs:
        if one.number >= len(book.songs):
            continue  # not in the file
        before = found.setdefault(one.number, one)
        if _was_broken_off(book, before) and not _was_broken_off(book, one):
            found[one.number] = one
    return dict(sorted(found.items(), key=lambda item: item[1].at_ms))


def _was_broken_off(book: Book, one: SongPlayed) -> bool:
    """Return whether less than half of a song's sections was played: a false start."""
    return 2 * len({section.number for section in one.sections}) < len(book.songs[one.number].sections)


def _set_of(one: SongPlayed, number: int, book: Book, night: NightPlayed) -> int:
    """Return the set in which a song was played: by its name, else where the song stands."""
    names = [each.name for each in book.show.sets]
    if names.count(one.set) == 1:
        return names.index(one.set)
    places = (in_set for order in (night.order, book.order) for in_set, songs in enumerate(order) if number in songs)
    return next(places, 0)


def _lines(book: Book, now: Sets) -> Iterator[str]:
    """Yield each set that differs: its songs, and where those that moved were before."""
    was = {number: (in_set, at) for in_set, songs in enumerate(book.order) for at, number in enumerate(songs, 1)}
    for in_set, songs in enumerate(now):
        before, name = book.order[in_set], book.show.sets[in_set].name
        if list(songs) == list(before):
            continue
        blocks = difflib.SequenceMatcher(None, before, songs, autojunk=False).get_matching_blocks()
        kept = {songs[at] for block in blocks for at in range(block.b, block.b + block.size)}
        named = []
        for number in songs:
            old_set, at = was[number]
            place = f"{at}" if old_set == in_set else f"{book.show.sets[old_set].name} {at}"
            named.append(book.songs[number].song.title + ("" if number in kept else f" (was {place})"))
        yield f"{name}: {', '.join(named) or 'no songs'}"
