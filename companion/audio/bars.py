"""Bars: which beats begin one, how many beats a bar has, and whether a beat falls into two parts or three."""

import itertools
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.beats import FRAMES_A_SECOND
from companion.audio.networks.layers import FrameRows

BEATS_IN_A_BAR: Final = {  # by the parts of a beat: how common, before listening (common practice, no source)
    2: {4: 0.72, 3: 0.20, 2: 0.08},
    3: {2: 0.55, 4: 0.35, 3: 0.10},
}
CHANGES_AT: Final = {"first": 0.60, "middle": 0.12, "other": 0.025}  # how often a chord changes there (the same)
SLIP: Final = 14.0  # how unlikely a bar of another length is, as a logarithm
NET_TRUST: Final = {"first": 0.33, "middle": 0.15, "other": 0.33}  # the network's downbeats beside the chord changes
OTHER_PARTS: Final = 1.0  # what a beat costs that does not fall into the parts of the written meter, as a logarithm
PARTS: Final = 12  # of a beat, in the profile of what falls between beats
BESIDE: Final = 2  # of PARTS: closer to a beat is the beat itself
DEPENDENT: Final = 3  # neighbouring bars say much the same: each counts this much less
# Whether a beat falls into three, as log odds: the thirds beside the half, and the first third beside the second.
BESIDE_HALF, LEAST_BESIDE_HALF = 6.0, 0.5
BESIDE_LATE, LEAST_BESIDE_LATE = 3.0, -1.6
TWO_OR_FOUR: Final = 0.8  # how sure 2/4 is at most: no sound tells two bars of two from one of four
LEAST_HIT: Final = 0.02  # of the loudest place in a beat
LEAST_THREE: Final = 0.002


class BarGrid(msgspec.Struct, frozen=True):
    """Beats in seconds, the numbers of those that begin a bar, and how the bar is counted.

    ``beats_in_bar`` are felt beats; ``parts`` is 3 in 6/8, 9/8 and 12/8, and 2 elsewhere. ``sure`` is a probability.
    ``swing`` is where the second half of a beat falls, 0.5 if it is straight. ``fit``: how well the bars explain
    downbeats and chord changes, as a logarithm. ``off_beats``: how much begins at the loudest place between the beats,
    beside the beats themselves.
    """

    beats: NDArray[np.float64]
    downbeats: tuple[int, ...]
    beats_in_bar: int
    parts: int
    sure: float
    swing: float = 0.5
    fit: float = 0.0
    off_beats: float = 0.0

    @property
    def meter(self) -> str:
        """The time signature: 4/4, 3/4, 2/4, 6/8, 9/8 or 12/8."""
        return f"{3 * self.beats_in_bar}/8" if self.parts == 3 else f"{self.beats_in_bar}/4"


def bar_grid(
    frames: NDArray[np.int64],
    likely: FrameRows,
    changes: NDArray[np.float64],
    flux: FrameRows,
    known: tuple[int, int] | None = None,
) -> BarGrid:
    """Return the bars of a path of beats.

    ``likely``: (frames, 2), beat and downbeat. ``changes``: for each beat, from 0 to 1, how far the chord that begins
    there differs from the one before. ``flux``: for each frame, how much sound begins. ``known``: the beats in a
    bar and the parts of a beat, where the player wrote the meter; beats that sound otherwise fit worse.
    """
    down = _downbeat_share(frames, likely)
    profile = beat_profile(frames, flux)
    three, swing = _thirds(profile)
    loudest = float(profile[BESIDE : PARTS - BESIDE + 1].max())
    if known is not None:
        many, parts = known
        worth, firsts = _phases(down, changes, many)
        is_heard = parts == (3 if three > 0.5 else 2)
        worth -= OTHER_PARTS * len(frames) * (not is_heard)
        swing = swing if is_heard and parts == 2 else 0.5
        return BarGrid(frames / FRAMES_A_SECOND, firsts, many, parts, 1.0, swing, worth, loudest)
    found = {many: _phases(down, changes, many) for many in {many for one in BEATS_IN_A_BAR.values() for many in one}}
    fits = {
        (parts, many): (found[many][0] + np.log(share)) / DEPENDENT + np.log(three if parts == 3 else 1 - three)
        for parts, shares in BEATS_IN_A_BAR.items()
        for many, share in shares.items()
    }
    parts, many = max(fits, key=lambda one: fits[one])
    sure = 1 / sum(float(np.exp(fit - fits[parts, many])) for fit in fits.values())
    if (parts, many) == (2, 2):
        sure *= TWO_OR_FOUR
    worth = found[many][0] + float(np.log(BEATS_IN_A_BAR[parts][many]))
    swing = swing if parts == 2 else 0.5
    return BarGrid(frames / FRAMES_A_SECOND, found[many][1], many, parts, sure, swing, worth, loudest)


