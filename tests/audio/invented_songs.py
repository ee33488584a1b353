"""Invented songs with everything that is true of them: rendered by FluidSynth, record-like or rough.

A seed makes a song: form, chords, meter, tempo, sounds, and what a recording does to them. Nothing here imitates an
existing piece. ``render`` needs FluidSynth and a General MIDI sound font.
"""

import random
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import mido
import numpy as np
from numpy.typing import NDArray

RATE: Final = 44_100
TICKS: Final = 480  # a quarter note
DRUMS, BASS, KEYS, GUITAR, PAD, LEAD = 9, 1, 0, 2, 3, 4
NAMES: Final = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"]
KINDS: Final = {  # name in mir_eval's syntax -> semitones above the root
    "maj": (0, 4, 7),
    "min": (0, 3, 7),
    "7": (0, 4, 7, 10),
    "maj7": (0, 4, 7, 11),
    "min7": (0, 3, 7, 10),
    "sus4": (0, 5, 7),
}
MAJOR_PROGRESSIONS: Final = (  # degrees in semitones, kind
    ((0, "maj"), (7, "maj"), (9, "min"), (5, "maj")),
    ((0, "maj"), (9, "min"), (5, "maj"), (7, "maj")),
    ((9, "min"), (5, "maj"), (0, "maj"), (7, "maj")),
    ((5, "maj"), (7, "maj"), (4, "min"), (9, "min")),
    ((0, "maj7"), (9, "min7"), (2, "min7"), (7, "7")),
    ((0, "maj"), (4, "min"), (5, "maj"), (7, "7")),
    ((2, "min7"), (7, "7"), (0, "maj7"), (0, "maj7")),
    ((0, "maj"), (10, "maj"), (5, "maj"), (0, "maj")),
    ((5, "maj"), (5, "min"), (0, "maj"), (7, "sus4")),
)
MINOR_PROGRESSIONS: Final = (
    ((0, "min"), (8, "maj"), (3, "maj"), (10, "maj")),
    ((0, "min"), (10, "maj"), (8, "maj"), (7, "7")),
    ((0, "min7"), (5, "min7"), (10, "7"), (3, "maj7")),
    ((0, "min"), (5, "min"), (8, "maj"), (7, "maj")),
    ((8, "maj"), (10, "maj"), (0, "min"), (0, "min")),
)
BLUES: Final = tuple((degree, "7") for degree in (0, 0, 0, 0, 5, 5, 0, 0, 7, 5, 0, 7))
METERS: Final = {"4/4": (4, 2), "3/4": (3, 2), "6/8": (2, 3), "12/8": (4, 3)}  # felt beats, parts of a beat
ENDS_IN: Final = (-2, 0, 2)


@dataclass(frozen=True)
class Call:
    """A chord for some felt beats. ``bass`` in semitones above the root."""

    root: int
    kind: str
    beats: int
    bass: int = 0

    @property
    def label(self) -> str:
        """The chord in mir_eval's syntax: A:min/b3."""
        name = f"{NAMES[self.root % 12]}:{self.kind}"
        degree = {0: "", 3: "/b3", 4: "/3", 7: "/5", 10: "/b7", 11: "/7"}[self.bass]
        return name + degree


@dataclass(frozen=True)
class Part:
    """A section as written: its letter and, bar by bar, its chords."""

    letter: str
    bars: tuple[tuple[Call, ...], ...]
    full: float = 1.0  # how much of the band plays, 0 to 1
    no_drums: bool = False
    shift: int = 0


