"""The form of a song whose sections nothing marks: as few bars written out as will do, and what repeats them.

Where no crash, fill or other sound begins the sections, only chords that come again tell them. Each way to cut the song
is charged for the bars that it writes out, for each section, for odd lengths, and for chords that differ from the
stretch they repeat; the cheapest is the form (minimum description length: Rissanen, Automatica 14, 1978, from memory).
A beam search looks for the stretches that are worth writing out once, dynamic programming cuts the song with them.
All costs are in bars written out.
"""

import itertools
from collections.abc import Collection, Iterable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.audio.bar_pictures import MOVES, Matrix, likeness, moved_up
from companion.audio.section_starts import Numbers

SECTION: Final = 1.0
DIFFERS: Final = 6.0  # a bar whose chords differ from those it repeats
MOVED_BARS: Final = 1.0  # how many such bars a repeat in another key counts as
START: Final = 0.35  # of the log odds that a section begins there, by its sound
LEAST_CHANCE: Final = 0.1
ODD, EVEN = 1.2, 0.6  # lengths that are no multiples of four
SHORT, SHORT_BARS = 0.25, 8  # each bar below
LONG, LONG_BARS = 0.15, 16  # each bar above
LEAST_REPEAT, MAX_REPEAT, MAX_NEW = 4, 28, 48  # bars
SAME_CHORDS: Final = 0.8  # of likeness: a bar that repeats another
LITTLE: Final = 0.12  # bars that differ, for each bar of a stretch that comes again
ONE_STRETCH: Final = 0.1  # the same: two stretches that are one
OF_A_LENGTH: Final = 6  # stretches that are tried of each length
BEAM, MAX_STRETCHES = 8, 4  # sets of other lengths each; and the largest
MAX_BARS: Final = 240  # a longer song takes too long

Span = tuple[int, int]  # first bar and number of bars


def repeated_spans(harmony: Matrix, sure: Numbers) -> list[Span]:
    """Return the sections of the cheapest form, none if it repeats nothing.

    ``sure``: how likely a section begins at each bar by its sound.
    """
    song = _Song(harmony, sure)
    tried = song.worth_trying()
    best, least = frozenset[Span](), song.cost(())
    beam = [best]
    for _ in range(MAX_STRETCHES):
        wider = {written | {one} for written in beam for one in tried if one not in written}
        costs = {written: song.cost(written) for written in wider}
        cheapest: dict[tuple[int, ...], frozenset[Span]] = {}
        for written in sorted(wider, key=lambda written: (costs[written], sorted(written))):
            cheapest.setdefault(tuple(sorted(bars for _, bars in written)), written)
        beam = list(cheapest.values())[:BEAM]
        if not beam or costs[beam[0]] >= least:
            break
        best, least = beam[0], costs[beam[0]]
    return song.cut(best)[1] if best else []


