"""Invented songs by a second arranger, to judge what was made with the first one.

Only the form of the truth is shared. Chords come from phrases (tonic, subdominant, dominant, half and full cadences)
instead of loops; no crash and no fill marks a section; most songs have no drums at all: piano ballads, strummed guitar,
waltzes, slow six-eight, a small group. A sung-like melody in steps belongs to each section and comes back with it. The
MIDI file is written by pretty_midi, and the tempo breathes as people's does.
"""

import random
from collections.abc import Callable
from pathlib import Path
from typing import Final

import numpy as np
import pretty_midi
from audio.invented_songs import KINDS, METERS, Call, InventedSong, Part
from audio.rendered_songs import sounded
from numpy.typing import NDArray

Notes = list[tuple[int, int, float, float, int]]  # voice, note, begin, end, velocity

STYLES: Final = ("ballad", "strummed", "group", "waltz", "slow six", "duo")
METER_OF: Final = {"waltz": "3/4", "slow six": "6/8"}
TEMPO_OF: Final = {
    "ballad": (62, 84),
    "strummed": (88, 132),
    "group": (92, 148),
    "waltz": (92, 148),
    "slow six": (48, 66),
    "duo": (76, 116),
}
HIGH, CHORDS, LOW, LONG = range(4)  # voices
PROGRAMS: Final[dict[str, tuple[tuple[int, ...], ...]]] = {  # General MIDI, counted from 0
    "ballad": ((52, 68, 40), (1, 2), (1,), (51, 44)),
    "strummed": ((73, 53, 71), (24, 25), (32, 35), (21, 19)),
    "group": ((56, 11, 52), (18, 26), (32, 39), (89, 61)),
    "waltz": ((21, 40, 73), (0, 24), (32, 42), (44, 21)),
    "slow six": ((52, 71, 68), (24, 1), (35, 32), (19, 51)),
    "duo": ((42, 40, 71), (2, 24), (2, 32), (52, 44)),
}
FORMS: Final = ("AABABCB", "AABA", "ABABCABB", "APBAPBCB", "AABAABA")
MAJOR: Final = {  # phrases of four bars by how they end: semitones above the tonic and a kind
    "open": (
        ((0, "maj"), (9, "min"), (2, "min7"), (7, "maj")),
        ((0, "maj"), (5, "maj"), (0, "maj"), (7, "7")),
        ((0, "maj"), (4, "min"), (5, "maj"), (7, "sus4")),
        ((9, "min"), (4, "min"), (5, "maj"), (7, "maj")),
    ),
    "home": (
        ((5, "maj"), (7, "7"), (0, "maj"), (0, "maj")),
        ((2, "min7"), (7, "7"), (0, "maj7"), (0, "maj")),
        ((0, "maj"), (5, "maj"), (7, "maj"), (0, "maj")),
        ((9, "min"), (2, "7"), (7, "7"), (0, "maj")),
    ),
    "away": (
        ((9, "min"), (4, "7"), (9, "min"), (2, "7")),
        ((5, "maj"), (0, "maj"), (2, "7"), (7, "7")),
        ((5, "maj"), (5, "min"), (0, "maj"), (7, "7")),
    ),
}
MINOR: Final = {
    "open": (
        ((0, "min"), (5, "min"), (8, "maj"), (7, "7")),
        ((0, "min"), (10, "maj"), (8, "maj"), (7, "maj")),
        ((0, "min"), (3, "maj"), (5, "min"), (7, "7")),
    ),
    "home": (
        ((5, "min7"), (7, "7"), (0, "min"), (0, "min")),
        ((8, "maj"), (7, "7"), (0, "min"), (0, "min")),
        ((0, "min"), (5, "min"), (7, "7"), (0, "min")),
    ),
    "away": (
        ((3, "maj"), (10, "maj"), (5, "min"), (7, "7")),
        ((8, "maj"), (3, "maj"), (10, "maj"), (7, "7")),
    ),
}
PHRASES: Final = {"A": ("open", "home"), "B": ("away", "home"), "C": ("away", "open"), "P": ("away",)}
TAG: Final = 0.25  # of the sections that have two bars more than their phrases


