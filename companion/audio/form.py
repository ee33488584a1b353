"""The form: where sections begin, and which of them are alike.

The likeliest way to cut the song into sections wins. ``section_starts`` says how likely each start is; a stretch that
comes again is likelier, the more so where nothing else marks the starts; an odd length makes a way a little less
likely. Lengths of four bars and their multiples cost nothing, but none is impossible: songs of nine and ten bars exist.
Where hardly a start is marked, ``repeated_stretches`` cuts the song by its chords alone.
Sections share a letter if their chords (also moved up, for a last chorus in a higher key), the sound of the band and
their lengths are alike. A logistic regression weighs what separates two letters; it is fitted like that of the starts.
"""

from typing import Final

import msgspec
import numpy as np

from companion.audio.bar_pictures import MOVED, MOVES, BarPicture, Matrix, in_noise, likeness, moved_up
from companion.audio.repeated_stretches import MAX_BARS, repeated_spans
from companion.audio.section_starts import COPY_SHARPNESS, Numbers, chances, same_bars, start_chances

LONGEST_BARS: Final = 48
ODD, EVEN, SHORT, LONG = 1.2, 0.75, 0.9, 0.22  # costs, as logarithms; the last two for each bar below 4, above 16
LEAST_CHANCE: Final = 0.1
REPEAT: Final = (0.5, 0.2)  # what each bar gains of a stretch that comes again: nothing else marks sections, all does
CLEAR, USUAL_BARS = 0.9, 12  # a start that is marked, and how often one comes in a song that marks them all
FEWEST_UNMARKED: Final = 3 * USUAL_BARS  # in a shorter recording, that nothing is marked says nothing
LITTLE_MARKED: Final = 0.5  # of them: 0 to 0.3 without drums, 0.7 and more with crashes or fills
LEAST_NEXT: Final = 8  # bars that come twice running as two sections: fewer are a phrase that is repeated
DOUBLE, LEAST_DOUBLE = 2.0, 4  # what a section that is heard elsewhere gains, and the bars that it has at least
SAME_LETTER: Final = (-6.87, -2.44, -2.77, -3.12, 2.49)  # constant, chords, sound, other lengths, moved
LEAST_ALIKE: Final = 0.6  # of two bars of a repeat, 0 to 1
LEAST_APART_SOUND: Final = 0.3  # in noise: a band that plays everything alike says nothing about letters
SHARPNESS: Final = 1.5  # of a start's log odds
LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class HeardSection(msgspec.Struct, frozen=True):
    """A section: its first bar, from 0, its number of bars and its letter.

    ``shift``: semitones above the first section of that letter. ``sure``: the probability that it begins there.
    """

    start: int
    bars: int
    letter: str
    shift: int = 0
    sure: float = 0.0


def heard_sections(picture: BarPicture) -> list[HeardSection]:
    """Return the sections of a song, in order; none if there are no bars."""
    bars = len(picture.harmony)
    if not bars:
        return []
    sure = start_chances(picture)
    worth = _worths(sure, _doubles(sure, picture), repeats(picture))
    starts = _best_cut(worth)
    spans = [(start, stop - start) for start, stop in zip(starts, [*starts[1:], bars], strict=True)]
    if _marked(sure[1:]) < LITTLE_MARKED and FEWEST_UNMARKED <= bars <= MAX_BARS:
        spans = repeated_spans(picture.harmony, sure) or spans
    return _lettered(spans, picture, _start_shares(worth))


def _marked(sure: Numbers) -> float:
    """Return how many of the sections that a song usually has begin clearly, 0 to 1."""
    return min(1.0, float((sure > CLEAR).sum()) * USUAL_BARS / max(1, len(sure)))


def _length_cost(bars: int) -> float:
    cost = 0.0 if bars % 4 == 0 else EVEN if bars % 2 == 0 else ODD
    return cost + SHORT * max(0, 4 - bars) + LONG * max(0, bars - 16)


