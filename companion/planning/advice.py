"""Find the single change that helps an overfull plan most, by planning again with each."""

import datetime as dt
from collections.abc import Mapping

import msgspec

from companion.planning.days import Hours
from companion.planning.plan import Plan, plan
from companion.planning.priority import Group
from companion.practice_log.song_progress import Progress
from companion.show import Show

MORE_MINUTES = 15
MORE_LISTENING = 30
FEW_ROUNDS = 0  # the first fill is good enough for comparison


def advised(show: Show, today: dt.date, hours: Hours, progress: Mapping[str, Progress]) -> Plan:
    """Plan the days until the show and, where something is left out, find what helps most. Raises CompanionError."""
    made = plan(show, today, hours, progress)
    if not made.left_out:
        return made
    return msgspec.structs.replace(made, helps=what_helps(show, today, hours, progress, made))


def what_helps(show: Show, today: dt.date, hours: Hours, progress: Mapping[str, Progress], now: Plan) -> str:
    """Return the most helpful change, or "": more minutes, more listening, a day off used, a chart, a song dropped."""
    changes: list[tuple[str, Show, Hours]] = [
        (f"{MORE_MINUTES} more minutes at the keyboard each day", show, hours.more(MORE_MINUTES)),
        (
            f"{MORE_LISTENING} more minutes of listening each day",
            show,
            msgspec.structs.replace(hours, listening=hours.listening + MORE_LISTENING),
        ),
    ]
    ahead = [day for day in hours.off if today <= day < now.show_date]
    if ahead:
        kept = tuple(day for day in hours.off if day != ahead[0])
        changes.append((f"using {ahead[0]}, a day off", show, msgspec.structs.replace(hours, off=kept)))
    missing: dict[str, float] = {}
    for one in now.left_out:
        missing[one.title] = missing.get(one.title, 0) + one.minutes
    unmapped = [one for one in now.order if one.song.chart is False and one.song.title in missing]
    if unmapped:
        title = max(unmapped, key=lambda one: missing[one.song.title]).song.title
        changes.append((f"a chart of {title}", _with_chart(show, title), hours))
    droppable = [one for one in now.order if one.group in (Group.IF_TIME, Group.GET_BY)]
    if droppable:
        most = max(droppable, key=lambda one: sum(one.block_minutes(block) for block in range(one.blocks)))
        changes.append((f"leaving {most.song.title} out", _without(show, most.song.title), hours))
    before = plan(show, today, hours, progress, rounds=FEW_ROUNDS).short_minutes
    tried = [
        (before - plan(changed, today, then, progress, rounds=FEW_ROUNDS).short_minutes, words)
        for words, changed, then in changes
    ]
    saved, words = max(tried, key=lambda one: one[0])
    return f"{words} would make room for {saved:.0f} of these minutes" if saved >= 1 else ""


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