def arranged(seed: int, *, rough: bool, fonts: tuple[str, ...]) -> InventedSong:
    """Return the song of this seed; the same seed makes the same song."""
    dice = random.Random(f"arranged {seed} {rough}")  # noqa: S311 - songs, no secrets
    style = STYLES[(2 * seed + rough) % len(STYLES)]
    meter = METER_OF.get(style, "4/4")
    is_minor, tonic = dice.random() < 0.35, dice.randrange(12)
    form = dice.choice(FORMS)
    beats = METERS[meter][0]
    is_quick = style in ("strummed", "group", "waltz")
    written = {
        letter: _section(dice, letter, tonic, beats, is_minor=is_minor, is_long=is_quick and dice.random() < 0.5)
        for letter in sorted(set(form))
    }
    intro = written["A"][: dice.choice((2, 4, 4))]
    parts = (Part("I", intro), *(Part(letter, written[letter]) for letter in form))
    song = InventedSong(
        seed, meter, round(dice.uniform(*TEMPO_OF[style]), 1), tonic, is_minor, parts, dice.choice(fonts), rough
    )
    song.cents = dice.choice((0.0, dice.uniform(-30, 30)))
    song.silence_s = dice.choice((0.2, 1.1))
    song.programs = {voice: dice.choice(PROGRAMS[style][voice]) for voice in (HIGH, CHORDS, LOW, LONG)}
    return song


def _section(
    dice: random.Random, letter: str, tonic: int, beats: int, *, is_minor: bool, is_long: bool
) -> tuple[tuple[Call, ...], ...]:
    phrases = MINOR if is_minor else MAJOR
    times = 2 if letter == "A" and is_long else 1
    chords = [one for _ in range(times) for kind in PHRASES[letter] for one in dice.choice(phrases[kind])]
    if letter in "BC" and dice.random() < TAG:
        chords += chords[-2:]
    calls = []
    for number, (degree, kind) in enumerate(chords):
        bass = 4 if kind == "maj" and number % 4 in (1, 2) and dice.random() < 0.2 else 0
        calls.append((Call((tonic + degree) % 12, kind, beats, bass),))
    return tuple(calls)