def _best_cut(worth: Matrix) -> list[int]:
    """Return the first bars of the sections of the likeliest form; ``worth`` is that of each first bar and end."""
    bars = len(worth) - 1
    best = np.full(bars + 1, -np.inf)
    best[0] = 0.0
    came = np.zeros(bars + 1, np.int64)
    for end in range(1, bars + 1):
        ways = best[:end] + worth[:end, end]
        came[end] = int(ways.argmax())
        best[end] = ways[came[end]]
    starts, end = [], bars
    while end > 0:
        end = int(came[end])
        starts.append(end)
    return starts[::-1]


def _start_shares(worth: Matrix) -> Numbers:
    """Return for each bar the probability that a section begins there, by forward and backward sums over all forms.

    It is sharpened: the starts that these sums gave 0.8 to 0.9 were all right, in songs of both generators.
    """
    bars = len(worth) - 1
    ahead, behind = np.full(bars + 1, -np.inf), np.full(bars + 1, -np.inf)
    ahead[0] = behind[bars] = 0.0
    for end in range(1, bars + 1):
        ahead[end] = np.logaddexp.reduce(ahead[:end] + worth[:end, end])
    for start in range(bars - 1, -1, -1):
        behind[start] = np.logaddexp.reduce(behind[start + 1 :] + worth[start, start + 1 :])
    shares = np.clip(np.exp(ahead + behind - ahead[bars])[:bars], 0, 1) ** SHARPNESS
    return np.asarray(shares / (shares + (1 - shares ** (1 / SHARPNESS)) ** SHARPNESS))


