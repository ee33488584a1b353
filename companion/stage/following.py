"""Following the drummer's clock: its tempo from its last ticks, and the bars of a section counted by it. Pure.

Where the ticks stop, or Stop comes, the song's own tempo takes over from the bar that was reached; where they come back
they go on from there. A press begins the count anew.
"""

from collections.abc import Sequence
from itertools import pairwise

import msgspec
from msgspec.structs import replace

from companion.music import Meter

TICKS_A_QUARTER = 24  # MIDI 1.0, System Real Time Messages
FEWEST_GAPS = 12  # half a quarter: before that there is no tempo
LOST_AFTER_MS = 500  # at 20 a minute a tick comes every 125 ms; common practice, no source
SHORTEST_MS, LONGEST_MS = 60_000 / 400 / TICKS_A_QUARTER, 60_000 / 20 / TICKS_A_QUARTER  # 400 and 20 a minute


class Followed(msgspec.Struct, frozen=True):
    """What has come of a clock: how many ticks, when the last one (ms of the show), how far they lie apart.

    ``started``: how many had come when Start came last; the next one was a downbeat. ``stopped``: then Stop came.
    """

    ticks: int
    at_ms: float
    tick_ms: float
    started: int | None = None
    stopped: bool = False


class Count(msgspec.Struct, frozen=True):
    """A section's count: ``bars`` were over at ``at_ms``, or at tick ``tick`` where the clock is followed.

    ``began_ms`` is the press that it counts from, ``started`` the last Start that it knows.
    """

    began_ms: int
    bars: float
    at_ms: float
    tick: float | None = None
    started: int | None = None


def tick_ms_of(times_ns: Sequence[int]) -> float | None:
    """Give how far ticks lie apart, by the middle of their gaps: one that came late or was lost moves it by nothing.

    None where they are too few, or no tempo that music has.
    """
    if len(times_ns) <= FEWEST_GAPS:
        return None
    from statistics import median  # noqa: PLC0415 - hardly a night follows a clock

    middle = median(later - earlier for earlier, later in pairwise(times_ns)) / 1e6
    return middle if SHORTEST_MS <= middle <= LONGEST_MS else None


def is_lost(followed: Followed | None, at_ms: float) -> bool:
    """Tell whether no clock is there to follow, or no more."""
    return followed is None or followed.stopped or at_ms - followed.at_ms > LOST_AFTER_MS


def bar_ticks(meter: Meter) -> float:
    """Give the ticks of a bar: 96 in 4/4, 72 in 6/8."""
    return TICKS_A_QUARTER * 4 * meter.beats / meter.unit


def counted(
    count: Count | None,
    began_ms: int,
    *,
    followed: Followed | None,
    at_ms: float,
    meter: Meter,
    bar_ms: float | None,
    is_first: bool = False,
) -> Count:
    """Give the count now: begun at a press, and handed on as the clock comes and goes.

    ``bar_ms`` is a bar by the song's own tempo, None where none is known. In the section that ``is_first`` Start
    begins the count: the band's first beat is the tick that follows.
    """
    if count is None or count.began_ms != began_ms:
        known = followed.started if followed else None
        count = Count(began_ms, 0.0, began_ms, started=known)
        if followed is not None and not is_lost(followed, at_ms):
            tick = followed.ticks + (began_ms - followed.at_ms) / followed.tick_ms
            return replace(count, tick=tick)
        return count
    if followed is None or is_lost(followed, at_ms):
        if count.tick is None or followed is None:
            return replace(count, tick=None)
        reached = count.bars + (followed.ticks - count.tick) / bar_ticks(meter)
        return replace(count, bars=reached, at_ms=followed.at_ms, tick=None)
    if followed.started is not None and followed.started != count.started:
        count = replace(count, started=followed.started)
        if is_first:
            return replace(count, bars=0.0, tick=followed.started + 1.0)
    if count.tick is None:
        bars = count.bars + (max(0.0, followed.at_ms - count.at_ms) / bar_ms if bar_ms else 0.0)
        return replace(count, bars=bars, tick=float(followed.ticks))
    return count


def bars_over(
    count: Count, followed: Followed | None, at_ms: float, meter: Meter, bar_ms: float | None
) -> float | None:
    """Give how many bars are over, with their parts; None where nothing says how long a bar is."""
    if count.tick is not None and followed is not None:
        return count.bars + (followed.ticks - count.tick) / bar_ticks(meter)
    return None if bar_ms is None else count.bars + (at_ms - count.at_ms) / bar_ms


def due_ms(
    count: Count, bars: float, *, followed: Followed | None, at_ms: float, meter: Meter, bar_ms: float | None
) -> float | None:
    """Tell when so many bars will be over: by the clock's tempo, or the song's own. None where nothing says it."""
    over = bars_over(count, followed, at_ms, meter, bar_ms)
    if over is None:
        return None
    if count.tick is not None and followed is not None:
        return followed.at_ms + (bars - over) * bar_ticks(meter) * followed.tick_ms
    return at_ms + (bars - over) * bar_ms if bar_ms else None