@dataclass
class InventedSong:
    """A song and its truth. Times are in seconds of the rendered sound."""

    seed: int
    meter: str
    bpm: float  # of the felt beat
    tonic: int
    is_minor: bool
    parts: tuple[Part, ...]
    fonts: str
    is_rough: bool
    cents: float = 0.0
    swing: float = 0.5
    count_off: int = 0  # bars
    silence_s: float = 0.0
    drift: float = 0.0  # tempo at the end as a share of the first, less one
    programs: dict[int, int] = field(default_factory=dict)
    anticipates: bool = False
    fade_s: float = 0.0
    seconds: float = 0.0
    beats: list[float] = field(default_factory=list)
    downbeats: list[float] = field(default_factory=list)
    chords: list[tuple[float, float, str]] = field(default_factory=list)
    sections: list[tuple[float, float, str, int]] = field(default_factory=list)  # start, end, letter, bars

    @property
    def key(self) -> str:
        """The key at the beginning, in mir_eval's syntax: A minor."""
        return f"{NAMES[self.tonic]} {'minor' if self.is_minor else 'major'}"

    @property
    def felt_beats(self) -> int:
        """Felt beats in a bar."""
        return METERS[self.meter][0]


def invented(seed: int, *, rough: bool, fonts: tuple[str, ...]) -> InventedSong:
    """Return the song of this seed; the same seed makes the same song."""
    dice = random.Random(seed * 2 + rough)  # noqa: S311 - songs, no secrets
    meter = dice.choices(tuple(METERS), (62, 14, 14, 10))[0]
    bpm = dice.uniform(*{"4/4": (70, 168), "3/4": (84, 176), "6/8": (46, 84), "12/8": (52, 78)}[meter])
    tonic, is_minor = dice.randrange(12), dice.random() < 0.4
    song = InventedSong(
        seed, meter, round(bpm, 1), tonic, is_minor, _form(dice, tonic, meter, is_minor=is_minor), "", rough
    )
    song.fonts = dice.choice(fonts)
    song.cents = dice.choice((0.0, 0.0, dice.uniform(-45, 45)))
    if meter == "4/4" and dice.random() < 0.25 and song.bpm < 150:
        song.swing = dice.choice((0.62, 0.667))
    song.count_off = int(dice.random() < 0.3)
    song.silence_s = dice.choice((0.0, 0.4, 1.7))
    song.drift = dice.choice((0.0, 0.0, 0.0, dice.uniform(-0.03, 0.03)))
    song.anticipates = meter == "4/4" and dice.random() < 0.3
    song.fade_s = dice.choice((0.0, 0.0, 8.0))
    song.programs = {
        KEYS: dice.choice((0, 4, 16, 5)),
        BASS: dice.choice((33, 34, 38)),
        GUITAR: dice.choice((25, 27, 29, 30)),
        PAD: dice.choice((48, 49, 50, 90)),
        LEAD: dice.choice((53, 65, 54, 81, 66)),
    }
    return song


def _form(dice: random.Random, tonic: int, meter: str, *, is_minor: bool) -> tuple[Part, ...]:
    makes = MINOR_PROGRESSIONS if is_minor else MAJOR_PROGRESSIONS
    beats = METERS[meter][0]
    if not is_minor and meter in ("4/4", "12/8") and dice.random() < 0.15:
        chorus = _bars(dice, tonic, BLUES, 12, beats, plain=True)
        return tuple(Part("A", chorus, full=full) for full in (0.8, 1.0, 1.0, 0.9, 1.0, 1.0)[: dice.randint(4, 6)])
    progressions = dice.sample(makes, 3)
    long = {"A": dice.choice((8, 16, 16, 12)), "B": dice.choice((8, 8, 16, 9)), "C": dice.choice((8, 4, 8, 10, 6))}
    written = {
        letter: _bars(dice, tonic, progression, long[letter], beats)
        for letter, progression in zip("ABC", progressions, strict=True)
    }
    intro_from = dice.choice("AB")
    parts = [Part("I", written[intro_from][: dice.choice((4, 4, 8, 2))], full=0.55, no_drums=dice.random() < 0.3)]
    parts += [Part(letter, written[letter], full={"A": 0.75, "B": 1.0, "C": 0.6}[letter]) for letter in "ABAB"]
    parts.append(Part("C", written["C"], full=0.6))
    shift = dice.choice((0, 0, 0, 1, 2))
    parts += [Part("B", written["B"], shift=shift) for _ in range(dice.choice((1, 2)))]
    if dice.random() < 0.4:
        parts.append(Part("I", parts[0].bars, full=0.7, shift=shift))
    return tuple(parts)


