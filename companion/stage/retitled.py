"""Which song of the edited show is which song of the show before it: by title, else by what is left of it. Pure."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from msgspec.json import encode
from msgspec.structs import replace

from companion.show import Song
from companion.show.titles import folded
from companion.stage.book import Book, BookSong

SURE: Final = 2  # of the three signs that two songs of different titles are one: title, neighbours, what is in them
ALIKE: Final = 0.8  # of two titles: one letter in five may differ
LONGEST: Final = 60  # letters of a title that are compared

PlaceInSet = tuple[object, int]
"""A place in a set: a song that has its old title (or None: the set's edge), and how far after it (-: before it)."""


def same_songs(was: Book, now: Book, written: int, sets: Mapping[int, int]) -> dict[int, int]:
    """Return the new number of each of the first ``written`` songs of the book; a song that is gone has none.

    A title and its occurrence name a song. A song whose title is gone is found again where two of three signs agree on
    one song with a new title, and on no other: a nearly equal title, the place beside the same song, and a road map,
    or all that is written besides the title, that no other song has. ``sets`` gives each old set's new number.
    """
    before, after = was.songs[:written], now.songs
    many_before, many_after = _titles(before), _titles(after)
    named = {_name(one): number for number, one in enumerate(after)}
    found = {
        number: named[_name(one)]
        for number, one in enumerate(before)
        if _name(one) in named and many_before[_title(one)] == many_after[_title(one)]
    }
    there = set(found.values())
    lost = [number for number in range(written) if number not in found]
    new = [number for number in range(len(after)) if number not in there]
    if lost and new:
        found |= _by_signs(was, now, (lost, new), found, sets)
        there = set(found.values())
    for number in lost:  # the same title more often or less often than before
        other = named.get(_name(before[number]))
        if number not in found and other is not None and other not in there:
            found[number] = other
    return found


def is_nearly(one: str, other: str) -> bool:
    """Return whether two titles are the same but for a few letters.

    >>> is_nearly("Tin Roof Tuesday", "Tin Rof Tuesday"), is_nearly("Marigold", "Moth")
    (True, False)
    """
    from difflib import SequenceMatcher  # noqa: PLC0415  only an edited title needs it

    titles = folded(one)[:LONGEST], folded(other)[:LONGEST]
    return titles[0] == titles[1] or SequenceMatcher(None, *titles, autojunk=False).ratio() >= ALIKE


def _by_signs(
    was: Book, now: Book, unnamed: tuple[list[int], list[int]], found: dict[int, int], sets: Mapping[int, int]
) -> dict[int, int]:
    """Pair the lost songs with the new ones: those that are each other's best, and share two signs at least."""
    lost, new = unnamed
    there = set(found.values())
    beside: dict[PlaceInSet, list[int]] = {}
    for other in new:
        for place in _beside(now, other, there, None):
            beside.setdefault(place, []).append(other)
    within_before, within_after = _within_each(was), _within_each(now)
    signs: dict[tuple[int, int], int] = {}
    for number in lost:
        here = {other for place in _beside(was, number, found, sets) for other in beside.get(place, ())}
        own = [one for one in _within(was.songs[number].song) if within_before[one] == [number]]
        same = {within_after[one][0] for one in own if len(within_after.get(one, ())) == 1} - there
        for other in here | same:
            alike = is_nearly(was.songs[number].song.title, now.songs[other].song.title)
            if found or alike:  # if every title has changed, only a similar title shows that it is the same song
                signs[number, other] = (other in here) + (other in same) + alike
    return {number: other for (number, other), many in signs.items() if many >= SURE and _is_best(signs, number, other)}


def _is_best(signs: dict[tuple[int, int], int], number: int, other: int) -> bool:
    """Return whether no other pair of one of these two songs shares as many signs."""
    rivals = [many for pair, many in signs.items() if (pair[0] == number) != (pair[1] == other)]
    return all(many < signs[number, other] for many in rivals)


def _beside(
    book: Book, number: int, known: "Mapping[int, int] | set[int]", sets: Mapping[int, int] | None
) -> Iterator[PlaceInSet]:
    """Yield a song's place from the song before it and from the one after it that are known, in new numbers."""
    for in_set, songs in enumerate(book.order):
        if number not in songs:
            continue
        at = songs.index(number)
        here = in_set if sets is None else sets[in_set]
        for way in (-1, 1):
            other = at + way
            while 0 <= other < len(songs) and songs[other] not in known:
                other += way
            if 0 <= other < len(songs):
                one = songs[other]
                yield (known[one] if isinstance(known, Mapping) else one), at - other
            else:
                yield ("set", here, way), at - other


def _within_each(book: Book) -> dict[object, list[int]]:
    """Return the songs that have each of these things in them, of which none is nothing."""
    found: dict[object, list[int]] = {}
    for number, one in enumerate(book.songs):
        for what in _within(one.song):
            found.setdefault(what, []).append(number)
    return found


def _within(song: Song) -> Iterator[object]:
    """Yield a song's road map, and all that is written besides its title, if there is any."""
    if song.road_map:
        yield tuple((one.name.casefold(), one.bars, one.passes) for one in song.road_map)
    if replace(song, title="") != Song(""):
        yield encode(replace(song, title=""))


def _titles(songs: tuple[BookSong, ...]) -> Counter[str]:
    return Counter(map(_title, songs))


def _title(one: BookSong) -> str:
    return one.song.title.casefold()


def _name(one: BookSong) -> tuple[str, int]:
    return _title(one), one.occurrence
