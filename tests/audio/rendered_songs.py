"""Invented songs as sound: a band of General MIDI instruments, rendered by FluidSynth, record-like or rough."""

import random
import subprocess
from collections.abc import Iterator
from pathlib import Path

import mido
import numpy as np
from audio.invented_songs import (
    BASS,
    DRUMS,
    GUITAR,
    KEYS,
    KINDS,
    LEAD,
    METERS,
    PAD,
    RATE,
    TICKS,
    Call,
    InventedSong,
    Part,
)
from numpy.typing import NDArray


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
    midi = folder / f"{song.seed}.mid"
    scored(song).save(midi)
    return sounded(song, midi)


def sounded(song: InventedSong, midi: Path) -> tuple[NDArray[np.float32], int]:
    """Return a MIDI file as the song's sound, and its rate; the file is removed. Raises CalledProcessError."""
    samples = synthesized(midi, song.fonts, (0.9, 0.9) if song.is_rough else (0.4, 0.6))
    midi.unlink()
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


def synthesized(midi: Path, font: str, reverb: tuple[float, float]) -> NDArray[np.float32]:
    """Return what FluidSynth plays, mono; ``reverb``: its level and the size of its room. Raises CalledProcessError."""
    sound = midi.with_suffix(".raw")
    level, room = reverb
    subprocess.run(
        [
            *("fluidsynth", "-ni", "-q", "-g", "0.5", "-r", str(RATE), "-O", "s16", "-T", "raw"),
            *("-o", f"synth.reverb.level={level}", "-o", f"synth.reverb.room-size={room}"),
            *("-F", str(sound), font, str(midi)),
        ],
        check=True,
        capture_output=True,
    )
    samples = np.fromfile(sound, "<i2").reshape(-1, 2).astype(np.float32).mean(axis=1) / 32768
    sound.unlink()
    return np.asarray(samples, np.float32)


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
