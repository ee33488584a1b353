"""The form: where sections begin, and which of them are alike.

A section begins where the chords stop repeating what went before, where the sound of the band changes, or both. What
is alike is found by the chords bar by bar (also moved up, for a last chorus in a higher key), and a long section that
is made of two shorter ones already found is cut in two. Lengths of four bars and their multiples cost least, but no
length is impossible: songs of nine and ten bars exist.
"""

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

LONGEST_BARS: Final = 32
LOOPS: Final = (2, 4, 8, 12)  # bars after which a progression may begin again
NEAR: Final = 4  # bars before and after a place that are compared
ALIKE: Final = 0.80  # mean likeness of two sections of one letter
CHORDS, SOUND, HIT = 1.0, 1.05, 0.35  # weights of the three kinds of news
COPY, HANDED_ON = 0.55, 0.75  # what a copy's beginning is worth, and what of a boundary its copy keeps
NEW_SECTION: Final = 1.05  # what a boundary must earn
NEW_BAR, OTHER_LAG = 0.92, 2.1  # likeness that a bar must beat to be a copy; price of copying from elsewhere
LEAST_LAG: Final = 4
FIRST_COUNTS: Final = (0.4, 0.2, 0.2, 0.2)  # weights of the bars ahead
SOUND_SHARE: Final = 0.25
AS_GOOD: Final = 0.06
SAME, SAME_SOUND = 0.88, 0.75  # of the halves of a section that is cut in two
MOVES: Final = (0, 1, 2, 3, -1, -2)  # semitones: a last chorus is moved up, or down for the singer
LEAST_DOUBLE: Final = 6
LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Matrix = NDArray[np.float64]


class HeardSection(msgspec.Struct, frozen=True):
    """A section: its first bar, from 0, its number of bars and its letter.

    ``shift``: semitones above the first section of that letter. ``sure``: the probability that it begins there.
    """

    start: int
    bars: int
    letter: str
    shift: int = 0
    sure: float = 0.0


class BarPicture(msgspec.Struct, frozen=True):
    """What each bar sounds like. Rows are bars.

    ``harmony``: for each half of the bar the shares of 24 major and minor triads. ``sound``: levels in bands, in
    decibels. ``hits``: how much begins at its first beat, beside the bars around it.
    """

    harmony: Matrix
    sound: Matrix
    hits: NDArray[np.float64]


def heard_sections(picture: BarPicture) -> list[HeardSection]:
    """Return the sections of a song, in order; none if there are no bars."""
    bars = len(picture.harmony)
    if not bars:
        return []
    news = _with_copies(_news(picture), picture)
    starts = _starts(news, bars)
    starts = _cut_doubles(starts, bars, picture)
    return _lettered(starts, bars, picture, news)


def likeness(one: Matrix, other: Matrix) -> NDArray[np.float64]:
    """Return for each bar how alike two rows of harmony are, 0 to 1."""
    shares = np.sqrt(np.maximum(one, 0) * np.maximum(other, 0)).sum(axis=1)
    return np.asarray(shares / np.sqrt(np.maximum(one.sum(axis=1) * other.sum(axis=1), 1e-9)))


def moved_up(harmony: Matrix, semitones: int) -> Matrix:
    """Return harmony with every triad that many semitones higher."""
    split = harmony.reshape(len(harmony), -1, 12)
    return np.roll(split, semitones, axis=2).reshape(harmony.shape)


def _news(picture: BarPicture) -> NDArray[np.float64]:
    """Return for each bar how much speaks for a section that begins there."""
    harmony, sound = picture.harmony, picture.sound
    bars = len(harmony)
    spread = sound.std(axis=0) + 1.0
    steps = np.zeros(bars)
    chords = np.zeros(bars)
    for bar in range(1, bars):
        before, after = sound[max(0, bar - NEAR) : bar], sound[bar : bar + NEAR]
        steps[bar] = float(np.abs((after.mean(axis=0) - before.mean(axis=0)) / spread).mean())
        chords[bar] = _break_in_loops(harmony, bar)
    peaks = np.maximum(steps - np.maximum(np.roll(steps, 1), np.roll(steps, -1)) * 0.75, 0) + 0.4 * steps
    return CHORDS * chords + SOUND * peaks + HIT * np.clip(picture.hits, 0, 2)


