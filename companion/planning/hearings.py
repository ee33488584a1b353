"""Distribute the hearings: the recordings run in the background in set order, each day from where the last one stopped.

First every song is heard once, if there is time on or before the day of its first block at the keyboard; then every
song twice; then the rest of the hearings, at most two of a song a day.
Where the time is too short for a round, the most important songs are heard in it. A recording that does not end within
a day's time continues the next day. All times are whole seconds.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import accumulate
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


def hearings(
    order: Sequence[Ranked], rooms: Sequence[int], begins: Mapping[int, int] | None = None
) -> tuple[list[list[ListeningTask]], list[int]]:
    """Return each day's listening, and for each song the hearings that did not fit.

    ``order``: the songs by importance. ``rooms``: minutes of listening on each day. ``begins``: the day of each song's
    first block, by the song's place in the order.
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
        unheard = {song: due for song, due in (begins or {}).items() if song not in heard}
        _bring_forward(queue, at + bool(begun_s), _due(order, unheard, rooms, day))
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


def _due(order: Sequence[Ranked], begins: Mapping[int, int], rooms: Sequence[int], day: int) -> list[int]:
    """Return the songs to hear first on a day, in set order, so that as many as can be are heard by their first block.

    They are the fewest, the earliest due first, that leave no more for each later day than the days until then hold.
    """
    new = sorted((song for song in begins if not order[song].hearings_done), key=lambda song: begins[song])
    lengths_s = [*accumulate(length_s(order[song]) for song in new)]
    needs_s = max(
        (until_s - 60 * sum(rooms[day + 1 : begins[song] + 1]) for song, until_s in zip(new, lengths_s, strict=True)),
        default=0,
    )
    due = [song for song, until_s in zip(new, lengths_s, strict=True) if until_s - length_s(order[song]) < needs_s]
    return sorted(due, key=lambda song: order[song].number)


def _bring_forward(queue: list[int], at: int, new: Sequence[int]) -> None:
    """Move the first hearing of new songs to this place of the queue."""
    heard = {*queue[:at]}
    ahead = [song for song in new if song not in heard and song in queue[at:]]
    for song in ahead:
        queue.pop(queue.index(song, at))
    queue[at:at] = ahead


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
