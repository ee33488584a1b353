"""What speaks for each key: how its notes and chords fill the music, where phrases begin and sections end. Pure.

The evidence is weighed by a multinomial logistic regression over the 24 keys. It was fitted on chords alone, never on
sound: those of two sets of invented songs, and of twenty published analyses (the chorales in music21's corpus).
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.audio.form import HeardSection
from companion.audio.heard_chords import FIFTH, THIRD, HeardChord
from companion.music import Key, Mode
from companion.music.key_finding import fits_key

MODES: Final = (Mode.MAJOR, Mode.MINOR)
# How often each note is heard in the examples of Kostka and Payne's textbook of harmony, by bars: D. Temperley,
# "The Cognition of Basic Musical Structures" (MIT Press, 2001). A test compares them with music21's copy.
HEARD_NOTES: Final = {
    Mode.MAJOR: (0.748, 0.06, 0.488, 0.082, 0.67, 0.46, 0.096, 0.715, 0.104, 0.366, 0.057, 0.4),
    Mode.MINOR: (0.712, 0.084, 0.474, 0.618, 0.049, 0.46, 0.105, 0.747, 0.404, 0.067, 0.133, 0.33),
}
EVIDENCE: Final = (
    "notes, as listeners rate them",
    "notes, as textbooks use them",
    "its own chord",
    "sections end on it",
    "phrases begin with it",
    "dominant sevenths",
    "chords of its scale",
)
WEIGHTS: Final = (8.44, 9.02, 4.12, 1.39, 4.55, 1.27, 7.56)  # of EVIDENCE
PHRASE_BARS: Final = 4
NOTE_WEIGHTS: Final = (1.0, 0.8, 0.8, 0.4)  # of a chord's root, third, fifth and seventh
LEADING: Final = 11  # semitones above the tonic of a minor key: its dominant has it
OWN: Final = {"maj": 0, "min": 1}  # of MODES, by the chord that is at home there

Passage = list[HeardChord]


def passages(
    chords: Sequence[HeardChord], sections: Sequence[HeardSection], firsts: Sequence[int], beats: int
) -> list[Passage]:
    """Return the chords of each section, from its first beat on, as they are before a lift moves them.

    ``firsts``: the beats that begin bars; ``beats`` in one.
    """
    found = []
    for one in sections:
        start, stop = firsts[one.start], firsts[one.start + one.bars - 1] + beats
        inside = [chord for chord in chords if chord.root is not None and chord.start < stop and chord.stop > start]
        found.append([_within(chord, start, stop, one.shift) for chord in inside])
    return [one for one in found if one]


def _within(chord: HeardChord, start: int, stop: int, shift: int) -> HeardChord:
    root = (int(chord.root or 0) - shift) % 12
    begin, end = max(chord.start, start) - start, min(chord.stop, stop) - start
    return HeardChord(begin, end, root, chord.triad, chord.seventh, chord.bass, chord.sure)


def key_evidence(music: Sequence[Passage], beats: int) -> NDArray[np.float64]:
    """Return what speaks for each key, (2, 12, EVIDENCE): major then minor, from C up. ``beats`` in a bar.

    Every passage has a chord, and its first beat is 0.
    """
    every = [chord for one in music for chord in one]
    total = float(sum(chord.stop - chord.start for chord in every))
    rows = np.zeros((2, 12, len(EVIDENCE)))
    sounding = np.zeros(12)
    for chord in every:
        root, share = int(chord.root or 0), (chord.stop - chord.start) / total
        above = (0, THIRD[chord.triad], FIFTH[chord.triad], chord.seventh)
        for note, weight in zip(above, NOTE_WEIGHTS, strict=True):
            sounding[(root + note) % 12] += weight * share * (note > 0 or weight == 1.0)
        if chord.triad in OWN:
            rows[OWN[chord.triad], root, 2] += share
        if (chord.triad, chord.seventh) == ("maj", 10):
            rows[:, (root - 7) % 12, 5] += share
        rows[:, :, 6] += share * _in_scale(root, chord.triad)
    for mode, tonic in np.ndindex(2, 12):
        key = _key(tonic, MODES[mode])
        rows[mode, tonic, 0] = fits_key(sounding.tolist(), key)
        rows[mode, tonic, 1] = fits_key(sounding.tolist(), key, HEARD_NOTES)
    _count(rows[:, :, 3], [one[-1] for one in music])
    _count(rows[:, :, 4], [chord for one in music for chord in _phrase_beginnings(one, PHRASE_BARS * beats)])
    return rows


def _in_scale(root: int, triad: str) -> NDArray[np.float64]:
    """Return for each key 1 if the chord has only notes of it; a minor key's dominant may have its leading note."""
    found = np.zeros((2, 12))
    for mode, scale in enumerate(({0, 2, 4, 5, 7, 9, 11}, {0, 2, 3, 5, 7, 8, 10})):
        for tonic in range(12):
            above = (root - tonic) % 12
            notes = {above, (above + THIRD[triad]) % 12, (above + FIFTH[triad]) % 12}
            found[mode, tonic] = notes <= (scale | {LEADING} if mode and above == 7 else scale)
    return found


def _count(shares: NDArray[np.float64], chords: Sequence[HeardChord]) -> None:
    """Put into ``shares``, (2, 12), how often each key's own chord is among these."""
    for chord in chords:
        if chord.triad in OWN:
            shares[OWN[chord.triad], int(chord.root or 0)] += 1 / len(chords)


def _phrase_beginnings(passage: Passage, long: int) -> list[HeardChord]:
    places = range(passage[0].start, passage[-1].stop, long)
    return [chord for place in places for chord in passage if chord.start <= place < chord.stop]


def _key(tonic: int, mode: Mode) -> Key:
    home = Key.signed(0, mode)
    return home.transposed(tonic - home.tonic.semitone)
