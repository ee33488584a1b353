"""A recording mapped by taps: its tempo and the bars of each section, with the remaining doubt.

The player taps each section's first beat and the end, and optionally the beats of a few bars. The tempo is the slope
of a robust line (Theil and Sen: the median slope of all pairs; P. K. Sen, JASA 63 (324), 1968), so a single slip does
not spoil it. Of all tempos that the tapped beats allow, the one that cuts all sections into whole bars wins; the
likelihood of the others is the doubt.
"""

import itertools
import math
import statistics
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.music.meter import Meter

TAP_ERROR_MS: Final = 40.0  # standard deviation of one tap's error (the requirement's figure)
SAME_TAP_MS: Final = 400.0  # taps from different passes closer than this mean the same place
ENOUGH_FOR_A_SLIP: Final = 3  # passes; of two that differ, nobody knows which is right
SLOWEST_BPM, FASTEST_BPM = 55.0, 220.0  # if no beats were tapped and the show has no tempo
USUAL_BPM: Final = 110.0  # of a tempo and its double, take the one nearer to this (common practice, no source)
OCTAVE_COST: Final = 6.0  # for each doubling away from it, in squared standard errors
ODD_COST: Final = (
    (8, 0.0),
    (4, 1.0),
    (2, 5.0),
    (1, 9.0),
)  # bars come in eights, then fours, then twos
SLIP_COST: Final = 25.0  # the most that one section can cost a tempo: it may be a slip
FARTHEST: Final = 5.0  # standard errors around the tapped tempo to search
KNOWN_OFF: Final = 0.02  # a tempo in the show is right to within a beat or two
NO_BARS: Final = 5.0  # standard errors from a whole number of bars: further off is a slip, or a broken bar
ENOUGH_FOR_A_LINE: Final = 4  # sections; with fewer, one slip would move the median too
WRITTEN_COST: Final = 9.0  # for each section with other bars than the player wrote, where no tempo is sure
SURE: Final = 0.01  # below this doubt nobody needs to check


class MappedSection(msgspec.Struct, frozen=True):
    """A section as tapped. ``exact`` is its length in bars before rounding; ``doubt`` (0..1) that ``bars`` is wrong."""

    bars: int
    exact: float
    doubt: float

    @property
    def is_sure(self) -> bool:
        """Whether the bars need no check."""
        return self.doubt < SURE


class Mapped(msgspec.Struct, frozen=True):
    """Tempo in felt beats a minute, its standard error, and the sections in playing order."""

    tempo_bpm: float
    off_bpm: float
    sections: tuple[MappedSection, ...]


def taps_together(times: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Merge the taps of several passes: for each place tapped, the median.

    If three or more passes cover a place and fewer than half of them tapped it, it was a slip and is left out.
    """
    return tuple(place for place, tapped, passed in _places(times) if passed < ENOUGH_FOR_A_SLIP or 2 * tapped > passed)


def lone_taps(times: Sequence[Sequence[float]]) -> tuple[float, ...]:
    """Return the places that some passes tapped and others, although they cover it, did not."""
    return tuple(place for place, tapped, passed in _places(times) if tapped < passed)


def _places(times: Sequence[Sequence[float]]) -> list[tuple[float, int, int]]:
    """Return each tapped place: the median of its taps, how many passes tapped it, how many cover it."""
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
    written: Sequence[int | None] = (),
) -> Mapped | None:
    """Return the tempo and the bars of each section; None for fewer than two taps.

    ``sections_ms`` are the first beats of the sections and the end of the last, as places in the recording;
    ``beats_ms`` some consecutive beats; ``known_bpm`` the show's tempo, used if no beats were tapped and more sections
    fit it than any other tempo; ``written`` the bars that the show has for each section.
    """
    taps = sorted(sections_ms)
    lengths = [after - before for before, after in itertools.pairwise(taps)]
    if not lengths:
        return None
    beats = float(meter.felt_beats)
    beat = _beat_ms(sorted(beats_ms))
    ways = [_weighed(lengths, beats, beat, () if beat else written)]
    if beat is None and known_bpm:
        known = (60_000 / known_bpm, 60_000 / known_bpm * KNOWN_OFF)
        ways.insert(0, _weighed(lengths, beats, known))
    found = [_mapped(taps, lengths, beats, weighed) for weighed in ways]
    return max(found, key=lambda one: sum(section.is_sure for section in one.sections))


def _mapped(
    taps: Sequence[float], lengths: Sequence[float], beats: float, weighed: Sequence[tuple[float, float]]
) -> Mapped:
    """Return the cheapest of these tempos, with the bars of each section and their doubt."""
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
    """Return the median slope of all pairs of points.

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
    """Return the length of a beat and its standard error, in ms. Skipped beats count; doubled taps do not.

    Number the taps in two ways: as if no beat were skipped, and by the gaps. The closer line wins.
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
    """Assign each tap to its nearest beat, a few times over; return the remaining error, the beat, the places."""
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
    """Return the standard error of a slope through taps at these places."""
    middle = statistics.fmean(places)
    return TAP_ERROR_MS / math.sqrt(sum((place - middle) ** 2 for place in places) or 1.0)


def _counts(lengths: Sequence[float], bar: float) -> list[int]:
    return [max(1, round(length / bar)) for length in lengths]


def _weighed(
    lengths: Sequence[float],
    beats: float,
    beat: tuple[float, float] | None,
    written: Sequence[int | None] = (),
) -> list[tuple[float, float]]:
    """Weigh each possible length of a bar: (cost in squared standard errors, length).

    Cheap lengths cut all sections into whole bars, preferably eights and fours, and lie near the tapped beats or, if
    none were tapped, near the usual tempo.
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
        counts = _counts(lengths, bar)
        cost += WRITTEN_COST * sum(has not in (None, count) for has, count in zip(written, counts, strict=False))
        for length, count in zip(lengths, counts, strict=True):
            cost += min(((length - count * bar) / (TAP_ERROR_MS * math.sqrt(2))) ** 2, SLIP_COST)
            cost += next(odd for size, odd in ODD_COST if count % size == 0)
        found.append((cost, bar))
        bar *= step
    return found


def _others(lengths: Sequence[float], counts: Sequence[int], weighed: Sequence[tuple[float, float]]) -> list[float]:
    """Return, for each section, the share of the likelihood that says another number of bars."""
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
    """Return the probability, 0 to 1, that the errors of taps and tempo hide another number of bars; 1 if none fits."""
    error = math.sqrt(2 * TAP_ERROR_MS**2 + (count * off) ** 2) / bar
    if abs(exact - count) > NO_BARS * error:
        return 1.0
    return min(1.0, math.erfc((0.5 - abs(exact - count)) / (error * math.sqrt(2))))
