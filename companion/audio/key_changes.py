"""Key changes inside a song: the key of each section, from its chords and from how far it is moved. Pure."""

import itertools
from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.form import HeardSection
from companion.audio.heard_chords import FIFTH, THIRD, HeardChord
from companion.music import Key

# All costs are logarithms, as the price of one bar (common practice, no source).
OUTSIDE, OTHER_CHORD, HOME = 1.0, 0.5, -0.25  # a root outside the scale, a chord with a note outside it, the key's own
CHANGE: Final = 5.0  # one key to another
AWAY_AT_FIRST: Final = 2.0  # a song that begins in another key than most of it
AS_MOVED: Final = -6.0  # a section in the key to which its letter is moved
LEADING: Final = 11  # semitones above the tonic of a minor key: its dominant has it


class SectionKey(msgspec.Struct, frozen=True):
    """A section's key and its probability; None if no key was heard."""

    key: Key | None
    sure: float


def section_keys(
    key: Key | None, chords: Sequence[HeardChord], sections: Sequence[HeardSection], firsts: Sequence[int], beats: int
) -> list[SectionKey]:
    """Return the key of each section; none if no key was heard.

    ``key`` is that of the song, whose mode all sections share. ``firsts``: the beats that begin bars; ``beats`` in one.
    """
    if key is None or not sections:
        return []
    costs = np.stack([_costs(key, _inside(chords, one, firsts, beats), beats) for one in sections])
    ups = _chances(costs).argmax(axis=1)
    chances = _chances(costs + _as_moved(sections, ups))
    found = chances.argmax(axis=1)
    return [
        SectionKey(key.transposed(int(up)) if up else key, float(one[up]))
        for up, one in zip(found, chances, strict=True)
    ]


def _own_triad(key: Key) -> str:
    return "maj" if 4 in {(pitch.semitone - key.tonic.semitone) % 12 for pitch in key.scale} else "min"


def _inside(
    chords: Sequence[HeardChord], section: HeardSection, firsts: Sequence[int], beats: int
) -> list[tuple[HeardChord, int]]:
    """Return the chords of a section, each with the beats that it sounds there."""
    start, stop = firsts[section.start], firsts[section.start + section.bars - 1] + beats
    found = [(one, min(one.stop, stop) - max(one.start, start)) for one in chords if one.root is not None]
    return [(one, many) for one, many in found if many > 0]


def _costs(key: Key, inside: Sequence[tuple[HeardChord, int]], beats: int) -> NDArray[np.float64]:
    """Return what a section's chords cost in the song's key and in those that are 1 to 11 semitones higher."""
    scale = {pitch.semitone for pitch in key.scale}
    home, triad = key.tonic.semitone, _own_triad(key)
    costs = np.zeros(12)
    for up, (one, many) in itertools.product(range(12), inside):
        root = (int(one.root or 0) - up) % 12
        notes = {root, (root + THIRD[one.triad]) % 12, (root + FIFTH[one.triad]) % 12}
        allowed = scale | ({(home + LEADING) % 12} if triad == "min" and root == (home + 7) % 12 else set())
        if root not in scale:
            price = OUTSIDE
        elif not notes <= allowed:
            price = OTHER_CHORD
        else:
            price = HOME if (root, one.triad) == (home, triad) else 0.0
        costs[up] += one.sure * price * many / beats
    return costs


def _as_moved(sections: Sequence[HeardSection], ups: NDArray[np.intp]) -> NDArray[np.float64]:
    """Return what a section gains in each key: it gains in the one that is as far above its letter's first as heard.

    Where a letter is moved at all, its first section gains too: it is the one that stays.
    """
    gains = np.zeros((len(sections), 12))
    first: dict[str, int] = {}
    for at, one in enumerate(sections):
        begun = first.setdefault(one.letter, at)
        if begun != at:
            gains[at, (int(ups[begun]) + one.shift) % 12] = AS_MOVED
            if one.shift:
                gains[begun, int(ups[begun])] = AS_MOVED
    return gains


def _chances(costs: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return for each section the probability of each key, by forward and backward sums over all ways."""
    change = np.where(np.eye(12, dtype=bool), 0.0, -CHANGE)
    ahead, behind = np.zeros_like(costs), np.zeros_like(costs)
    ahead[0] = -costs[0] - np.where(np.arange(12) == 0, 0.0, AWAY_AT_FIRST)
    for at in range(1, len(costs)):
        ahead[at] = np.logaddexp.reduce(ahead[at - 1][:, None] + change, axis=0) - costs[at]
    for at in range(len(costs) - 2, -1, -1):
        behind[at] = np.logaddexp.reduce(change + (behind[at + 1] - costs[at + 1])[None], axis=1)
    both = ahead + behind
    return np.asarray(np.exp(both - np.logaddexp.reduce(both, axis=1, keepdims=True)))
