"""How much is heard right, as a table of figures.

``python tests/bench/hear.py invented FIRST LAST`` and ``... arranged FIRST LAST``: songs of the two generators. Each
seed makes two songs, one record-like and one rough; each takes about 20 s of processor. Seeds below 166 and from
300 of the first, below 28 and from 300 of the second have been heard; judge with others.
``python tests/bench/hear.py scores``: key and meter of published scores.

Scored with mir_eval (Raffel et al., ISMIR 2014).
"""

import itertools
import sys
import tempfile
import time
import warnings
from pathlib import Path
from typing import Final

import mir_eval
import numpy as np
import soxr

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from audio.arranged_songs import arranged, render_arranged
from audio.invented_songs import NAMES, InventedSong, invented
from audio.published_scores import PROGRAMS, published_scores, render_score
from audio.rendered_songs import found_fonts, render
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.heard_chords import HeardChord
from companion.audio.hearing import Hearing, hearing_of, raw_hearing

KINDS: Final = {
    "maj": {0: "maj", 11: "maj7", 10: "7"},
    "min": {0: "min", 10: "min7", 11: "minmaj7"},
    "sus4": {0: "sus4", 10: "sus4(b7)"},
    "sus2": {0: "sus2"},
    "dim": {0: "dim", 9: "dim7", 10: "hdim7"},
    "aug": {0: "aug"},
}
DEGREES: Final = ("", "/b2", "/2", "/b3", "/3", "/4", "/b5", "/5", "/#5", "/6", "/b7", "/7")
NEAR_S: Final = 0.6
SURE: Final = 0.9
BAR_RIGHT: Final = 0.75


def label(chord: HeardChord) -> str:
    if chord.root is None:
        return "N"
    return f"{NAMES[chord.root]}:{KINDS[chord.triad][chord.seventh]}{DEGREES[chord.bass]}"


def chord_scores(song: InventedSong, heard: Hearing) -> dict[str, float]:
    beats = heard.grid.beats
    edges = np.append(beats, beats[-1] + np.median(np.diff(beats)))
    spans = [
        (edges[one.start], edges[one.stop], label(one)) for one in heard.chords if edges[one.stop] > edges[one.start]
    ]
    wanted = np.asarray([(begin, end) for begin, end, _ in song.chords])
    intervals, labels = mir_eval.util.adjust_intervals(
        np.asarray([span[:2] for span in spans]), [span[2] for span in spans], wanted.min(), wanted.max(), "N", "N"
    )
    kept = intervals[:, 1] > intervals[:, 0]
    pieces, said, found = mir_eval.util.merge_labeled_intervals(
        wanted,
        [one[2] for one in song.chords],
        intervals[kept],
        [one for one, is_kept in zip(labels, kept, strict=True) if is_kept],
    )
    long = mir_eval.util.intervals_to_durations(pieces)
    accuracy = mir_eval.chord.weighted_accuracy
    figures = {
        name: float(accuracy(getattr(mir_eval.chord, rule)(said, found), long))
        for name, rule in (("majmin", "majmin"), ("sevenths", "sevenths"), ("inversions", "majmin_inv"))
    }
    return {**figures, "bars right": bars_right(song, pieces, mir_eval.chord.majmin(said, found))}


def bars_right(song: InventedSong, pieces: NDArray[np.float64], rights: NDArray[np.float64]) -> float:
    """Return the share of the bars whose chords are right for three quarters of their time or more.

    ``rights``: 1 or 0 for each of ``pieces``, and -1 where the true chord is neither major nor minor.
    """
    counted = []
    for begin, end in itertools.pairwise([*song.downbeats, song.chords[-1][1]]):
        inside = np.clip(np.minimum(pieces[:, 1], end) - np.maximum(pieces[:, 0], begin), 0, None)
        known = inside[rights >= 0].sum()
        if known > 0:
            counted.append(float(inside[rights == 1].sum()) >= BAR_RIGHT * known)
    return float(np.mean(counted))


def form_scores(song: InventedSong, heard: Hearing) -> dict[str, float]:
    found = [(heard.bar_s[one.start], heard.bar_s[one.start + one.bars], one.letter) for one in heard.sections]
    pairs = [
        mir_eval.util.adjust_intervals(
            np.asarray([span[:2] for span in spans]), [span[2] for span in spans], t_min=0, t_max=song.seconds
        )
        for spans in ([one[:3] for one in song.sections], found)
    ]
    (wanted, letters), (got, given) = pairs
    starts = np.asarray([one[0] for one in found])
    lengths = [one.bars for one in heard.sections]
    exact = [
        any(abs(at - begin) < NEAR_S and bars == long for at, long in zip(starts, lengths, strict=True))
        for begin, _, _, bars in song.sections
    ]
    return {
        "bounds .5": mir_eval.segment.detection(wanted, got, window=0.5, trim=True)[2],
        "bounds 3": mir_eval.segment.detection(wanted, got, window=3, trim=True)[2],
        "pairwise": mir_eval.segment.pairwise(wanted, letters, got, given)[2],
        "starts": float(np.mean([np.abs(starts - begin).min() < NEAR_S for begin, *_ in song.sections])),
        "road map": float(np.mean(exact)),
    }


