"""Published scores as recordings: their meter is printed, and so is their key. Nothing of them is ours.

The scores are those that the library music21 carries. A score's key is its signature's major or relative minor key,
whichever has its tonic in the bass at the end; scores that end elsewhere, or change their meter or their signature, are
passed over. music21 writes the MIDI file, and FluidSynth plays its first minute and a quarter.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from audio.invented_songs import RATE
from audio.rendered_songs import synthesized
from music21 import converter, corpus, instrument, stream
from music21.key import KeySignature
from music21.meter import TimeSignature
from numpy.typing import NDArray

SECONDS: Final = 75
NAMES: Final = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"]
EVERY: Final = 30  # of the chorales, in the order of their numbers
PROGRAMS: Final = (0, 48, 19, 4, 24)  # piano, strings, organ, electric piano, nylon guitar: one score after the other
OTHERS: Final = (
    "corelli/opus3no1/1grave.xml",
    "haydn/opus1no1/movement1.mxl",
    "haydn/opus1no1/movement2.mxl",
    "haydn/opus74no1/movement1.mxl",
    "haydn/opus74no1/movement3.mxl",
    "mozart/k80/movement3.mxl",
    "mozart/k155/movement1.mxl",
    "mozart/k156/movement1.mxl",
    "mozart/k458/movement2.mxl",
    "schumann_clara/polonaise_op1n1.mxl",
    "schumann_clara/polonaise_op1n3.mxl",
    "joplin/maple_leaf_rag.mxl",
    "handel/rinaldo/Lascia_chio_pianga.mxl",
    "liliuokalani/aloha_oe.mxl",
)


@dataclass(frozen=True)
class PublishedScore:
    """A score: its name in the library, its key in mir_eval's syntax, its time signature, and its music."""

    name: str
    key: str
    meter: str
    music: "stream.Score"


def published_scores() -> Iterator[PublishedScore]:
    """Yield the scores that state one key and one meter."""
    folder = Path(str(corpus.getWork("bach/bwv66.6"))).parents[1]
    chorales = sorted((folder / "bach").glob("bwv*.*"))[::EVERY]
    for path in (*chorales, *(folder / name for name in OTHERS)):
        music = converter.parse(path)
        if isinstance(music, stream.Score) and (stated := _stated(music)):
            yield PublishedScore(f"{path.parent.name}/{path.name}", *stated, music)


def _stated(music: "stream.Score") -> tuple[str, str] | None:
    """Return the key and the meter of a score; None if it does not state one of each."""
    signatures = {one.sharps for one in music.recurse().getElementsByClass(KeySignature)}
    meters = {one.ratioString for one in music.recurse().getElementsByClass(TimeSignature)}
    lowest = [min(one.pitches).pitchClass for one in music.parts[-1].recurse().notes if one.pitches]
    if len(signatures) != 1 or len(meters) != 1 or not lowest:
        return None
    major = next(iter(signatures)) * 7 % 12
    for tonic, mode in ((major, "major"), ((major - 3) % 12, "minor")):
        if lowest[-1] == tonic:
            return f"{NAMES[tonic]} {mode}", next(iter(meters))
    return None


def render_score(score: PublishedScore, program: int, font: str, folder: Path) -> tuple[NDArray[np.float32], int]:
    """Return the score's beginning as mono samples, all of it played by one instrument, and their rate."""
    for part in score.music.parts:
        for one in list(part.recurse().getElementsByClass(instrument.Instrument)):
            one.activeSite.remove(one)
        played = instrument.Instrument()
        played.midiProgram = program
        part.insert(0, played)
    midi = folder / "score.mid"
    score.music.write("midi", str(midi))
    samples = synthesized(midi, font, (0.4, 0.6))[: SECONDS * RATE]
    midi.unlink()
    return samples / (1.1 * float(np.abs(samples).max())), RATE