def _break_in_loops(harmony: Matrix, bar: int) -> float:
    """Return how clearly a progression that went round until here goes on no longer, 0 to 1."""
    ahead = harmony[bar : bar + NEAR]
    weights = np.asarray(FIRST_COUNTS[: len(ahead)])
    found, going_on = [], 0.0
    for loop in LOOPS:
        if bar - loop < 0:
            continue
        matches = likeness(ahead, harmony[bar - loop : bar - loop + len(ahead)])
        on = float((matches * weights).sum() / weights.sum())
        going_on = max(going_on, float(matches.mean()))
        many = min(NEAR, bar - loop)
        if many >= 2:
            before = likeness(harmony[bar - many : bar], harmony[bar - loop - many : bar - loop]).mean()
            found.append(float(before) ** 4 * (1 - on))
    return (0.5 + 0.5 * (1 - going_on)) * max(found, default=1 - going_on)


def _alike(picture: BarPicture) -> Matrix:
    """Return how alike each pair of bars is, 0 to 1: mostly the chords, a little the sound of the band."""
    roots = np.sqrt(np.maximum(picture.harmony, 0))
    roots /= np.maximum(np.linalg.norm(roots, axis=1, keepdims=True), 1e-9)
    spread = picture.sound.std(axis=0) + 1.0
    apart = np.abs(picture.sound[:, None] - picture.sound[None]) / spread
    return np.asarray((1 - SOUND_SHARE) * roots @ roots.T + SOUND_SHARE * np.exp(-apart.mean(axis=2)))


def _with_copies(news: NDArray[np.float64], picture: BarPicture) -> NDArray[np.float64]:
    """Return the news with what copies add: a section begins where a long copy of earlier bars begins or ends.

    Each bar is new, or a copy of the bar some way back; the way back that explains most bars with the fewest changes is
    found by Viterbi. A copy of a boundary is one too.
    """
    alike = _alike(picture)
    bars = len(alike)
    lags = np.arange(bars)  # 0: new
    score = np.full(bars, -np.inf)
    score[0] = NEW_BAR
    back = np.zeros((bars, bars), np.int64)
    for bar in range(1, bars):
        worth = np.full(bars, -np.inf)
        worth[0] = NEW_BAR
        worth[LEAST_LAG : bar + 1] = alike[bar, bar - lags[LEAST_LAG : bar + 1]]
        best = int(score.argmax())
        moved = score[best] - OTHER_LAG
        stays = score >= moved
        back[bar] = np.where(stays, lags, best)
        score = np.where(stays, score, moved) + worth
    path = np.zeros(bars, np.int64)
    path[-1] = int(score.argmax())
    for bar in range(bars - 1, 0, -1):
        path[bar - 1] = back[bar, path[bar]]
    out = news.copy()
    begun = 0
    for bar in range(1, bars):
        lag = int(path[bar])
        if lag != path[bar - 1] and not (path[bar - 1] == 0 and lag <= bar - begun):
            for near in _either(alike, bar, int(path[bar - 1]), lag):
                out[near] += COPY
            begun = bar
        if lag >= 2 * LEAST_LAG:
            out[bar] = max(out[bar], HANDED_ON * out[bar - lag] + (1 - HANDED_ON) * out[bar])
    return out


def _either(alike: Matrix, bar: int, before: int, after: int) -> range:
    """Return the bars at which the way back could as well change: both ways explain what lies between."""

    def worth(at: int, lag: int) -> float:
        return NEW_BAR if lag == 0 else float(alike[at, at - lag]) if lag <= at else 0.0

    first = last = bar
    while first > 1 and bar - first < NEAR and worth(first - 1, after) >= worth(first - 1, before) - AS_GOOD:
        first -= 1
    while last < len(alike) - 1 and last - bar < NEAR and worth(last, before) >= worth(last, after) - AS_GOOD:
        last += 1
    return range(first, last + 1)


