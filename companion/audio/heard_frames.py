"""What is heard frame by frame, before anything is decided."""

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.constant_q import HOP, RATE
from companion.audio.networks.chord_net import ChordFrames

CHORD_FRAMES_A_SECOND: Final = RATE / HOP


class RawHearing(msgspec.Struct, frozen=True):
    """What costs processor time, kept so that a better decision costs seconds. Arrays have frames as rows."""

    seconds: float
    cents: float
    in_tune: float
    likely: NDArray[np.float32]
    levels: NDArray[np.float32]
    onsets: NDArray[np.float32]
    chords: ChordFrames

    @property
    def flux(self) -> NDArray[np.float32]:
        """How much begins in each frame, in all bands."""
        return np.asarray(self.onsets.sum(axis=1), np.float32)
