"""Change the running order on stage: call, drop, swap, move to the encore. Deals with songs and places only."""

from collections.abc import Sequence

from companion.show import Show
from companion.stage.moves import Order, opening_after
from companion.stage.place import PositionKind, ShowPosition

ENCORE = "encore"


def coming(order: Order, place: ShowPosition) -> tuple[int, int] | None:
    """Return the set and place of the next song that has not begun; None if there is none."""
    if place.where is PositionKind.UP_NEXT:
        return place.set, place.at
    if place.where is PositionKind.PLAYING and place.at + 1 < len(order[place.set]):
        return place.set, place.at + 1
    if place.where is PositionKind.END:
        return None
    opening = opening_after(order, place.set)
    return None if opening.where is PositionKind.END else (opening.set, opening.at)


def called(order: Order, place: ShowPosition, song: int) -> tuple[Order, ShowPosition]:
    """Play this song now: it becomes up next, and its later place in the order is removed."""
    if not order:
        return order, place  # a show without sets has no place for a song
    in_set, at = _here(order, place)
    changed = [
        [one for which, one in enumerate(songs) if one != song or (number, which) < (in_set, at)]
        for number, songs in enumerate(order)
    ]
    changed[in_set].insert(at, song)
    return _frozen(changed), ShowPosition(PositionKind.UP_NEXT, in_set, at)


def dropped(order: Order, place: ShowPosition) -> tuple[Order, ShowPosition]:
    """Drop the song that comes next."""
    where = coming(order, place)
    if where is None:
        return order, place
    changed = [list(songs) for songs in order]
    del changed[where[0]][where[1]]
    return settled(_frozen(changed), place)


def swapped(order: Order, place: ShowPosition) -> tuple[Order, ShowPosition]:
    """Swap the song that comes next with the one after it, even across a break."""
    first = coming(order, place)
    if first is None:
        return order, place
    second = coming(order, ShowPosition(PositionKind.PLAYING, *first))
    if second is None:
        return order, place
    changed = [list(songs) for songs in order]
    changed[first[0]][first[1]], changed[second[0]][second[1]] = order[second[0]][second[1]], order[first[0]][first[1]]
    return _frozen(changed), place


def moved_to_encore(order: Order, place: ShowPosition, show: Show) -> tuple[Order, ShowPosition]:
    """Move the song that comes next to the encore: the set of that name, else the end of the last set."""
    where = coming(order, place)
    if where is None:
        return order, place
    named = [number for number, one in enumerate(show.sets) if number >= where[0] and ENCORE in one.name.casefold()]
    encore = named[0] if named else len(order) - 1
    changed = [list(songs) for songs in order]
    song = changed[where[0]].pop(where[1])
    changed[encore].append(song)
    return settled(_frozen(changed), place)


def settled(order: Order, place: ShowPosition) -> tuple[Order, ShowPosition]:
    """Repair a place whose song has just been removed, and a break with nothing after it."""
    behind = any(order[place.set + 1 :])
    if place.where is PositionKind.BETWEEN_SETS and not behind:
        return order, ShowPosition(PositionKind.END)
    if place.where is not PositionKind.UP_NEXT or place.at < len(order[place.set]):
        return order, place
    if not behind:
        return order, ShowPosition(PositionKind.END)
    return order, ShowPosition(PositionKind.BETWEEN_SETS, place.set) if order[place.set] else opening_after(
        order, place.set
    )


def _here(order: Order, place: ShowPosition) -> tuple[int, int]:
    """Return where a song called now goes in: before the song up next, after the one playing, or at a set's end."""
    match place.where:
        case PositionKind.UP_NEXT:
            return place.set, place.at
        case PositionKind.PLAYING:
            return place.set, place.at + 1
        case PositionKind.BETWEEN_SETS:
            return place.set, len(order[place.set])
        case PositionKind.END:
            return len(order) - 1, len(order[-1])


def _frozen(changed: Sequence[Sequence[int]]) -> Order:
    return tuple(tuple(songs) for songs in changed)