def _length_cost(bars: int) -> float:
    cost = 0.0 if bars % 4 == 0 else 0.15 if bars % 2 == 0 else 0.3
    if bars < 4:
        cost += 0.2 * (4 - bars)
    if bars > 16:
        cost += 0.05 * (bars - 16)
    return cost


def _starts(news: NDArray[np.float64], bars: int) -> list[int]:
    """Return the first bars of the sections that together earn most."""
    best = np.full(bars + 1, -np.inf)
    best[0] = 0.0
    came = np.zeros(bars + 1, np.int64)
    for end in range(1, bars + 1):
        for start in range(max(0, end - LONGEST_BARS), end):
            gain = (news[start] - NEW_SECTION * 0.5 if start else 0.0) - _length_cost(end - start)
            if best[start] + gain > best[end]:
                best[end], came[end] = best[start] + gain, start
    starts, end = [], bars
    while end > 0:
        end = int(came[end])
        starts.append(end)
    return starts[::-1]


def _cut_doubles(starts: Sequence[int], bars: int, picture: BarPicture) -> list[int]:
    """Cut a section in two if both halves are what another section is, also moved up."""
    lengths = [stop - start for start, stop in zip(starts, [*starts[1:], bars], strict=True)]
    spans = list(zip(starts, lengths, strict=True))
    out = []
    for start, length in spans:
        out.append(start)
        half = length // 2
        if length % 2 or half < LEAST_DOUBLE:
            continue
        halves = (start, start + half)
        others = [other for other, long in spans if other != start and long == half]
        if any(all(_same(picture, one, other, half) for one in halves) for other in others):
            out.append(start + half)
    return out


def _same(picture: BarPicture, one: int, other: int, bars: int) -> bool:
    """Return whether two stretches have the same chords, also moved up, and the same sound of the band."""
    here, there = picture.harmony[one : one + bars], picture.harmony[other : other + bars]
    spread = picture.sound.std(axis=0) + 1.0
    sounds = (picture.sound[one : one + bars].mean(axis=0) - picture.sound[other : other + bars].mean(axis=0)) / spread
    if float(np.abs(sounds).mean()) > SAME_SOUND:
        return False
    return any(float(likeness(here, moved_up(there, up)).mean()) > SAME for up in MOVES)


def _lettered(starts: Sequence[int], bars: int, picture: BarPicture, news: NDArray[np.float64]) -> list[HeardSection]:
    sections: list[HeardSection] = []
    for start, stop in zip(starts, [*starts[1:], bars], strict=True):
        letter, shift = _letter_of(start, stop, sections, picture)
        sure = float(1 / (1 + np.exp(-4 * (news[start] - NEW_SECTION * 0.7)))) if start else 1.0
        sections.append(HeardSection(start, stop - start, letter, shift, sure))
    return sections


def _letter_of(start: int, stop: int, before: Sequence[HeardSection], picture: BarPicture) -> tuple[str, int]:
    """Return the letter of the most similar earlier section and how far it is moved, or a new letter."""
    best, letter, shift = ALIKE, "", 0
    for one in before:
        length = stop - start
        if abs(one.bars - length) > max(2, length // 4):
            continue
        same = min(one.bars, length)
        here = picture.harmony[start : start + same]
        there = picture.harmony[one.start : one.start + same]
        for up in MOVES:
            alike = float(likeness(here, moved_up(there, up)).mean()) - (0.04 if up else 0.0)
            alike -= 0.1 * (one.bars != length)
            if alike > best:
                best, letter, shift = alike, one.letter, one.shift + up
    if letter:
        return letter, shift
    used = len({one.letter for one in before})
    return LETTERS[min(used, len(LETTERS) - 1)], 0
