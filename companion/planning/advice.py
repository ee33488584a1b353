"""Find the changes that help an overfull plan most, by planning again with each."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from typing import Final

import msgspec

from companion.planning.plan import plan
from companion.planning.plan_model import NOTHING_SPENT, Plan, SpentToday
from companion.planning.priority import Group, Ranked
from companion.practice_log.song_progress import Progress
from companion.show import PracticeTime, Show
from companion.show.practice_time import WEEKDAY_NAMES

MORE_MINUTES: Final = 20
MORE_LISTENING: Final = 30
MAX_CHANGES: Final = 3
LEAST_WORTH: Final = 5.0  # minutes that a change must bring to be worth naming
FEW_ROUNDS: Final = 0  # the first fill is good enough for comparison
COVERED_SONG: Final = 60.0  # minutes that covering one more song counts for: cover comes before depth

PlanChange = tuple[str, Show, PracticeTime]


def advised(
    show: Show,
    today: dt.date,
    time: PracticeTime,
    progress: Mapping[str, Progress],
    spent: SpentToday = NOTHING_SPENT,
) -> Plan:
    """Plan the days until the show and, where something is left out, find what helps most. Raises CompanionError."""
    made = plan(show, today, time, progress, spent=spent)
    if not made.left_out:
        return made

    def quickly(changed: Show, then: PracticeTime) -> Plan:
        return plan(changed, today, then, progress, rounds=FEW_ROUNDS, spent=spent)

    return msgspec.structs.replace(made, helps=what_helps(show, time, made, quickly))


def what_helps(
    show: Show, time: PracticeTime, now: Plan, planned: Callable[[Show, PracticeTime], Plan]
) -> tuple[str, ...]:
    """Return up to three changes to the plan of ``now``, the most helpful first, each with its effect.

    ``planned`` plans a changed show in a changed time.
    """
    before = planned(show, time)
    found = []
    for words, changed, then in _changes(show, time, now):
        after = planned(changed, then)
        brings = _gain(before, after)
        if brings >= LEAST_WORTH:
            found.append((brings, f"{words}: {_saving(before, after)}"))
    found.sort(key=lambda one: -one[0])
    return tuple(words for _, words in found[:MAX_CHANGES])


def _short(one: Plan) -> float:
    return one.short_minutes + one.short_listening


def _gain(before: Plan, after: Plan) -> float:
    """Return how much a change helps: the minutes that no longer lack, and the songs that are covered now."""
    return _short(before) - _short(after) + COVERED_SONG * (len(before.cuts) - len(after.cuts))


def _saving(before: Plan, after: Plan) -> str:
    """Describe the effect of a change."""
    if not after.left_out:
        return "then everything fits"
    saved = round(_short(before) - _short(after))
    covered = len(before.cuts) - len(after.cuts)
    effects = [f"makes room for {saved} of the {_short(before):.0f} minutes that do not fit"] if saved > 0 else []
    if covered > 0:
        fewer = "1 song fewer needs" if covered == 1 else f"{covered} songs fewer need"
        effects.append(f"{fewer} a cut" if after.cuts else "no song needs a cut")
    return ", ".join(effects)


def _changes(show: Show, time: PracticeTime, now: Plan) -> Iterator[PlanChange]:
    """Yield the changes to try: more minutes, more listening, a day off used, a song dropped, a chart."""
    yield f"{MORE_MINUTES} more minutes a day", show, time.more(MORE_MINUTES)
    more = msgspec.structs.replace(time, listening=time.listening + MORE_LISTENING)
    yield f"{MORE_LISTENING} more minutes of listening a day", show, more
    yield from _days_used(show, time, now)
    missing = {one.title: one for one in now.left_out}
    droppable = [one for one in now.order if one.group in (Group.IF_TIME, Group.GET_BY) and not one.features]
    if droppable:
        costs = max(droppable, key=lambda one: (_costs(one), one.number))
        yield f"ask to drop {costs.song.title}", _without(show, costs.song.title), time
    unmapped = [one for one in now.order if one.song.chart is False and one.song.title in missing]
    if unmapped:
        title = max(unmapped, key=lambda one: missing[one.song.title].listening).song.title
        yield f"a chart of {title}", _with_chart(show, title), time


def _costs(one: Ranked) -> float:
    """Return the minutes that a song still needs at the keyboard."""
    return sum(one.block_minutes(one.blocks_done + block) for block in range(one.blocks))


def _days_used(show: Show, time: PracticeTime, now: Plan) -> Iterator[PlanChange]:
    """Yield the use of each weekday without minutes, and of a single day off."""
    ahead = {day.date for day in now.days}
    usual = max(time.minutes) or 60
    for weekday, name in enumerate(WEEKDAY_NAMES):
        if (weekday in time.days_off or not time.minutes[weekday]) and weekday in {day.weekday() for day in ahead}:
            minutes = tuple(one or usual if at == weekday else one for at, one in enumerate(time.minutes))
            kept = tuple(day for day in time.days_off if day != weekday)
            yield f"play on {name} too", show, msgspec.structs.replace(time, minutes=minutes, days_off=kept)
    for day in time.days_off:
        if isinstance(day, dt.date) and day in ahead:
            kept = tuple(one for one in time.days_off if one != day)
            yield f"play on {day:%A} {day} too", show, msgspec.structs.replace(time, days_off=kept)


def _with_chart(show: Show, title: str) -> Show:
    sets = [
        msgspec.structs.replace(
            one,
            songs=tuple(
                msgspec.structs.replace(song, chart=True) if song.title == title else song for song in one.songs
            ),
        )
        for one in show.sets
    ]
    return msgspec.structs.replace(show, sets=tuple(sets))


def _without(show: Show, title: str) -> Show:
    sets = [
        msgspec.structs.replace(one, songs=tuple(song for song in one.songs if song.title != title))
        for one in show.sets
    ]
    return msgspec.structs.replace(show, sets=tuple(sets))
