"""Plan the days until the show: what to play, what to listen to, and what does not fit.

Playing is planned in short blocks (see ``timetable``), in mixed order within an evening (turns beat one long block
where raters heard a difference at all: Carter and Grahn 2016, Frontiers in Psychology 7:1251), each later block
beginning with recall (Roediger and Karpicke 2006, Psychological Science 17(3): tested is remembered better than
restudied). Each set is run once before the end, and the last day is light. Listening has minutes of its own.
"""

import datetime as dt
import enum
from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import Final

import msgspec

from companion.planning.days import Hours, days_until
from companion.planning.priority import Ranked, rank
from companion.planning.timetable import ROUNDS, Task, Work, timetable
from companion.practice_log.song_progress import Progress, of_song
from companion.setlist.tidy import folded
from companion.show import Set, Show, Song

LIGHT: Final = 0.5  # share of the last day's minutes that is used
LIGHT_MINUTES: Final = 30
LIGHT_BLOCK: Final = 5
USUAL_LENGTH_S: Final = 230  # assumed length of a song without one
ALIKE_TEMPO: Final = 0.06  # tempos closer than this sound the same (common practice, no source)
MAX_HEARINGS_A_DAY: Final = 2
MAX_ALIKE: Final = 400  # most pairs to keep apart; beyond that, nearly all songs are alike


class BlockKind(enum.Enum):
    """The kind of a block."""

    LEARN = "learn"
    RECALL = "recall, then play"
    RUN = "run the whole set"


class PracticeBlock(msgspec.Struct, frozen=True):
    """Minutes at the keyboard on one song, or on a set in one go."""

    kind: BlockKind
    title: str
    minutes: int
    what: str = ""  # the features to work on


class ListeningTask(msgspec.Struct, frozen=True):
    """A song to hear on a day, and how many times."""

    title: str
    times: int
    minutes: float


class Day(msgspec.Struct, frozen=True):
    """One day. ``minutes`` are available, ``used`` are planned."""

    date: dt.date
    minutes: int
    blocks: tuple[PracticeBlock, ...]
    listening: tuple[ListeningTask, ...]
    is_light: bool = False

    @property
    def used(self) -> int:
        """Planned minutes at the keyboard."""
        return sum(block.minutes for block in self.blocks)

    @property
    def listened(self) -> float:
        """Planned minutes of listening."""
        return sum(one.minutes for one in self.listening)


class LeftOut(msgspec.Struct, frozen=True):
    """What did not fit: blocks or hearings of a song, or the run of a set."""

    title: str
    what: str
    minutes: float


class Plan(msgspec.Struct, frozen=True):
    """The whole plan. ``helps`` names the one change that helps most, where ``advised`` found one."""

    show_title: str
    show_date: dt.date
    order: tuple[Ranked, ...]
    days: tuple[Day, ...]
    left_out: tuple[LeftOut, ...] = ()
    helps: str = ""

    @property
    def short_minutes(self) -> float:
        """Minutes missing to fit everything."""
        return sum(one.minutes for one in self.left_out)


def plan(
    show: Show,
    today: dt.date,
    hours: Hours,
    progress: Mapping[str, Progress],
    *,
    rounds: int = ROUNDS,
) -> Plan:
    """Plan the days until the show. ``progress`` holds the work done so far; missed days do not count.

    Raises CompanionError where the show has no date or is not in the future.
    """
    days = days_until(show.date, today)
    order = rank(show, len(days), progress)
    rooms = [hours.on(day) for day in days]
    if len(rooms) > 1:
        rooms[-1] = int(rooms[-1] * LIGHT)
    runs, no_run = _runs(show.sets, rooms)
    for at, one in runs:
        rooms[at] -= _run_minutes(one)
    works = tuple(_work(one, days, of_song(progress, one.song)) for one in order)
    placed = timetable(Task(works, tuple(rooms), _alike(order)), rounds)
    heard, unheard = _listening(order, days, hours)
    made = []
    for at, day in enumerate(days):
        blocks = [_block(one, done.index(at)) for one, done in zip(order, placed, strict=True) if at in done]
        sets = [PracticeBlock(BlockKind.RUN, one.name, _run_minutes(one)) for where, one in runs if where == at]
        is_light = at == len(days) - 1 and len(days) > 1
        if is_light:
            blocks += _light(order, blocks, rooms[at] - sum(block.minutes for block in blocks))
        made.append(Day(day, hours.on(day), (*_mixed(blocks, order), *sets), tuple(heard[at]), is_light))
    left = [
        LeftOut(one.song.title, _many(one.blocks - len(done), "block"), sum(work.minutes[len(done) :]))
        for one, done, work in zip(order, placed, works, strict=True)
        if len(done) < one.blocks
    ]
    left += [LeftOut(one.name, "a run of the whole set", _run_minutes(one)) for one in no_run]
    left += unheard
    assert show.date is not None  # noqa: S101  days_until raises without a date
    return Plan(show.title, show.date, order, tuple(made), tuple(left))


def song_minutes(song: Song) -> float:
    """Return a song's length in minutes."""
    return (song.length_s or USUAL_LENGTH_S) / 60


def _run_minutes(one: Set) -> int:
    """Return the minutes of a run of a set: its songs end to end."""
    return round(sum(song_minutes(song) for song in one.songs))