def _downbeat_share(frames: NDArray[np.int64], likely: FrameRows) -> NDArray[np.float64]:
    """Return for each beat how likely it begins a bar, by the network alone."""
    shares = np.empty(len(frames))
    for number, frame in enumerate(frames):
        near = likely[max(0, frame - 2) : frame + 3]
        beat, first = float(near[:, 0].max(initial=0)), float(near[:, 1].max(initial=0))
        shares[number] = first / (beat + first + 1e-6)
    return np.clip(shares, 0.06, 0.94)


def _phases(down: NDArray[np.float64], changes: NDArray[np.float64], many: int) -> tuple[float, tuple[int, ...]]:
    """Return how well bars of this length explain the beats, and the beats that begin one."""
    beats = len(down)
    gain = np.empty((beats, many))
    for place in range(many):
        kind = "first" if place == 0 else "middle" if many == 4 and place == 2 else "other"
        chance = CHANGES_AT[kind]
        net = np.log(down) if place == 0 else np.log(1 - down)
        chord = changes * np.log(chance) + (1 - changes) * np.log(1 - chance)
        gain[:, place] = NET_TRUST[kind] * net + chord
    score = gain[0].copy()
    back = np.zeros((beats, many), np.int8)
    for beat in range(1, beats):
        straight = np.roll(score, 1)
        slipped = int(score.argmax())
        new = straight.copy()
        back[beat] = (np.arange(many) - 1) % many
        if score[slipped] - SLIP > new[0]:
            new[0] = score[slipped] - SLIP
            back[beat, 0] = slipped
        score = new + gain[beat]
    place = int(score.argmax())
    total = float(score[place])
    firsts = []
    for beat in range(beats - 1, -1, -1):
        if place == 0:
            firsts.append(beat)
        place = int(back[beat, place])
    return total, tuple(reversed(firsts))


def beat_profile(frames: NDArray[np.int64], flux: FrameRows) -> NDArray[np.float64]:
    """Return how much begins at each twelfth of a beat, on average; the beat itself comes first."""
    total = np.zeros(PARTS)
    for start, stop in itertools.pairwise(frames):
        at = start + (np.arange(PARTS * 2) / (PARTS * 2)) * (stop - start)
        values = np.interp(at, np.arange(start, stop + 1), flux[start : stop + 1])
        total += np.maximum(values[0::2], values[1::2])
    return np.asarray(total / max(float(total.max()), 1e-9))


def _thirds(profile: NDArray[np.float64]) -> tuple[float, float]:
    """Return the probability that a beat falls into three, and its swing if it falls into two.

    Three: what begins at both thirds is loud beside the half. Only the second third: a swung half, or three of which
    the middle one rests.
    """
    floor = float(np.sort(profile)[:4].mean())
    half, last = float(profile[6]) - floor, float(profile[9]) - floor
    third = max(float(profile[4]), float(profile[5])) - floor
    late = max(float(profile[7]), float(profile[8])) - floor
    third, late, half = (max(one, 0.0) for one in (third, late, half))
    beside_half = np.log((np.sqrt(third * late) + LEAST_HIT) / (half + LEAST_HIT))
    beside_late = np.log((third + LEAST_HIT / 2) / (late + LEAST_HIT / 2))
    is_three = _chance(BESIDE_HALF * (beside_half - LEAST_BESIDE_HALF)) * _chance(
        BESIDE_LATE * (beside_late - LEAST_BESIDE_LATE)
    )
    is_swung = late > 1.3 * half and late > last
    return float(np.clip(is_three, LEAST_THREE, 1 - LEAST_THREE)), 2 / 3 if is_swung else 0.5


def _chance(odds: float) -> float:
    return float(1 / (1 + np.exp(-odds)))
