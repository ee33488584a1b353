"""Why a song has its place in the plan, in sentences; the weights follow in one line, so that a player can disagree."""

from collections.abc import Iterator
from typing import Final

from companion.how_many import how_many
from companion.planning.plan_model import Plan
from companion.planning.priority import Group, Ranked

DOES: Final = {
    Group.FIRST: "learn it first",
    Group.GET_BY: "learn enough to get by",
    Group.IF_TIME: "skip it if time runs out",
    Group.READY: "it is ready",
}
MAX_FEATURES: Final = 3  # named; more would not fit on a line


def explain(plan: Plan, place: int) -> str:
    """Explain the song in this place, counted from 1: its place, the reasons, what is left to do, and on which days."""
    one = plan.order[place - 1]
    lines = [*_reasons(plan, one), *_days(plan, one.song.title), f"In numbers: {_weights(one)}"]
    first = f"{one.song.title} is number {place} of {len(plan.order)}: {DOES[one.group]}."
    return "\n".join([first, *(f"  {line}" for line in lines)])


def _reasons(plan: Plan, one: Ranked) -> Iterator[str]:
    song = one.song
    listened = ", ".join(str(feature) for feature in one.features[:MAX_FEATURES])
    yield f"People listen to the keys: {listened}." if one.features else "It has no feature for the keys."
    if one.opens:
        yield f"It opens the set {one.set_name}."
    yield f"How hard it is: {one.hard} of 5{_assumed(song.hard)}."
    before = next((known for known in plan.known_before if known.title == song.title), None)
    source = f", from {before.source}" if before is not None else _assumed(song.known)
    yield f"How well you know it: {one.known_now:.2g} of 5{source}."
    if song.chart is None:
        yield "Nothing says whether it has a chart."
    else:
        yield "It has a chart." if song.chart else "It has no chart."
    if one.times_days < 1:
        left = f"{how_many(len(plan.days), 'day')} {'is' if len(plan.days) == 1 else 'are'} left"
        yield f"It needs the keyboard on {how_many(one.blocks, 'day')}, and only {left}."


def _assumed(written: int | None) -> str:
    return " (not rated yet, so this is assumed)" if written is None else ""


def _days(plan: Plan, title: str) -> Iterator[str]:
    one = next(one for one in plan.order if one.song.title == title)
    yield f"Still to do: {how_many(one.blocks, 'block')} at the keyboard and {how_many(one.hearings, 'hearing')}."
    played = [day.date for day in plan.days if any(block.title == title for block in day.blocks)]
    heard = [day.date for day in plan.days if any(task.title == title and task.times for task in day.listening)]
    yield f"At the keyboard: {', '.join(f'{date:%a %d %b}' for date in played) or 'not planned'}."
    yield f"Listening: {', '.join(f'{date:%a %d %b}' for date in heard) or 'not planned'}."
    gap = next((gap for gap in plan.left_out if gap.title == title), None)
    if gap is not None:
        yield f"Not all of it fits: {f'{gap.cut.value} ({gap.what})' if gap.cut else f'only {gap.what}'}."


def _weights(one: Ranked) -> str:
    """Return the six factors and their product: the larger it is, the earlier the song comes in its group."""
    factors = (
        ("features", one.times_features),
        ("opener", one.times_opens),
        ("hard", one.times_hard),
        ("little known", one.times_unknown),
        ("chart", one.times_chart),
        ("days left", one.times_days),
    )
    return f"{', '.join(f'{name} x{times:.3g}' for name, times in factors)} make {one.urgency:.3g}"