class _Arrangement:
    """Writes notes and the truth of a song, bar by bar. Times are in seconds."""

    def __init__(self, song: InventedSong) -> None:
        self.song = song
        self.style = STYLES[(2 * song.seed + song.is_rough) % len(STYLES)]
        self.dice = random.Random(f"played {song.seed} {song.is_rough}")  # noqa: S311 - the same
        self.notes: Notes = []
        self.drums: Notes = []
        self.melodies: dict[str, list[tuple[float, float, int]]] = {}
        self.parts = METERS[song.meter][1]
        self.scale = (0, 2, 3, 5, 7, 8, 10) if song.is_minor else (0, 2, 4, 5, 7, 9, 11)

    def write(self) -> None:
        song, now, breath = self.song, self.song.silence_s, 0.0
        beats = METERS[song.meter][0]
        for part in song.parts:
            begin = now
            for number, bar in enumerate(part.bars):
                starts = [now]
                for _ in range(beats):
                    breath = 0.9 * breath + self.dice.gauss(0, 0.004)
                    starts.append(starts[-1] + 60 / (song.bpm * (1 + breath)))
                song.beats += starts[:-1]
                song.downbeats.append(now)
                song.chords.append((now, starts[-1], bar[0].label))
                self._bar(part.letter, number, bar[0], starts)
                now = starts[-1]
            self._melody(part, begin, now)
            song.sections.append((begin, now, part.letter, len(part.bars)))
        song.seconds = now + 3.0

    def _note(self, voice: int, note: int, begin: float, end: float, velocity: float) -> None:
        early = self.dice.gauss(0, 0.008)
        self.notes.append((voice, note, max(begin + early, 0), end, int(velocity + self.dice.gauss(0, 5))))

    def _bar(self, letter: str, number: int, call: Call, starts: list[float]) -> None:
        notes = sorted(53 + (call.root + one - 5) % 12 for one in KINDS[call.kind])
        bass = 33 + (call.root + call.bass - 9) % 12
        beats, length = len(starts) - 1, starts[1] - starts[0]

        def at(beat: float) -> float:
            return starts[int(beat)] + (beat - int(beat)) * length

        if letter == "B":
            for one in notes:
                self._note(LONG, one + 12, starts[0], starts[-1] - 0.05, 44)
        match self.style:
            case "ballad" | "slow six" | "duo":
                step = 1 / 3 if self.parts == 3 else 0.5
                ladder = [*notes, notes[0] + 12]
                self._note(LOW, bass, starts[0], starts[-1] - 0.05, 74)
                for place in range(round(beats / step)):
                    turn = (place + (letter == "B")) % (2 * len(ladder) - 2)
                    rung = turn if turn < len(ladder) else 2 * len(ladder) - 2 - turn
                    self._note(CHORDS, ladder[rung], at(place * step), at(place * step) + 1.4 * length, 62)
            case "strummed":
                for beat in (0, 1, 1.5, 2.5, 3, 3.5) if letter != "C" else (0, 2, 3):
                    spread = notes if beat in (0, 2) else notes[::-1]
                    for string, one in enumerate(spread):
                        self._note(CHORDS, one, at(beat) + 0.012 * string, at(beat) + 0.8 * length, 70 - 9 * (beat % 1))
                for beat in (0, 2):
                    self._note(LOW, bass + (7 if beat and not call.bass else 0), at(beat), at(beat) + 1.7 * length, 80)
            case "waltz":
                self._note(LOW, bass, starts[0], starts[1], 84)
                for beat in (1, 2):
                    for one in notes:
                        self._note(CHORDS, one, at(beat), at(beat) + 0.5 * length, 62)
            case _:
                for beat, above in enumerate((0, 4 if 4 in KINDS[call.kind] else 3, 7, 7)[:beats]):
                    self._note(LOW, bass + (above if not call.bass else 0), at(beat), at(beat) + 0.9 * length, 84)
                for beat in (0.5, 1.5, 2.5, 3.5) if letter in "AI" else (0, 1.5, 3):
                    for one in notes:
                        self._note(CHORDS, one, at(beat), at(beat) + 0.4 * length, 66)
                self._drums(at, number)

    def _drums(self, when: Callable[[float], float], number: int) -> None:
        for half in range(8):
            self.drums.append((0, 42, when(half / 2), when(half / 2) + 0.05, 52 if half % 2 else 64))
        for beat, drum in ((0, 36), (1, 37), (2.5 if number % 2 else 2, 36), (3, 37)):
            self.drums.append((0, drum, when(beat), when(beat) + 0.1, 84))

    def _melody(self, part: Part, begin: float, end: float) -> None:
        """Sing the section's melody: made once for each letter, in steps, with the chord's notes on first beats."""
        if part.letter == "I":
            return
        beats = METERS[self.song.meter][0]
        if part.letter not in self.melodies:
            line, note = [], 67 + self.dice.randrange(8)
            for number, bar in enumerate(part.bars):
                place = 0.0 if self.dice.random() < 0.8 else 0.5
                while place < beats - 0.2:
                    long = self.dice.choice((0.5, 1.0, 1.0, 2.0) if self.parts == 2 else (1 / 3, 2 / 3, 1.0))
                    chordal = {(bar[0].root + one) % 12 for one in KINDS[bar[0].kind]}
                    allowed = chordal if place == int(place) else {(self.song.tonic + one) % 12 for one in self.scale}
                    near = [one for one in range(note - 4, note + 5) if one % 12 in allowed and 60 <= one <= 81]
                    note = self.dice.choice(near or [note])
                    line.append((number * beats + place, long, note))
                    place += long
                    if number % 4 == 3 and place > beats / 2:
                        break
            self.melodies[part.letter] = line
        total = len(part.bars) * beats
        for place, long, note in self.melodies[part.letter]:
            start = begin + (end - begin) * place / total
            self._note(HIGH, note, start, start + 0.95 * long * (end - begin) / total, 84)


def render_arranged(song: InventedSong, folder: Path) -> tuple[NDArray[np.float32], int]:
    """Return the song as mono samples and their rate; fill in its truth. Raises CalledProcessError."""
    arrangement = _Arrangement(song)
    arrangement.write()
    file = pretty_midi.PrettyMIDI(resolution=960)
    voices = {voice: pretty_midi.Instrument(program) for voice, program in song.programs.items()}
    for instrument in voices.values():
        instrument.pitch_bends.append(pretty_midi.PitchBend(round(song.cents / 200 * 8192), 0.0))
    drums = pretty_midi.Instrument(0, is_drum=True)
    for played, notes in ((voices, arrangement.notes), ({0: drums}, arrangement.drums)):
        for voice, note, begin, end, velocity in notes:
            loud = min(max(velocity, 1), 127)
            played[voice].notes.append(pretty_midi.Note(loud, note, begin, max(end, begin + 0.03)))
    file.instruments = [*voices.values(), drums]
    midi = folder / f"arranged-{song.seed}.mid"
    file.write(str(midi))
    return sounded(song, midi)