def _runs(sets: Sequence[Set], rooms: Sequence[int]) -> tuple[list[tuple[int, Set]], list[Set]]:
    """Put one run of each set on the last days before the light one, latest first; return those that fit on no day."""
    left = list(rooms)
    placed: list[tuple[int, Set]] = []
    no_room: list[Set] = []
    days = len(rooms)
    for one in reversed([one for one in sets if one.songs]):
        minutes = _run_minutes(one)
        late = range(days - 2, max(-1, days - 2 - max(3, days // 2)), -1)
        fits = [at for at in late if left[at] >= minutes]
        free = [at for at in fits if at not in {day for day, _ in placed}]
        if days <= len(sets) + 1 or not fits:
            no_room.append(one)
            continue
        at = (free or fits)[0]
        left[at] -= minutes
        placed.append((at, one))
    return placed[::-1], no_room[::-1]


def _work(one: Ranked, days: Sequence[dt.date], done: Progress) -> Work:
    """Return the work that a song still needs; it begins no sooner than spacing after the last practice allows."""
    minutes = tuple(one.block_minutes(one.blocks_done + block) for block in range(one.blocks))
    from_day = 0
    if done.practised and minutes:
        from_day = max(0, (done.practised[-1] - days[0]).days + max(1, round(len(days) / 6)))
    value = one.value * 0.6**one.blocks_done
    return Work(value, minutes, from_day, is_new=not done.practised)


def _alike(order: Sequence[Ranked]) -> frozenset[tuple[int, int]]:
    """Pair songs that are easily confused: the same key and meter, and nearly the same tempo."""
    pairs = {
        (first, second)
        for (first, one), (second, other) in combinations(enumerate(order), 2)
        if are_alike(one.song, other.song)
    }
    return frozenset(pairs) if len(pairs) <= MAX_ALIKE else frozenset()


def are_alike(one: Song, other: Song) -> bool:
    """Return whether two songs are easily confused: one key, nearly one tempo; a meter that is not known fits any."""
    if one.key is None or one.key != other.key or one.tempo_bpm is None or other.tempo_bpm is None:
        return False
    same_meter = one.meter is None or other.meter is None or one.meter == other.meter
    return same_meter and abs(one.tempo_bpm - other.tempo_bpm) <= ALIKE_TEMPO * one.tempo_bpm


def _block(one: Ranked, block: int) -> PracticeBlock:
    number = one.blocks_done + block
    what = ", ".join(str(feature) for feature in one.features[:3])
    return PracticeBlock(
        BlockKind.LEARN if number == 0 else BlockKind.RECALL, one.song.title, one.block_minutes(number), what
    )


def _light(order: Sequence[Ranked], planned: Sequence[PracticeBlock], room: int) -> list[PracticeBlock]:
    """Return the last day's light work: each feature once from memory, nothing new."""
    there = {block.title for block in planned}
    found: list[PracticeBlock] = []
    for one in order:
        if one.features and one.song.title not in there and len(found) < min(room, LIGHT_MINUTES) // LIGHT_BLOCK:
            found.append(
                PracticeBlock(BlockKind.RECALL, one.song.title, LIGHT_BLOCK, ", ".join(map(str, one.features[:3])))
            )
    return found


def _mixed(blocks: list[PracticeBlock], order: Sequence[Ranked]) -> tuple[PracticeBlock, ...]:
    """Mix an evening: alternate new, hard work with recall."""
    hard = {one.song.title: one.hard + len(one.features) for one in order}
    heavy = sorted(blocks, key=lambda block: (block.kind is not BlockKind.LEARN, -hard[block.title]))
    half = -(-len(heavy) // 2)
    mixed = []
    for at in range(half):
        mixed.append(heavy[at])
        if half + at < len(heavy):
            mixed.append(heavy[half + at])
    return tuple(mixed)


def _listening(
    order: Sequence[Ranked], days: Sequence[dt.date], hours: Hours
) -> tuple[list[list[ListeningTask]], list[LeftOut]]:
    """Distribute the hearings: each day the songs with most still to hear for the days left, at most twice each."""
    wanted = {at: one.hearings for at, one in enumerate(order) if one.hearings}
    made: list[list[ListeningTask]] = []
    for day_at, day in enumerate(days):
        room = float(hours.listening_on(day))
        times: dict[int, int] = {}
        days_left = len(days) - day_at
        for lap in range(MAX_HEARINGS_A_DAY):
            waiting = sorted(wanted, key=lambda at: (-wanted[at] / days_left * (1 + order[at].value), order[at].number))
            for at in waiting:
                minutes = song_minutes(order[at].song)
                if wanted[at] > 0 and times.get(at, 0) == lap and minutes <= room:
                    room -= minutes
                    wanted[at] -= 1
                    times[at] = lap + 1
        in_order = sorted(times, key=lambda at: order[at].number)
        made.append(
            [
                ListeningTask(order[at].song.title, times[at], times[at] * song_minutes(order[at].song))
                for at in in_order
            ]
        )
    left = [
        LeftOut(order[at].song.title, _many(number, "hearing"), round(number * song_minutes(order[at].song), 1))
        for at, number in wanted.items()
        if number > 0
    ]
    return made, left


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def place_of(order: Sequence[Ranked], song: Song) -> int:
    """Return a song's place in the learning order, from 1; 0 where the keys do not play it."""
    return next((at for at, one in enumerate(order, start=1) if folded(one.song.title) == folded(song.title)), 0)
