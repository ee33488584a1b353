"""Plan the days until the show: what to play, what to listen to, and what does not fit.

Cover comes before depth: every song that is not known is heard twice and has a first block before any is repeated
(see ``cover`` and ``hearings``). Repeats follow in short blocks (see ``timetable``), in mixed order within an evening
(turns beat one long block where raters heard a difference at all: Carter and Grahn 2016, Frontiers in Psychology
7:1251), each beginning with recall (Roediger and Karpicke 2006, Psychological Science 17(3): tested is remembered
better than restudied). Each set is run once before the end, and the last day is light. Listening has minutes of its
own: the recordings run in the background.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import Final

from companion.planning.cover import FirstBlock, cover
from companion.planning.days import days_until
from companion.planning.hearings import COVERED, USUAL_LENGTH_S, hearings, length_s
from companion.planning.plan_model import NOTHING_SPENT, BlockKind, Cut, Day, LeftOut, Plan, PracticeBlock, SpentToday
from companion.planning.priority import HARD, Ranked, rank
from companion.planning.timetable import LESS, ROUNDS, Days, Task, Work, gap_after, timetable
from companion.practice_log.song_progress import Progress, of_song
from companion.show import PracticeTime, Set, Show, Song
from companion.show.titles import folded

LIGHT: Final = 0.5  # share of the last day's minutes that is used
LIGHT_MINUTES: Final = 30
LIGHT_BLOCK: Final = 5
RUN_LASTS: Final = 14  # days after which a set is run once more (common practice, no source)
ALIKE_TEMPO: Final = 0.06  # tempos closer than this sound the same (common practice, no source)
MAX_ALIKE: Final = 400  # most pairs to keep apart; beyond that, nearly all songs are alike


def plan(
    show: Show,
    today: dt.date,
    time: PracticeTime,
    progress: Mapping[str, Progress],
    *,
    rounds: int = ROUNDS,
    spent: SpentToday = NOTHING_SPENT,
) -> Plan:
    """Plan the days until the show. ``progress`` holds the work done so far; missed days do not count.

    ``spent`` is the part of today's time that is gone. Raises CompanionError if the show has no date, or is not in
    the future.
    """
    days = days_until(show.date, today)
    order = rank(show, len(days), progress)
    rooms = [time.on(day) for day in days]
    rooms[0] = max(0, rooms[0] - spent.minutes)
    if len(rooms) > 1:
        rooms[-1] = int(rooms[-1] * LIGHT)
    alike = _alike(order)
    firsts = _first_blocks(order, rooms, alike)
    for first in firsts.values():
        rooms[first.day] -= first.minutes
    covered = max((first.day for first in firsts.values()), default=0)
    to_run = [one for one in show.sets if not _was_run(one, progress, today)]
    runs, no_run = _runs(to_run, rooms, covered)
    for at, one in runs:
        rooms[at] -= _run_minutes(one)
    works = tuple(_repeats(number, one, firsts, days, (covered, progress)) for number, one in enumerate(order))
    there = tuple(frozenset(song for song, first in firsts.items() if first.day == at) for at in range(len(days)))
    repeated = timetable(Task(works, tuple(rooms), alike, there), rounds)
    listens = [time.listening_on(day) for day in days]
    listens[0] = max(0, listens[0] - spent.listening)
    listening, unheard = hearings(order, listens, {song: first.day for song, first in firsts.items()})
    made = []
    for at, day in enumerate(days):
        blocks = _blocks_on(at, order, firsts, repeated)
        sets = [PracticeBlock(BlockKind.RUN, one.name, _run_minutes(one)) for where, one in runs if where == at]
        is_light = at == len(days) - 1 and len(days) > 1
        if is_light:
            begun = [one for song, one in enumerate(order) if song in firsts or not one.is_new]
            blocks += _light(begun, blocks, rooms[at] - sum(block.minutes for block in blocks))
        is_rehearsal = day in time.rehearsals
        made.append(
            Day(day, time.on(day), (*_mixed(blocks, order), *sets), tuple(listening[at]), is_light, is_rehearsal)
        )
    left = _left_out(order, firsts, repeated, unheard)
    left += [LeftOut(one.name, "a run of the whole set", _run_minutes(one), is_run=True) for one in no_run]
    assert show.date is not None  # noqa: S101  days_until raises without a date
    return Plan(show.title, show.date, order, tuple(made), tuple(left), time=time)


def _first_blocks(
    order: Sequence[Ranked], rooms: Sequence[int], alike: frozenset[tuple[int, int]]
) -> dict[int, FirstBlock]:
    """Return the first block of each song that was never practised, by its place in the order.

    The last day introduces nothing, unless it is the only one.
    """
    new = [song for song, one in enumerate(order) if one.is_new]
    at = {song: number for number, song in enumerate(new)}
    pairs = frozenset((at[one], at[other]) for one, other in alike if one in at and other in at)
    found = cover([order[song].block_minutes(0) for song in new], rooms[:-1] or rooms, pairs)
    return {song: first for song, first in zip(new, found, strict=True) if first is not None}


def _run_minutes(one: Set) -> int:
    """Return the minutes of a run of a set: its songs end to end."""
    return round(sum(song.length_s or USUAL_LENGTH_S for song in one.songs) / 60)


def _was_run(one: Set, progress: Mapping[str, Progress], today: dt.date) -> bool:
    """Return whether a set was run in one go lately; one without songs needs no run."""
    last = [of_song(progress, song).ran[-1:] for song in one.songs if not song.tacet]
    return all(ran and (today - ran[0]).days <= RUN_LASTS for ran in last)


def _runs(sets: Sequence[Set], rooms: Sequence[int], covered: int) -> tuple[list[tuple[int, Set]], list[Set]]:
    """Put one run of each set on the last days before the light one, latest first; return those that fit on no day.

    No run is before the day on which every song is ``covered``.
    """
    left = list(rooms)
    placed: list[tuple[int, Set]] = []
    no_room: list[Set] = []
    days = len(rooms)
    for one in reversed(sets):
        minutes = _run_minutes(one)
        late = range(days - 2, max(covered, days - 2 - max(3, days // 2) + 1) - 1, -1)
        fits = [at for at in late if left[at] >= minutes]
        free = [at for at in fits if at not in {day for day, _ in placed}]
        if not fits:
            no_room.append(one)
            continue
        at = (free or fits)[0]
        left[at] -= minutes
        placed.append((at, one))
    return placed[::-1], no_room[::-1]


def _repeats(
    song: int,
    one: Ranked,
    firsts: Mapping[int, FirstBlock],
    days: Sequence[dt.date],
    so_far: tuple[int, Mapping[str, Progress]],
) -> Work:
    """Return the repeats that a song still needs: none before all songs are covered, nor sooner than spacing allows.

    ``so_far``: the day on which all songs are covered, and the work done. A song without its first block has none.
    """
    covered, progress = so_far
    first = firsts.get(song)
    if one.is_new and first is None:
        return Work(0, ())
    begun = one.blocks_done + int(first is not None)
    minutes = tuple(one.block_minutes(begun + block) for block in range(one.blocks - int(first is not None)))
    if first is not None:
        rested = first.day + gap_after(first.day, len(days))
    else:
        practised = of_song(progress, one.song).practised
        rested = (practised[-1] - days[0]).days + gap_after(0, len(days)) if practised else 0
    return Work(one.value * LESS**begun, minutes, max(covered, rested))


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


def _blocks_on(
    day: int, order: Sequence[Ranked], firsts: Mapping[int, FirstBlock], repeated: Days
) -> list[PracticeBlock]:
    """Return the blocks of a day, from 0: the first blocks, then the repeats."""
    blocks = [_first_block(order[song], first) for song, first in firsts.items() if first.day == day]
    return blocks + [
        _repeat(one, int(song in firsts) + done.index(day))
        for song, (one, done) in enumerate(zip(order, repeated, strict=True))
        if day in done
    ]


def _first_block(one: Ranked, first: FirstBlock) -> PracticeBlock:
    cut = None
    if first.minutes < one.block_minutes(0):
        cut = Cut.FEATURE if one.features else Cut.INTRO
    return PracticeBlock(BlockKind.LEARN, one.song.title, first.minutes, _features_in(one), cut)


def _repeat(one: Ranked, block: int) -> PracticeBlock:
    """Return a block of a song that was begun: number ``block``, from 0, of those still to do."""
    minutes = one.block_minutes(one.blocks_done + block)
    return PracticeBlock(BlockKind.RECALL, one.song.title, minutes, _features_in(one))


def _features_in(one: Ranked) -> str:
    return ", ".join(str(feature) for feature in one.features[:3])


def _light(begun: Sequence[Ranked], planned: Sequence[PracticeBlock], room: int) -> list[PracticeBlock]:
    """Return the last day's light work: each feature once from memory, of the songs that were ``begun``."""
    there = {block.title for block in planned}
    found: list[PracticeBlock] = []
    for one in begun:
        if one.features and one.song.title not in there and len(found) < min(room, LIGHT_MINUTES) // LIGHT_BLOCK:
            found.append(PracticeBlock(BlockKind.RECALL, one.song.title, LIGHT_BLOCK, _features_in(one)))
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


