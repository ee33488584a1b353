"""The key of a recording, from its chords: their notes, and where the music begins and comes home."""

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np

from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord
from companion.audio.key_evidence import MODES, WEIGHTS, key_evidence, passages
from companion.music import Key

USUAL_BEATS: Final = 4


class HeardKey(msgspec.Struct, frozen=True):
    """A key, how sure it is, and the key that comes second; None if no chord was heard."""

    key: Key | None
    sure: float = 0.0
    second: Key | None = None
    second_sure: float = 0.0


def heard_key(
    chords: Sequence[HeardChord],
    sections: Sequence[HeardSection] = (),
    firsts: Sequence[int] = (),
    beats: int = USUAL_BEATS,
) -> HeardKey:
    """Return the key that the chords speak for; that before a lift, where ``sections`` say that one is moved.

    ``firsts``: the beats that begin bars; ``beats`` in one.
    """
    music = passages(chords, sections, firsts, beats) if sections else []
    if not music:
        music = [[one for one in chords if one.root is not None]]
    if not music[0]:
        return HeardKey(None)
    scores = (key_evidence(music, beats) @ np.asarray(WEIGHTS)).reshape(-1)
    chances = np.exp(scores - scores.max())
    chances /= chances.sum()
    first, second = (int(one) for one in np.argsort(-chances, kind="stable")[:2])
    return HeardKey(_key(first), float(chances[first]), _key(second), float(chances[second]))


def _key(number: int) -> Key:
    home = Key.signed(0, MODES[number // 12])
    return home.transposed(number % 12 - home.tonic.semitone)
