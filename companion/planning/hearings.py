"""Distribute the hearings: the recordings run in the background in set order, each day from where the last one stopped.

First every song is heard once, then every song twice, then the rest of the hearings, at most two of a song a day.
Where the time is too short for a round, the most important songs are heard in it. A recording that does not end within
a day's time continues the next day. All times are whole seconds.
"""

from collections import Counter
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.planning.priority import Ranked

USUAL_LENGTH_S: Final = 230  # assumed length of a song without one (common practice, no source)
MAX_HEARINGS_A_DAY: Final = 2
COVERED: Final = 2  # hearings of each song before any song is heard more often


class ListeningTask(msgspec.Struct, frozen=True):
    """A song to hear on a day: how many times it is heard to its end, and the minutes that this takes on this day."""

    title: str
    times: int
    minutes: float


def length_s(one: Ranked) -> int:
    """Return the seconds of a song's recording, assumed if the show says nothing."""
    return one.song.length_s or USUAL_LENGTH_S


def hearings(order: Sequence[Ranked], rooms: Sequence[int]) -> tuple[list[list[ListeningTask]], list[int]]:
    """Return each day's listening, and for each song the hearings that did not fit.

    ``order``: the songs by importance. ``rooms``: minutes of listening on each day.
    """
    queue, covering = _rounds(order, 60 * sum(rooms))
    made: list[list[ListeningTask]] = []
    heard: Counter[int] = Counter()
    begun_s, at = 0, 0  # seconds already heard of queue[at]
    for day, room in enumerate(rooms):
        left_s = 60 * room
        if at >= covering:
            left_s = min(left_s, _share_s(order, queue[at:], begun_s, rooms[day:]))
        hard_end_s = 60 * room - left_s  # a recording that has begun may run on to the end of the day's time
        times: Counter[int] = Counter()
        used_s: Counter[int] = Counter()
        while at < len(queue) and left_s > 0 and times[queue[at]] < MAX_HEARINGS_A_DAY:
            song = queue[at]
            takes_s = length_s(order[song]) - begun_s
            now_s = min(takes_s, left_s + hard_end_s)
            used_s[song] += now_s
            left_s -= now_s
            if now_s < takes_s:
                begun_s += now_s
                break
            times[song] += 1
            heard[song] += 1
            begun_s, at = 0, at + 1
        made.append([ListeningTask(order[song].song.title, times[song], used_s[song] / 60) for song in used_s])
    return made, [one.hearings - heard[song] for song, one in enumerate(order)]


def _rounds(order: Sequence[Ranked], room_s: int) -> tuple[list[int], int]:
    """Return the songs in the order in which they are heard, and how many of these hearings cover every song."""
    queue: list[int] = []
    covering = 0
    left_s = room_s
    first = [one.hearings_done + (COVERED if one.was_known else 0) for one in order]  # the round of its next hearing
    last = [begin + one.hearings for begin, one in zip(first, order, strict=True)]
    for number in range(max(last, default=0)):
        taken = []
        for song, one in enumerate(order):
            if first[song] <= number < last[song] and length_s(one) <= left_s:
                left_s -= length_s(one)
                taken.append(song)
        queue += sorted(taken, key=lambda song: order[song].number)
        covering = len(queue) if number < COVERED else covering
    return queue, covering


def _share_s(order: Sequence[Ranked], queue: Sequence[int], begun_s: int, rooms: Sequence[int]) -> int:
    """Return the seconds of this day's listening when the rest is spread evenly over the days with time for it."""
    rest_s = sum(length_s(order[song]) for song in queue) - begun_s
    return -(-rest_s * rooms[0] // sum(rooms)) if sum(rooms) else 0