def _left_out(
    order: Sequence[Ranked], firsts: Mapping[int, FirstBlock], repeated: Days, unheard: Sequence[int]
) -> list[LeftOut]:
    """Return what did not fit, song by song in the order of importance, each song that is not covered with its cut."""
    found = []
    for song, (one, done) in enumerate(zip(order, repeated, strict=True)):
        first = firsts.get(song)
        blocks = one.blocks - int(first is not None) - len(done)
        begun = one.blocks - blocks
        minutes = sum(one.block_minutes(one.blocks_done + begun + block) for block in range(blocks))
        if first is not None:
            minutes += one.block_minutes(one.blocks_done) - first.minutes
        missing = unheard[song]
        if not minutes and not missing:
            continue
        is_heard = one.hearings_done + one.hearings - missing >= COVERED
        words = [
            *([f"{begun} of {one.blocks} blocks"] if blocks else []),
            *(
                [f"{first.minutes} of {one.block_minutes(0)} min"]
                if first and first.minutes < one.block_minutes(0)
                else []
            ),
            *([f"{one.hearings - missing} of {one.hearings} hearings"] if missing else []),
        ]
        cut = _cut_for(one, first, is_heard=is_heard)
        found.append(LeftOut(one.song.title, ", ".join(words), minutes, missing * length_s(one) / 60, cut))
    return found


def _cut_for(one: Ranked, first: FirstBlock | None, *, is_heard: bool) -> Cut | None:
    """Return the cheapest cut for a song that is not covered; None for one that is."""
    if one.is_ready:
        return None
    if one.is_new and first is None:
        return Cut.LISTEN if is_heard and not one.features and one.hard < HARD else Cut.DROP
    if first is not None and first.minutes < one.block_minutes(0):
        return Cut.FEATURE if one.features else Cut.INTRO
    return None if is_heard else Cut.HEAR


def place_of(order: Sequence[Ranked], song: Song) -> int:
    """Return a song's place in the learning order, from 1; 0 if the keys do not play it."""
    return next((at for at, one in enumerate(order, start=1) if folded(one.song.title) == folded(song.title)), 0)
