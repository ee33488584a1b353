"""A recording mapped by taps: its tempo, and how many bars each section has, with the doubt that is left.

The player taps each section's first beat and the end, and beats for a few bars if they like. Tempo is the slope of a
robust line (Theil and Sen: the median of the slopes of all pairs; P. K. Sen, JASA 63 (324), 1968), so that one slip of
the foot does not turn it. Of all tempos that the tapped beats allow, the one is taken that cuts all sections into whole
bars; what speaks for another is the doubt.
"""

import itertools
import math
import statistics
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.music.meter import Meter

TAP_ERROR_MS: Final = 40.0  # how far a tap is off, as a standard deviation (the figure that this was asked to bear)
SAME_TAP_MS: Final = 400.0  # taps of several times through that lie nearer than this are one and the same
ENOUGH_FOR_A_SLIP: Final = 3  # times through; of two that differ nobody knows which is right
SLOWEST_BPM, FASTEST_BPM = 55.0, 220.0  # where no beat was tapped and the show has no tempo
USUAL_BPM: Final = 110.0  # of tempos twice and half as fast, the one nearer to this (common practice, no source)
OCTAVE_COST: Final = 6.0  # for each doubling away from it, in squared standard errors
ODD_COST: Final = ((8, 0.0), (4, 1.0), (2, 5.0), (1, 9.0))  # sections have eights, fours, twos, in this order
SLIP_COST: Final = 25.0  # what one section may say against a tempo at most: it may be a slip
FARTHEST: Final = 5.0  # standard errors from the tapped beats that are looked at
KNOWN_OFF: Final = 0.02  # a tempo in the show is right to a beat or two
NO_BARS: Final = 5.0  # standard errors from a whole number: that is a slip, or no whole bars
ENOUGH_FOR_A_LINE: Final = 4  # sections; of fewer, one slip would turn the median too
SURE: Final = 0.01  # below so much doubt nobody needs to look


class MappedSection(msgspec.Struct, frozen=True):
    """A section as tapped. ``exact`` is its length in bars before rounding, ``doubt`` how likely ``bars`` is wrong."""

    bars: int
    exact: float
    doubt: float

    @property
    def is_sure(self) -> bool:
        """Whether the count can be taken as it is."""
        return self.doubt < SURE


class Mapped(msgspec.Struct, frozen=True):
    """Tempo in the meter's felt beats a minute, how far it may be off, and the sections in order."""

    tempo_bpm: float
    off_bpm: float
    sections: tuple[MappedSection, ...]


