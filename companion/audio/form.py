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
CHORDS, SOUND, HIT = 1.0, 1.1, 0.35  # weights of the three kinds of news
NEW_SECTION: Final = 1.05  # what a boundary must earn
LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Matrix = NDArray[np.float64]


class HeardSection(msgspec.Struct, frozen=True):
    """A section: its first bar from 0, its number of bars, its letter, how far it is moved up, and how sure its start is."""

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
    """Return the sections of a song, in order; none where there are no bars."""
    bars = len(picture.harmony)
    if not bars:
        return []
    news = _news(picture)
    starts = _starts(news, bars)
    starts = _cut_doubles(starts, bars, picture.harmony)
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
        ahead = harmony[bar : bar + NEAR]
        best = 0.0
        for loop in LOOPS:
            if bar - loop < 0:
                continue
            back = harmony[bar - loop : bar - loop + len(ahead)]
            best = max(best, float(likeness(ahead[: len(back)], back).mean()))
        chords[bar] = 1.0 - best
    peaks = np.maximum(steps - np.maximum(np.roll(steps, 1), np.roll(steps, -1)) * 0.75, 0) + 0.4 * steps
    return CHORDS * chords + SOUND * peaks + HIT * np.clip(picture.hits, 0, 2)


def _length_cost(bars: int) -> float:
    cost = 0.0 if bars % 4 == 0 else 0.15 if bars % 2 == 0 else 0.3
    if bars < 4:
        cost += 0.35 * (4 - bars)
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


def _cut_doubles(starts: Sequence[int], bars: int, harmony: Matrix) -> list[int]:
    """Cut a section in two where both halves are what another section is."""
    lengths = [stop - start for start, stop in zip(starts, [*starts[1:], bars], strict=True)]
    out = []
    for start, length in zip(starts, lengths, strict=True):
        out.append(start)
        half = length // 2
        if length % 2 or half < 6:
            continue
        for other, other_length in zip(starts, lengths, strict=True):
            if other != start and other_length == half:
                halves = [harmony[begin : begin + half] for begin in (start, start + half)]
                if all(likeness(one, harmony[other : other + half]).mean() > ALIKE for one in halves):
                    out.append(start + half)
                    break
    return out


def _lettered(
    starts: Sequence[int], bars: int, picture: BarPicture, news: NDArray[np.float64]
) -> list[HeardSection]:
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
        for up in (0, 1, 2, 3, -1, -2):
            alike = float(likeness(here, moved_up(there, up)).mean()) - (0.04 if up else 0.0)
            alike -= 0.1 * (one.bars != length)
            if alike > best:
                best, letter, shift = alike, one.letter, one.shift + up
    if letter:
        return letter, shift
    used = len({one.letter for one in before})
    return LETTERS[min(used, len(LETTERS) - 1)], 0