def _bars(
    dice: random.Random,
    tonic: int,
    progression: tuple[tuple[int, str], ...],
    many: int,
    beats: int,
    *,
    plain: bool = False,
) -> tuple[tuple[Call, ...], ...]:
    """Return bars with one chord each; now and then two, or one over another bass."""
    halves = not plain and beats == 4 and dice.random() < 0.3
    bars: list[tuple[Call, ...]] = []
    for number in range(many):
        degree, kind = progression[number % len(progression)]
        bass = 0
        if not plain and number % 4 and dice.random() < 0.15:
            bass = 4 if 4 in KINDS[kind] else 7
        call = Call((tonic + degree) % 12, kind, beats, bass)
        if halves and number % 4 == 3:
            follows = progression[(number + 1) % len(progression)]
            lead = Call((tonic + follows[0] + 7) % 12, "7", beats // 2)
            bars.append((Call(call.root, call.kind, beats - beats // 2, bass), lead))
        else:
            bars.append((call,))
    return tuple(bars)


class _Score:
    """MIDI messages at times in seconds."""

    def __init__(self) -> None:
        self.timed: list[tuple[float, int, mido.Message]] = []

    def put(self, at: float, message: mido.Message, rank: int = 1) -> None:
        self.timed.append((max(at, 0.0), rank, message))

    def note(self, channel: int, note: int, at: float, long: float, velocity: float) -> None:
        loud = int(min(max(velocity, 1), 127))
        self.put(at, mido.Message("note_on", channel=channel, note=note, velocity=loud), 2)
        self.put(at + long, mido.Message("note_off", channel=channel, note=note), 0)

    def save(self, path: Path) -> None:
        file = mido.MidiFile(ticks_per_beat=TICKS)
        track = mido.MidiTrack()
        file.tracks.append(track)
        track.append(mido.MetaMessage("set_tempo", tempo=500_000))  # two quarters a second: 960 ticks
        last = 0
        for at, _, message in sorted(self.timed, key=lambda one: one[:2]):
            tick = round(at * 2 * TICKS)
            track.append(message.copy(time=tick - last))
            last = tick
        file.save(path)


def scored(song: InventedSong) -> _Score:
    """Write the song's notes, and its truth into the song itself."""
    dice = random.Random(song.seed * 7 + 1)  # noqa: S311 - same
    score = _Score()
    for channel, program in song.programs.items():
        score.put(0, mido.Message("program_change", channel=channel, program=program))
    bend = round(song.cents / 200 * 8192)
    for channel in (*song.programs,):
        score.put(0, mido.Message("pitchwheel", channel=channel, pitch=max(-8192, min(8191, bend))))
    beats = METERS[song.meter][0]
    band = _Band(score, song, dice)
    total = sum(len(part.bars) for part in song.parts) * beats
    now, done = song.silence_s, 0

    def beat_s() -> float:
        return 60.0 / (song.bpm * (1 + song.drift * done / total))

    for _ in range(song.count_off * beats):
        score.note(DRUMS, 37, now, 0.05, 90)
        now += 60.0 / song.bpm
    for number, part in enumerate(song.parts):
        begin = now
        for at_bar, bar in enumerate(part.bars):
            song.downbeats.append(now)
            starts = []
            at = now
            for _beat in range(beats):
                starts.append(at)
                song.beats.append(at)
                at += beat_s()
                done += 1
            starts.append(at)
            crash = at_bar == 0 and number > 0 and dice.random() < 0.7
            band.play(part, at_bar, bar, starts, crash=crash)
            now = at
        song.sections.append((begin, now, part.letter, len(part.bars)))
    song.seconds = now + 2.0
    return score


class _Band:
    """Plays one bar of a part after the other into a score."""

    def __init__(self, score: _Score, song: InventedSong, dice: random.Random) -> None:
        self.score, self.song, self.dice = score, song, dice
        self.parts = METERS[song.meter][1]
        self.starts: list[float] = []

    def play(self, part: Part, number: int, bar: tuple[Call, ...], starts: list[float], *, crash: bool) -> None:
        """Play a bar, the ``number``-th of its part; ``starts`` are its beats and its end, in seconds."""
        self.starts = starts
        beat = 0
        for call in bar:
            self._chord(part, call, beat, early=self.song.anticipates and beat == 0 and number % 2 == 1)
            beat += call.beats
        if not part.no_drums:
            self._drums(part, crash=crash)

    def when(self, beat: int, share: float = 0.0) -> float:
        """Return when a share of a beat comes: swung, and as exactly as people play."""
        if self.parts == 2 and share:
            swing = self.song.swing
            share = {0.5: swing, 0.25: swing / 2, 0.75: (1 + swing) / 2}.get(share, share)
        length = self.starts[beat + 1] - self.starts[beat]
        return self.starts[beat] + share * length + self.dice.gauss(0, 0.006)

    def _chord(self, part: Part, call: Call, beat: int, *, early: bool) -> None:
        root, notes = (call.root + part.shift) % 12, KINDS[call.kind]
        begin, end = self.starts[beat], self.starts[beat + call.beats]
        self.song.chords.append((begin, end, Call(root, call.kind, call.beats, call.bass).label))
        length = self.starts[1] - self.starts[0]
        before = 0.5 * length if early else 0.0
        voiced = [58 + (root + one - 10) % 12 for one in notes]
        self._bass(28 + (root + call.bass - 4) % 12, call, beat, before)
        if part.full >= 0.9:
            for one in voiced:
                self.score.note(PAD, one + 12, begin - before / 2, end - begin, 50)
        for step in range(call.beats):
            for share in (0.0, 0.5) if self.parts == 2 else (0.0, 2 / 3):
                if share == 0.0 or self.dice.random() < 0.55:
                    for one in voiced:
                        at = self.when(beat + step, share) - (before if step == 0 and not share else 0)
                        self.score.note(KEYS, one, at, 0.42 * length, 66 + 8 * (share == 0))
        if part.full > 0.7:
            self._guitar(46 + (root - 10) % 12, notes, call, beat)
        if part.full >= 0.7 and part.letter in "AB":
            self._lead(root, notes, call, beat, part.shift)

    def _bass(self, bass: int, call: Call, beat: int, before: float) -> None:
        length = self.starts[1] - self.starts[0]
        for step in range(call.beats):
            fifth = 7 if step % 2 and self.parts == 2 and not call.bass and self.dice.random() < 0.15 else 0
            at = self.when(beat + step) - (before if step == 0 else 0)
            self.score.note(BASS, bass + fifth, at, 0.8 * length, 88)
            if self.parts == 2 and self.dice.random() < 0.35:
                self.score.note(BASS, bass, self.when(beat + step, 0.5), 0.3 * length, 78)

    def _guitar(self, low: int, notes: tuple[int, ...], call: Call, beat: int) -> None:
        has_power = self.song.programs[GUITAR] in (29, 30)
        off = (0.5,) if self.parts == 2 else (1 / 3, 2 / 3)
        for step in range(call.beats):
            for share in (0.0, *off) if has_power else off:
                for one in (0, 7, 12) if has_power else notes:
                    self.score.note(GUITAR, low + one, self.when(beat + step, share), 0.3, 62)

    def _lead(self, root: int, notes: tuple[int, ...], call: Call, beat: int, shift: int) -> None:
        dice = self.dice
        scale = (0, 3, 5, 7, 10) if self.song.is_minor else (0, 2, 4, 7, 9)
        step = 0.0
        while step < call.beats - 0.01:
            whole = int(step + 0.01)
            if dice.random() < 0.75:
                inside = dice.random() < 0.6
                pitch = root + dice.choice(notes) if inside else self.song.tonic + shift + dice.choice(scale)
                at = self.when(beat + whole, max(0.0, step - whole))
                self.score.note(LEAD, 67 + (pitch - 7) % 12, at, 0.5, 92)
            step += dice.choice((0.5, 1.0, 1.0) if self.parts == 2 else (1 / 3, 2 / 3, 1.0))

    def _drums(self, part: Part, *, crash: bool) -> None:
        beats = len(self.starts) - 1
        loud = 118.0 if self.song.is_rough else 96.0
        hat = 42 if part.full < 1 else 51
        for beat in range(beats):
            for number in range(self.parts):
                strength = loud * (0.62 if number == 0 else 0.5)
                self.score.note(DRUMS, hat, self.when(beat, number / self.parts), 0.1, strength)
        kicks = [(0, 0.0), (2, 0.0)] if beats == 4 else [(0, 0.0)]
        if beats == 4 and self.parts == 2 and self.dice.random() < 0.5:
            kicks.append((1, 0.5))
        for beat, share in kicks:
            self.score.note(DRUMS, 36, self.when(beat, share), 0.2, loud)
        for beat in {4: (1, 3), 3: (1, 2), 2: (1,)}[beats]:
            snare, strength = (37, 0.6) if beats == 3 else (38, 0.95)
            self.score.note(DRUMS, snare, self.when(beat), 0.2, loud * strength)
        if crash:
            self.score.note(DRUMS, 49, self.when(0), 1.0, loud)


def render(song: InventedSong, folder: Path) -> tuple[NDArray[np.float32], int]:
    """Return the song as mono samples and their rate; fill in its truth. Raises CalledProcessError."""
    midi, wave = folder / f"{song.seed}.mid", folder / f"{song.seed}.raw"
    scored(song).save(midi)
    subprocess.run(
        [
            *("fluidsynth", "-ni", "-q", "-g", "0.5", "-r", str(RATE), "-O", "s16", "-T", "raw"),
            *(
                "-o",
                f"synth.reverb.level={'0.9' if song.is_rough else '0.4'}",
                "-o",
                f"synth.reverb.room-size={'0.9' if song.is_rough else '0.6'}",
            ),
            *("-F", str(wave), song.fonts, str(midi)),
        ],
        check=True,
        capture_output=True,
    )
    samples = np.fromfile(wave, "<i2").reshape(-1, 2).astype(np.float32).mean(axis=1) / 32768
    midi.unlink()
    wave.unlink()
    samples = samples[: int(song.seconds * RATE)]
    if song.fade_s:
        long = int(song.fade_s * RATE)
        end = int((song.seconds - 2.0) * RATE)
        gain = np.ones(len(samples), np.float32)
        gain[end - long : end] = np.linspace(1, 0.02, long)
        gain[end:] = 0
        samples *= gain
    peak = float(np.abs(samples).max()) or 1.0
    samples /= peak * 1.1
    if song.is_rough:
        samples = _roughened(samples, song.seed)
    return samples.astype(np.float32), RATE


def _roughened(samples: NDArray[np.float32], seed: int) -> NDArray[np.float32]:
    """Add a crowd, overload the tape a little, and cut the top off."""
    long = 1 << (len(samples) - 1).bit_length()  # a length that is quick to transform
    at = np.fft.rfftfreq(long, 1 / RATE)
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(long).astype(np.float32))
    spectrum *= np.exp(-(((np.log2(np.maximum(at, 1)) - np.log2(700)) / 1.4) ** 2))
    crowd = np.fft.irfft(spectrum)[: len(samples)].astype(np.float32)
    crowd *= 0.03 * (1 + 0.5 * np.sin(np.arange(len(samples)) / RATE * 0.7)) / float(crowd.std())
    spectrum = np.fft.rfft(np.tanh(1.8 * (samples + crowd)) / np.tanh(1.8), long)
    spectrum[at > 9_000] = 0
    return np.fft.irfft(spectrum)[: len(samples)].astype(np.float32)


def found_fonts() -> Iterator[str]:
    """Yield the General MIDI sound fonts that this computer has, of those that Debian packages."""
    for name in ("sf2/FluidR3_GM.sf2", "sf2/TimGM6mb.sf2", "sf3/MuseScore_General.sf3"):
        path = Path("/usr/share/sounds") / name
        if path.exists():
            yield str(path)