def taps_together(times: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Put the taps of several times through into one: of those that mean the same place, the median.

    Where three or more times passed a place and fewer than half of them tapped there, it was a slip and is left out.
    """
    return tuple(place for place, tapped, passed in _places(times) if passed < ENOUGH_FOR_A_SLIP or 2 * tapped > passed)


def lone_taps(times: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Give the places at which some times through have a tap and others, which passed there as well, have none."""
    return tuple(place for place, tapped, passed in _places(times) if tapped < passed)


def _places(times: Sequence[Sequence[float]]) -> list[tuple[float, int, int]]:
    """Give each tapped place: the median of its taps, how many times through have it, how many passed there."""
    groups: list[list[tuple[float, int]]] = []
    for tap, time in sorted((tap, number) for number, taps in enumerate(times) for tap in taps):
        if groups and tap - groups[-1][-1][0] < SAME_TAP_MS:
            groups[-1].append((tap, time))
        else:
            groups.append([(tap, time)])
    spans = [(min(taps) - SAME_TAP_MS, max(taps) + SAME_TAP_MS) for taps in times if taps]
    found = []
    for group in groups:
        place = statistics.median(tap for tap, _ in group)
        passed = sum(begin <= place <= end for begin, end in spans)
        found.append((place, len({time for _, time in group}), passed))
    return found


def map_taps(
    sections_ms: Sequence[float],
    meter: Meter,
    beats_ms: Sequence[float] = (),
    known_bpm: float | None = None,
) -> Mapped | None:
    """Give the tempo and the bars of each section; None for fewer than two taps.

    ``sections_ms`` are the first beats of the sections and the end of the last, as places in the recording;
    ``beats_ms`` some beats in a row; ``known_bpm`` the tempo that the show has, taken where no beats were tapped.
    """
    taps = sorted(sections_ms)
    lengths = [after - before for before, after in itertools.pairwise(taps)]
    if not lengths:
        return None
    beats = float(meter.felt_beats)
    beat = _beat_ms(sorted(beats_ms))
    if beat is None and known_bpm:
        beat = (60_000 / known_bpm, 60_000 / known_bpm * KNOWN_OFF)
    weighed = _weighed(lengths, beats, beat)
    bar = min(weighed, key=lambda one: one[0])[1]
    counts = _counts(lengths, bar)
    places = [0, *itertools.accumulate(counts)]
    off = _slope_error(places)
    if len(counts) >= ENOUGH_FOR_A_LINE:
        bar = theil_sen(places, taps)
    others = _others(lengths, counts, weighed)
    sections = tuple(
        MappedSection(count, length / bar, max(other, _doubt(length / bar, count, bar, off)))
        for count, length, other in zip(counts, lengths, others, strict=True)
    )
    tempo = 60_000 * beats / bar
    return Mapped(tempo, tempo * off / bar, sections)


def theil_sen(places: Sequence[float], times: Sequence[float]) -> float:
    """Give the median slope of all pairs of points.

    >>> theil_sen([0, 1, 2, 3, 4], [0, 10, 20, 90, 40])
    10.0
    """
    slopes = [
        (times[b] - times[a]) / (places[b] - places[a])
        for a, b in itertools.combinations(range(len(places)), 2)
        if places[a] != places[b]
    ]
    return statistics.median(slopes)


def _beat_ms(taps: Sequence[float]) -> tuple[float, float] | None:
    """Give the length of a beat and its standard error. A beat that was left out is counted, a doubled tap is not.

    Which beat a tap is, is found twice: as if none were left out, and by the gaps. The nearer line wins.
    """
    if len(taps) < 3:
        return None
    gap = statistics.median(after - before for before, after in itertools.pairwise(taps))
    by_gaps = [0, *itertools.accumulate(round((after - before) / gap) for before, after in itertools.pairwise(taps))]
    lines = [_refined(taps, places) for places in (list(range(len(taps))), by_gaps) if places[-1] > 1]
    if not lines:
        return None
    _far, beat, places = min(lines)
    return beat, _slope_error(places)


def _refined(taps: Sequence[float], places: list[int]) -> tuple[float, float, list[int]]:
    """Put each tap on the beat that it is nearest to, a few times over; give how far they lie, the beat, the places."""
    for _again in range(3):
        beat = theil_sen(places, taps)
        start = statistics.median(tap - place * beat for tap, place in zip(taps, places, strict=True))
        nearer = [round((tap - start) / beat) for tap in taps]
        if nearer[-1] == nearer[0]:
            break
        places = nearer
    far = sum(min(abs(tap - start - place * beat), beat / 4) for tap, place in zip(taps, places, strict=True))
    return far, theil_sen(places, taps), places


def _slope_error(places: Sequence[float]) -> float:
    """Give the standard error of a slope through taps at these places."""
    middle = statistics.fmean(places)
    return TAP_ERROR_MS / math.sqrt(sum((place - middle) ** 2 for place in places) or 1.0)


def _counts(lengths: Sequence[float], bar: float) -> list[int]:
    return [max(1, round(length / bar)) for length in lengths]


def _weighed(lengths: Sequence[float], beats: float, beat: tuple[float, float] | None) -> list[tuple[float, float]]:
    """Weigh each length of a bar that may be meant: (cost in squared standard errors, length).

    Good ones cut all sections into whole bars, eights and fours before odd numbers, and lie near the beats that were
    tapped; where none were, near the usual tempo.
    """
    if beat:
        middle, off = beat[0] * beats, beat[1] * beats
        shortest, longest = max(middle - FARTHEST * off, middle / 2), middle + FARTHEST * off
    else:
        middle, off = 60_000 * beats / USUAL_BPM, 0.0
        shortest, longest = 60_000 * beats / FASTEST_BPM, 60_000 * beats / SLOWEST_BPM
    step = 1 + 0.5 * TAP_ERROR_MS / max(lengths)
    found: list[tuple[float, float]] = []
    bar = shortest
    while bar <= longest:
        cost = ((bar - middle) / off) ** 2 if beat else OCTAVE_COST * math.log2(bar / middle) ** 2
        for length, count in zip(lengths, _counts(lengths, bar), strict=True):
            cost += min(((length - count * bar) / (TAP_ERROR_MS * math.sqrt(2))) ** 2, SLIP_COST)
            cost += next(odd for size, odd in ODD_COST if count % size == 0)
        found.append((cost, bar))
        bar *= step
    return found


def _others(lengths: Sequence[float], counts: Sequence[int], weighed: Sequence[tuple[float, float]]) -> list[float]:
    """Give for each section how much of all that is likely says another count."""
    least = min(cost for cost, _bar in weighed)
    whole = 0.0
    others = [0.0] * len(lengths)
    for cost, bar in weighed:
        if cost - least < SLIP_COST:
            weight = math.exp((least - cost) / 2)
            whole += weight
            for place, count in enumerate(_counts(lengths, bar)):
                if count != counts[place]:
                    others[place] += weight
    return [other / whole for other in others]


def _doubt(exact: float, count: int, bar: float, off: float) -> float:
    """Give how likely it is that taps and tempo, each off by its own error, hide another count; 1 where none fits."""
    error = math.sqrt(2 * TAP_ERROR_MS**2 + (count * off) ** 2) / bar
    if abs(exact - count) > NO_BARS * error:
        return 1.0
    return min(1.0, math.erfc((0.5 - abs(exact - count)) / (error * math.sqrt(2))))