class _Song:
    """What cuts of one song cost."""

    def __init__(self, harmony: Matrix, sure: Numbers) -> None:
        self.bars = bars = len(harmony)
        clipped = np.clip(sure, LEAST_CHANCE, 1 - LEAST_CHANCE)
        self.starts = SECTION - START * np.log(clipped / (1 - clipped))
        self.starts[0] = SECTION
        self.lengths = np.asarray([_length_cost(many) for many in range(max(MAX_NEW, MAX_REPEAT) + 1)])
        differ = np.stack([1 - likeness(harmony, moved_up(harmony, up)) for up in MOVES])
        self.sums = np.zeros((len(MOVES), bars + 1, bars + 1))  # along the diagonals
        for bar in range(bars):
            self.sums[:, bar + 1, 1:] = self.sums[:, bar, :-1] + differ[:, bar]
        self.stretches = {one: self._repeat_costs(one) for one in self._repeated(_edges(differ))}

    def _differing(self, stretch: Span) -> Numbers:
        """Return how many bars differ between a stretch and that which begins at each bar, in the nearest key."""
        first, bars = stretch
        many = self.bars - bars + 1
        found = self.sums[:, first + bars, bars : bars + many] - self.sums[:, first, :many]
        found[1:] += MOVED_BARS
        return np.asarray(found.min(axis=0))

    def _repeat_costs(self, stretch: Span) -> Numbers:
        return np.asarray(DIFFERS * self._differing(stretch) + self.lengths[stretch[1]])

    def _repeated(self, edges: NDArray[np.int64]) -> list[Span]:
        """Return the stretches that come again, from edge to edge, the last one of those that are alike."""
        found: list[Span] = []
        for bars in range(LEAST_REPEAT, min(MAX_REPEAT, self.bars // 2) + 1):
            kept: list[int] = []
            for first in np.flatnonzero(np.minimum(edges[: self.bars - bars + 1], edges[bars:]))[::-1]:
                differing = self._differing((int(first), bars))
                is_new = all(differing[other] >= ONE_STRETCH * bars for other in kept)
                if is_new and _apart(np.flatnonzero(differing < LITTLE * bars), bars) > 1:
                    kept.append(int(first))
            found += [(first, bars) for first in kept]
        return found

    def worth_trying(self) -> list[Span]:
        """Return the stretches that make the song cheapest, each alone, a few of each length."""
        ranked = sorted(self.stretches, key=lambda one: (one[1], self.cost([one])))
        return [one for _, same in itertools.groupby(ranked, lambda one: one[1]) for one in [*same][:OF_A_LENGTH]]

    def cost(self, written: Collection[Span]) -> float:
        """Return what the cheapest cut costs, with the bars of these stretches."""
        return self.cut(written)[0] + sum(bars for _, bars in written)

    def cut(self, written: Iterable[Span]) -> tuple[float, list[Span]]:
        """Return the cheapest cut into repeats of these stretches and bars that are written out; and its cost."""
        repeats = [(bars, self.stretches[first, bars]) for first, bars in sorted(written)]
        best = np.zeros(self.bars + 1)
        came = np.zeros(self.bars + 1, np.int64)
        for end in range(1, self.bars + 1):
            first = max(0, end - MAX_NEW)
            new = np.arange(end - first, 0, -1)
            ways = best[first:end] + self.starts[first:end] + new + self.lengths[new]
            at = int(ways.argmin())
            best[end], came[end] = ways[at], first + at
            for bars, costs in repeats:
                start = end - bars
                if start >= 0 and (cost := best[start] + self.starts[start] + costs[start]) < best[end]:
                    best[end], came[end] = cost, start
        spans, end = [], self.bars
        while end > 0:
            start = int(came[end])
            spans.append((start, end - start))
            end = start
        return float(best[-1]), spans[::-1]


def _length_cost(bars: int) -> float:
    cost = 0.0 if bars % 4 == 0 else EVEN if bars % 2 == 0 else ODD
    return cost + SHORT * max(0, SHORT_BARS - bars) + LONG * max(0, bars - LONG_BARS)


def _edges(differ: Matrix) -> NDArray[np.int64]:
    """Return for each bar, and the end, how many repeats of some bars begin or end there."""
    bars = differ.shape[1]
    edges = np.zeros(bars + 1, np.int64)
    edges[[0, bars]] = 1
    for moved in differ:
        for lag in range(LEAST_REPEAT, bars - LEAST_REPEAT + 1):
            alike = np.diagonal(moved, lag) < 1 - SAME_CHORDS
            turns = np.diff(np.concatenate([[0], alike.astype(np.int64), [0]]))
            begins, ends = np.flatnonzero(turns == 1), np.flatnonzero(turns == -1)
            is_long = ends - begins >= LEAST_REPEAT
            for places in (begins[is_long], ends[is_long]):
                edges[places] += 1
                edges[places + lag] += 1
    return np.asarray(edges)


def _apart(firsts: NDArray[np.int64], bars: int) -> int:
    """Return how many of these stretches follow one another without overlapping."""
    many, free = 0, 0
    for first in firsts:
        if first >= free:
            many, free = many + 1, int(first) + bars
    return many
