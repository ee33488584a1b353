"""Assign repeats to days, after every song had its first block: the most valuable work that fits, spaced over days.

Pure arithmetic on numbers. A song's blocks stay in order; each is worth ``LESS`` times the one before. The gap between
two blocks of a song follows spacing research: a fifth of the time from the later block to the test (Cepeda, Vul,
Rohrer, Wixted, Pashler 2008, Psychological Science 19(11): about 20 % for delays of a few weeks), which is a sixth from
the earlier block; and at least one night, since spacing within a sitting did nothing for pianists (Wiseheart, D'Souza,
Chae 2017, PLOS ONE 12(8)). Equal and growing gaps do equally well (Latimier, Peyre, Ramus 2021). Similar songs are kept
apart: a second, similar melody removed the overnight gain of the first (Allen 2012). All of this was measured on words
and short tunes; whole songs are an extrapolation.
"""

import random
from collections.abc import Callable, Sequence
from typing import Final

import msgspec

LESS: Final = 0.6  # value of each further block of a song, relative to the one before (common practice, no source)
ROUNDS: Final = 6_000  # songs x rounds of improvement; a fixed number, so that plans are reproducible


class Work(msgspec.Struct, frozen=True):
    """One song's work: ``minutes`` of each block to do, the value of the first, the earliest day for it."""

    value: float
    minutes: tuple[int, ...]
    from_day: int = 0


class Task(msgspec.Struct, frozen=True):
    """The work to place: ``rooms`` are the minutes of each day; ``alike`` are pairs of songs to keep apart.

    ``there``: the songs that already have a block on each day.
    """

    works: tuple[Work, ...]
    rooms: tuple[int, ...]
    alike: frozenset[tuple[int, int]] = frozenset()
    there: tuple[frozenset[int], ...] = ()

    def gap(self, day: int) -> int:
        """Return the least number of nights from a block on this day to the song's next."""
        return gap_after(day, len(self.rooms))


def gap_after(day: int, days: int) -> int:
    """Return the least number of nights from a block on a day, from 0, to the song's next; the show is on ``days``."""
    return max(1, round((days - day) / 6))


FEW: Final = 12  # up to this many songs, improvement also restarts from an empty timetable
Choice = Callable[[Sequence[int], Sequence[int]], int]  # picks one of the days, given the minutes left on every day
Days = list[list[int]]  # for each song, the days of its blocks, in order


def worth(task: Task, days: Days) -> float:
    """Return the value of a timetable."""
    return sum(work.value * sum(LESS**block for block in range(len(days[at]))) for at, work in enumerate(task.works))


def timetable(task: Task, rounds: int = ROUNDS) -> Days:
    """Return the days of each song's blocks. The same task always gives the same timetable."""
    filled = (_filled(task, _empty(task), order, way) for order in _orders(task) for way in (_first, _tightest))
    best = max(filled, key=lambda days: worth(task, days))
    most = worth(task, best)
    if all(len(days) == len(work.minutes) for days, work in zip(best, task.works, strict=True)):
        return best
    dice = random.Random(len(task.works))  # noqa: S311  no secret; seeded, so that plans are reproducible
    units = _order_by_density(task)
    for _ in range(min(1_000, rounds // max(1, len(task.works)))):
        tried = _loosened(task, best, dice)
        order = sorted(units, key=lambda unit: -unit[2] * dice.uniform(0.6, 1.4))
        tried = _filled(
            task, tried, [(song, block) for song, block, _ in order], dice.choice((_first, _tightest, _any(dice)))
        )
        value = worth(task, tried)
        if value >= most:
            best, most = tried, value
    return best


def _empty(task: Task) -> Days:
    return [[] for _ in task.works]


def _order_by_density(task: Task) -> list[tuple[int, int, float]]:
    units = [
        (song, block, work.value * LESS**block / minutes)
        for song, work in enumerate(task.works)
        for block, minutes in enumerate(work.minutes)
    ]
    return sorted(units, key=lambda unit: -unit[2])


def _orders(task: Task) -> list[list[tuple[int, int]]]:
    """Return the orders in which to try blocks: by value a minute, by value, and song by song."""
    units = _order_by_density(task)
    by_value = sorted(units, key=lambda unit: -unit[2] * task.works[unit[0]].minutes[unit[1]])
    by_song = sorted(units, key=lambda unit: (-task.works[unit[0]].value, unit[1]))
    return [[(song, block) for song, block, _ in order] for order in (units, by_value, by_song)]


def _loosened(task: Task, days: Days, dice: random.Random) -> Days:
    """Remove some work: a day, a few songs, the last blocks of some songs, or everything where songs are few."""
    how = dice.randrange(4 if len(days) <= FEW else 3)
    if how == 0 and task.rooms:
        day = dice.randrange(len(task.rooms))
        return [[one for one in song if one < day] if day in song else list(song) for song in days]
    if how == 1:
        out = set(dice.sample(range(len(days)), max(1, len(days) // 4)))
        return [[] if at in out else list(song) for at, song in enumerate(days)]
    if how == 3:
        return _empty(task)
    return [song[:-1] if song and dice.random() < 0.5 else list(song) for song in days]


def _filled(task: Task, days: Days, order: Sequence[tuple[int, int]], choose: Choice) -> Days:
    """Place blocks in this order, each on the day that ``choose`` picks from those with room."""
    left = list(task.rooms)
    on = [set(songs) for songs in task.there] or [set[int]() for _ in task.rooms]
    for song, placed in enumerate(days):
        for block, where in enumerate(placed):
            left[where] -= task.works[song].minutes[block]
            on[where].add(song)
    foes: list[set[int]] = [set() for _ in task.works]
    for one, other in task.alike:
        foes[one].add(other)
        foes[other].add(one)
    waiting = list(order)
    while True:
        later = []
        for song, block in waiting:
            placed = days[song]
            if len(placed) > block:
                continue
            if len(placed) < block:
                later.append((song, block))
                continue
            day = _day(task, song, placed, left, on, foes[song], choose)
            if day is not None:
                placed.append(day)
                left[day] -= task.works[song].minutes[block]
                on[day].add(song)
        if len(later) == len(waiting) or not later:
            return days
        waiting = later


def _day(
    task: Task,
    song: int,
    placed: list[int],
    left: list[int],
    on: list[set[int]],
    foes: set[int],
    choose: Choice,
) -> int | None:
    """Return the day that ``choose`` picks for the song's next block; None if no day has room."""
    work = task.works[song]
    first = placed[-1] + task.gap(placed[-1]) if placed else work.from_day
    minutes = work.minutes[len(placed)]
    takes = [day for day in range(first, len(left)) if left[day] >= minutes and not on[day] & foes]
    return choose(takes, left) if takes else None


def _first(takes: Sequence[int], left: Sequence[int]) -> int:  # noqa: ARG001  the signature of Choice
    """Choose the earliest day."""
    return takes[0]


def _tightest(takes: Sequence[int], left: Sequence[int]) -> int:
    """Choose the day with the least room left."""
    return min(takes, key=lambda day: left[day])


def _any(dice: random.Random) -> Choice:
    """Choose one of the first three days at random."""
    return lambda takes, left: takes[dice.randrange(min(len(takes), 3))]  # noqa: ARG005  the signature of Choice
