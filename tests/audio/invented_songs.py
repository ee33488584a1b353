"""Invented songs with everything that is true of them: form, chords, meter, tempo, sounds, and what a tape does.

A seed makes a song: form, chords, meter, tempo, sounds, and what a recording does to them. Nothing here imitates an
existing piece. ``render`` needs FluidSynth and a General MIDI sound font.
"""

import random
from dataclasses import dataclass, field
from typing import Final

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
