"""Cover before depth: one first block for every song, packed into the days. Pure arithmetic on minutes.

First blocks are 5, 10 or 15 minutes: one, two or three units. Whether a set of them fits into the days is decided
exactly, by counting: on a day of ``u`` units with ``a`` blocks of three, ``(u - 3 a) // 2`` blocks of two fit, and
blocks of one fill any unit left. So the most blocks of two fit where as few days as possible have an odd unit left.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

import msgspec

UNIT_MINUTES: Final = 5  # enough for the intro, or the feature, and no more


class FirstBlock(msgspec.Struct, frozen=True):
    """The first block of a song: its day, from 0, and its minutes."""

    day: int
    minutes: int


def cover(
    wanted: Sequence[int], rooms: Sequence[int], alike: frozenset[tuple[int, int]] = frozenset()
) -> list[FirstBlock | None]:
    """Return each song's first block. ``wanted``: minutes (up to 15) of each, the most important song first.

    If all fit, all are placed as wanted, the most important first. Otherwise the least important ones are cut to
    ``UNIT_MINUTES``; where even that is too much, the last ones get None. Songs that are ``alike`` share a day only
    where nothing else fits.
    """
    units = [max(0, room) // UNIT_MINUTES for room in rooms]
    sizes = _cut(units, [-(-minutes // UNIT_MINUTES) for minutes in wanted])
    rest = Counter(sizes)
    on: list[set[int]] = [set() for _ in units]
    foes: dict[int, set[int]] = {song: set() for song in range(len(wanted))}
    for one, other in alike:
        foes[one].add(other)
        foes[other].add(one)
    placed: list[FirstBlock | None] = []
    for song, size in enumerate(sizes):
        rest[size] -= 1
        days = [day for day, left in enumerate(units) if size and left >= size]
        for day in sorted(days, key=lambda at: (bool(on[at] & foes[song]), at)):
            units[day] -= size
            if fits(rest, units):
                on[day].add(song)
                placed.append(FirstBlock(day, min(wanted[song], size * UNIT_MINUTES)))
                break
            units[day] += size
        else:
            placed.append(None)
    return placed


def _cut(units: Sequence[int], sizes: Sequence[int]) -> list[int]:
    """Return the units of each first block so that all fit: the least important ones shorter, the last ones 0."""
    cut = list(sizes)
    for song in reversed(range(len(cut))):
        if fits(Counter(cut), units):
            break
        cut[song] = min(1, cut[song])
    if not fits(Counter(cut), units):
        return [int(song < sum(units)) for song in range(len(cut))]
    for song, size in enumerate(sizes):  # a longer block cut short may have made room for a shorter one
        if cut[song] != size:
            was, cut[song] = cut[song], size
            if not fits(Counter(cut), units):
                cut[song] = was
    return cut


def fits(blocks: Mapping[int, int], units: Sequence[int]) -> bool:
    """Return whether these blocks fit into days of these units. ``blocks``: how many of one, two and three units."""
    ones, twos, threes = (blocks.get(size, 0) for size in (1, 2, 3))
    most = sum(units)
    if ones + 2 * twos + 3 * threes > most or threes > sum(left // 3 for left in units):
        return False
    return 2 * twos <= most - 3 * threes - _odd_days(units, threes)


def _odd_days(units: Sequence[int], threes: int) -> int:
    """Return the fewest days with an odd number of units left after placing so many blocks of three."""
    odd = sum(left % 2 for left in units)
    mended = sum(left % 2 for left in units if left >= 3)  # one block of three makes such a day even
    if threes <= mended:
        return odd - threes
    pairs = sum((left - 3 * (left % 2)) // 6 for left in units if left >= 3)  # two more leave a day even
    rest = threes - mended
    return odd - mended + (rest - 2 * pairs if rest > 2 * pairs else rest % 2)