def repeats(picture: BarPicture) -> Matrix:
    """Return for each first bar and number of bars how surely just this stretch comes again, 0 to 1.

    The bars before and after it must not come again with it, or there must be none on one side: otherwise the whole
    repeat is longer, and this is a piece of it. A loop that goes round and round has no such stretch.
    """
    bars = len(picture.harmony)
    longest = min(LONGEST_BARS, bars // 2)
    out = np.zeros((bars, LONGEST_BARS + 1))
    for same, _ in same_bars(picture):
        for lag in range(LEAST_DOUBLE, bars - LEAST_DOUBLE + 1):
            alike = np.diagonal(same, lag)
            differs = 1 - np.concatenate([[0.0], alike, [0.0]])
            sums = np.concatenate([[0.0], np.cumsum(alike)])
            most = lag if lag >= LEAST_NEXT else lag - 1
            for long in range(LEAST_DOUBLE, min(longest, most, len(alike) - 1) + 1):
                means = (sums[long:] - sums[:-long]) / long
                found = np.maximum(means - LEAST_ALIKE, 0) / (1 - LEAST_ALIKE)
                found = found * differs[: len(found)] * differs[long + 1 :]
                first = np.arange(len(found))
                out[first, long] = np.maximum(out[first, long], found)
                out[first + lag, long] = np.maximum(out[first + lag, long], found)
    return out


def _worths(sure: Numbers, doubles: Matrix, again: Matrix) -> Matrix:
    """Return how much each section, by its first bar and the bar after its last one, adds to a form, as a logarithm."""
    bars = len(sure)
    clipped = np.clip(sure, LEAST_CHANCE, 1 - LEAST_CHANCE)
    gains = np.log(clipped / (1 - clipped))
    gains[0] = 0.0
    marked = _marked(sure)
    repeat = REPEAT[0] + marked * (REPEAT[1] - REPEAT[0])
    worth = np.full((bars + 1, bars + 1), -np.inf)
    for start in range(bars):
        for end in range(start + 1, min(bars, start + LONGEST_BARS) + 1):
            long = end - start
            worth[start, end] = gains[start] - _length_cost(long)
            worth[start, end] += DOUBLE * doubles[start, long] + repeat * long * again[start, long]
    return worth


def _doubles(sure: Numbers, picture: BarPicture) -> Matrix:
    """Return for each first bar and number of bars how surely another stretch like it is a section, 0 to 1."""
    bars = len(sure)
    longest = min(LONGEST_BARS, bars // 2)
    nearest = np.zeros((longest + 1, bars + 1, bars + 1))
    for same, cost in same_bars(picture):
        sums = np.zeros((bars + 1, bars + 1))
        for bar in range(bars):
            sums[bar + 1, 1:] = sums[bar, :-1] + same[bar]
        for long in range(LEAST_DOUBLE, longest + 1):
            means = (sums[long:, long:] - sums[:-long, :-long]) / long - cost
            room = nearest[long, : bars - long + 1, : bars - long + 1]
            np.maximum(room, means, out=room)
    edges = np.append(sure, 1.0)
    out = np.zeros((bars, LONGEST_BARS + 1))
    for long in range(LEAST_DOUBLE, longest + 1):
        first = np.arange(bars - long + 1)
        is_section = np.maximum(2 * np.minimum(edges[: bars - long + 1], edges[long:]) - 1, 0)
        weights = np.exp(COPY_SHARPNESS * (nearest[long, : len(first), : len(first)] - 1))
        weights[np.abs(first[:, None] - first) < long] = 0
        found = (weights * is_section).max(axis=1)
        out[: min(bars, len(first)), long] = found[:bars]
    return out


def _lettered(spans: list[tuple[int, int]], picture: BarPicture, sure: Numbers) -> list[HeardSection]:
    """Return the sections with letters: the two most similar groups are joined until no two are more alike than not."""
    odds, shifts = _pairs(spans, picture)
    groups = [[number] for number in range(len(spans))]
    while len(groups) > 1:
        means = {
            (one, other): float(odds[np.ix_(groups[one], groups[other])].mean())
            for one in range(len(groups))
            for other in range(one)
        }
        one, other = max(means, key=lambda pair: means[pair])
        if means[one, other] <= 0:
            break
        groups[other] += groups.pop(one)
    letters = {}
    for letter, group in enumerate(sorted(sorted(one) for one in groups)):
        for number in group:
            letters[number] = (LETTERS[min(letter, len(LETTERS) - 1)], int(shifts[number, group[0]]))
    return [
        HeardSection(start, bars, *letters[number], sure=float(sure[start]))
        for number, (start, bars) in enumerate(spans)
    ]


def _pairs(spans: list[tuple[int, int]], picture: BarPicture) -> tuple[Matrix, Matrix]:
    """Return for each two sections the log odds that they are the same, and how far the one is above the other."""
    moves = [likeness(picture.harmony, moved_up(picture.harmony, up)) - MOVED * bool(up) for up in MOVES]
    sound = in_noise(picture.sound)
    many = len(spans)
    odds, shifts = np.zeros((many, many)), np.zeros((many, many))
    for number in range(many):
        for before in range(number):
            evidence, up = pair_evidence(spans[number], spans[before], moves, sound)
            chance = float(np.clip(chances(evidence[None], SAME_LETTER)[0], 0.01, 0.99))
            odds[number, before] = odds[before, number] = np.log(chance / (1 - chance))
            shifts[number, before] = up
    return odds, shifts


def pair_evidence(
    one: tuple[int, int], other: tuple[int, int], moves: list[Matrix], sound: Matrix
) -> tuple[Numbers, int]:
    """Return what separates two sections, (first bar, bars) each, and the semitones between them."""
    same = min(one[1], other[1])
    found = [float(np.diagonal(alike[one[0] : one[0] + same, other[0] : other[0] + same]).mean()) for alike in moves]
    best = int(np.argmax(found))
    means = [sound[start : start + bars].mean(axis=0) for start, bars in (one, other)]
    apart = float(np.sqrt(np.mean((means[0] - means[1]) ** 2)))
    lengths = float(abs(np.log(one[1] / other[1])))
    return np.asarray(
        [np.log(1.02 - found[best]), np.log(max(apart, LEAST_APART_SOUND) + 0.1), lengths, float(best > 0)]
    ), MOVES[best]
