"""Follow the drummer's clock: the tempo from its last ticks, and a count of the section's bars. Pure.

When the ticks stop, or Stop arrives, the count continues at the song's own tempo from the bar reached; when the ticks
return, it follows them again. A press restarts the count.
"""

from collections.abc import Sequence
from itertools import pairwise

import msgspec
from msgspec.structs import replace

from companion.music import Meter

TICKS_A_QUARTER = 24  # MIDI 1.0, System Real Time Messages
FEWEST_GAPS = 12  # half a quarter note: fewer ticks give no tempo
LOST_AFTER_MS = 500  # at 20 BPM ticks are 125 ms apart; common practice, no source
SHORTEST_MS, LONGEST_MS = 60_000 / 400 / TICKS_A_QUARTER, 60_000 / 20 / TICKS_A_QUARTER  # 400 and 20 BPM


class Followed(msgspec.Struct, frozen=True):
    """A clock as received: the number of ticks, the time of the last one (ms of the show), the distance between ticks.

    ``started`` is the number of ticks received when Start last arrived: the next tick is a downbeat. ``stopped``: Stop
    arrived after that.
    """

    ticks: int
    at_ms: float
    tick_ms: float
    started: int | None = None
    stopped: bool = False


class Count(msgspec.Struct, frozen=True):
    """A section's bar count: ``bars`` were over at ``at_ms``, or at tick ``tick`` while the clock is followed.

    ``began_ms`` is the press that the count starts from, ``started`` the last Start already counted.
    """

    began_ms: int
    bars: float
    at_ms: float
    tick: float | None = None
    started: int | None = None


def tick_ms_of(times_ns: Sequence[int]) -> float | None:
    """Return the median distance between ticks: one late or lost tick does not change it.

    None if there are too few ticks or the tempo is out of range.
    """
    if len(times_ns) <= FEWEST_GAPS:
        return None
    from statistics import median

    middle = median(later - earlier for earlier, later in pairwise(times_ns)) / 1e6
    return middle if SHORTEST_MS <= middle <= LONGEST_MS else None


def is_lost(followed: Followed | None, at_ms: float) -> bool:
    """Return whether there is no clock to follow."""
    return followed is None or followed.stopped or at_ms - followed.at_ms > LOST_AFTER_MS


def bar_ticks(meter: Meter) -> float:
    """Return the number of ticks in a bar: 96 in 4/4, 72 in 6/8."""
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
    """Return the updated count; it restarts at a press and switches source as the clock comes and goes.

    ``bar_ms`` is the duration of a bar at the song's own tempo, None if unknown. If the section ``is_first``, Start
    restarts the count: the tick after it is the band's first beat.
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
    """Return how many bars are over, with fractions; None if the duration of a bar is unknown."""
    if count.tick is not None and followed is not None:
        return count.bars + (followed.ticks - count.tick) / bar_ticks(meter)
    return None if bar_ms is None else count.bars + (at_ms - count.at_ms) / bar_ms


def due_ms(
    count: Count, bars: float, *, followed: Followed | None, at_ms: float, meter: Meter, bar_ms: float | None
) -> float | None:
    """Return when this many bars will be over, by the clock's tempo or the song's own; None if neither is known."""
    over = bars_over(count, followed, at_ms, meter, bar_ms)
    if over is None:
        return None
    if count.tick is not None and followed is not None:
        return followed.at_ms + (bars - over) * bar_ticks(meter) * followed.tick_ms
    return at_ms + (bars - over) * bar_ms if bar_ms else None