def key_name(heard: Hearing) -> str:
    key = heard.key.key
    return f"{NAMES[key.tonic.semitone]} {key.mode.value}" if key else "C major"


def scores(song: InventedSong, heard: Hearing) -> dict[str, float]:
    ratio = heard.tempo_bpm / song.bpm
    return {
        "tuning": float(abs((heard.cents - song.cents + 50) % 100 - 50) < 5),
        "key": mir_eval.key.weighted_score(song.key, key_name(heard)),
        "tempo 1": float(abs(ratio - 1) < 0.04),
        "tempo 2": float(any(abs(ratio / other - 1) < 0.04 for other in (1, 2, 0.5, 3, 1 / 3))),
        "beats": mir_eval.beat.f_measure(np.asarray(song.beats), heard.grid.beats),
        "downbeats": mir_eval.beat.f_measure(np.asarray(song.downbeats), np.asarray(heard.bar_s[:-1])),
        "meter": float(heard.grid.meter == song.meter),
        **chord_scores(song, heard),
        **form_scores(song, heard),
    }


class Table:
    """Rows of figures, and how often what is said to be sure is right."""

    def __init__(self) -> None:
        self.rows: list[dict[str, float]] = []
        self.sure: dict[str, list[float]] = {"key": [], "tempo": [], "meter": [], "chords": [], "section starts": []}

    def add(self, name: str, row: dict[str, float], heard: Hearing) -> None:
        self.rows.append(row)
        for what, chance, right in (
            ("key", heard.key.sure, row["key"] == 1),
            ("tempo", heard.tempo_sure, row.get("tempo 1")),
            ("meter", heard.grid.sure, row["meter"]),
        ):
            if chance >= SURE and right is not None:
                self.sure[what].append(float(right))
        said = " ".join(f"{what} {value:.2f}" for what, value in row.items())
        sys.stdout.write(f"{name}: {said}\n")
        sys.stdout.flush()

    def add_pieces(self, song: InventedSong, heard: Hearing) -> None:
        """Count the chords and the section starts that are said to be sure."""
        times = np.asarray([begin for begin, *_ in song.chords])
        beats = heard.grid.beats
        for one in heard.chords:
            if one.sure >= SURE and one.root is not None and one.stop < len(beats):
                middle = (beats[one.start] + beats[one.stop]) / 2
                true = song.chords[max(0, int(np.searchsorted(times, middle)) - 1)][2]
                right = mir_eval.chord.majmin([true], [label(one)])[0]
                if right >= 0:
                    self.sure["chords"].append(float(right))
        begins = np.asarray([begin for begin, *_ in song.sections])
        for section in heard.sections[1:]:
            if section.sure >= SURE:
                self.sure["section starts"].append(float(np.abs(begins - heard.bar_s[section.start]).min() < NEAR_S))

    def write(self) -> None:
        for name in self.rows[0]:
            values = [row[name] for row in self.rows]
            sys.stdout.write(f"{name:11} {np.mean(values):.3f}  deviation {np.std(values):.3f}\n")
        for name, rights in self.sure.items():
            if rights:
                sys.stdout.write(f"sure of {name}: {len(rights)}, right {np.mean(rights):.3f}\n")


def heard_in(samples: NDArray[np.float32], rate: int) -> Hearing:
    return hearing_of(raw_hearing(soxr.resample(samples, rate, RATE, "HQ").astype(np.float32)))


def hear_songs(kind: str, first: int, last: int, folder: Path) -> None:
    table, spent, music = Table(), 0.0, 0.0
    make, sound = (invented, render) if kind == "invented" else (arranged, render_arranged)
    for seed in range(first, last):
        for rough in (False, True):
            song = make(seed, rough=rough, fonts=tuple(found_fonts()))
            samples, rate = sound(song, folder)
            begun = time.process_time()
            heard = heard_in(samples, rate)
            spent, music = spent + time.process_time() - begun, music + song.seconds
            name = f"{seed}{'r' if rough else ' '} {song.meter} {song.bpm} {song.key}"
            table.add(name, scores(song, heard), heard)
            table.add_pieces(song, heard)
    table.write()
    sys.stdout.write(f"four minutes of music: {240 * spent / music:.1f} s of processor\n")


def hear_scores(folder: Path) -> None:
    table = Table()
    fonts = tuple(found_fonts())
    for number, score in enumerate(published_scores()):
        samples, rate = render_score(score, PROGRAMS[number % len(PROGRAMS)], fonts[number % len(fonts)], folder)
        heard = heard_in(samples, rate)
        row = {
            "key": mir_eval.key.weighted_score(score.key, key_name(heard)),
            "meter": float(heard.grid.meter == score.meter),
        }
        said = f"{key_name(heard)} {heard.key.sure:.2f}, {heard.grid.meter} {heard.grid.sure:.2f}"
        table.add(f"{score.name} {score.key} {score.meter} (heard: {said})", row, heard)
    table.write()


def main() -> None:
    warnings.simplefilter("ignore")
    with tempfile.TemporaryDirectory() as folder:
        if sys.argv[1] == "scores":
            hear_scores(Path(folder))
        else:
            hear_songs(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), Path(folder))


if __name__ == "__main__":
    main()
