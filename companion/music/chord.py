"""Chords in letters: root, kind and an optional bass; read as players write them, written back in one way."""

import re

import msgspec

from companion.music.faults import NotMusic, quoted
from companion.music.kind import ChordKind, fifths_up
from companion.music.kind_signs import read_kind
from companion.music.pitch import ACCIDENTAL, Pitch, pitch_at

LONGEST_CHORD = 48  # characters; the longest that this module writes has 47
SLASH = re.compile(r"/(?!9)")  # the 9 of 6/9 is not a bass
_BASS = re.compile(rf"/[A-G]{ACCIDENTAL}?")
_NO_CHORD = re.compile(r"n\.? ?c\.?$|no chord$", re.IGNORECASE)
NO_CHORD_WRITTEN = "N.C."


class Chord(msgspec.Struct, frozen=True):
    """A chord in letters. Without a root it is N.C., no chord."""

    root: Pitch | None
    kind: ChordKind = ChordKind()
    bass: Pitch | None = None  # only where it is not the root

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """Its notes as spelled: a separate bass first, then root, third, fifth ... upward."""
        if self.root is None:
            return ()
        notes = tuple(self.root.moved(fifths_up(degree)) for degree in self.kind.degrees)
        return notes if self.bass is None else (self.bass, *(note for note in notes if note != self.bass))

    @property
    def pitch_classes(self) -> frozenset[int]:
        """The pitch classes that sound, 0 (C) to 11 (B), including the bass."""
        return frozenset(pitch.semitone for pitch in self.pitches)

    @property
    def shown(self) -> str:
        """The text for the stage, with plain names: A for Bbb, G for F##."""
        return str(self.plain)

    @property
    def plain(self) -> "Chord":
        """The chord with plain names in place of double accidentals in root and bass."""
        return over(self.root and self.root.plain, self.kind, self.bass and self.bass.plain)

    def moved(self, fifths: int) -> "Chord":
        """Return the chord moved by this many fifths (see pitch.py), root and bass alike."""
        return over(self.root and self.root.moved(fifths), self.kind, self.bass and self.bass.moved(fifths))

    def __str__(self) -> str:
        if self.root is None:
            return NO_CHORD_WRITTEN
        return f"{self.root}{self.kind.in_letters}{f'/{self.bass}' if self.bass else ''}"


NO_CHORD = Chord(None)


def over(root: Pitch | None, kind: ChordKind, bass: Pitch | None) -> Chord:
    """Return the chord over this bass; a bass equal to the root is dropped."""
    return Chord(root, kind, None if bass == root else bass)


def is_no_chord(text: str) -> bool:
    """Whether the text means no chord: N.C., NC, no chord."""
    return _NO_CHORD.match(text) is not None


def read_chord(text: str) -> Chord:
    """Read one chord as players write it: C, Cm, C-, C△7, C7#9, Cø, C6/9, C(add9), C7alt, C/E, N.C. Raises NotMusic.

    Letters must be capitals: bb7 could be Bb7 or a small b with a b7, and many players write minor chords small.
    """
    stripped = text.strip()
    start = len(text) - len(text.lstrip())
    if is_no_chord(stripped):
        return NO_CHORD
    if not stripped:
        raise NotMusic(0, "there is no chord here", "a chord, as in C or Bbm7, or N.C. for none")
    try:
        root, kind_start = pitch_at(text, start)
    except NotMusic as fault:
        raise NotMusic(start, f"{quoted(stripped)} is not a chord", fault.write) from None
    stop = start + len(stripped)
    if len(stripped) > LONGEST_CHORD:
        raise NotMusic(start + LONGEST_CHORD, f"a chord has at most {LONGEST_CHORD} characters", str(root))
    slash = SLASH.search(text, kind_start, stop)
    kind_stop = slash.start() if slash else stop
    try:
        kind = read_kind(text, kind_start, kind_stop)
    except NotMusic as fault:
        bass_text = text[kind_stop:stop] if _BASS.fullmatch(text, kind_stop, stop) else ""
        write = " or ".join(f"{root}{way}{bass_text}" for way in fault.write.split(" or "))
        raise NotMusic(fault.column, f"{fault.problem} in {quoted(stripped)}", write) from None
    if not slash:
        return Chord(root, kind)
    bass = _bass(text, slash.end(), stop, written=f"{root}{kind.in_letters}")
    return over(root, kind, bass)


def _bass(text: str, start: int, stop: int, written: str) -> Pitch:
    """Read the bass after the slash. ``written`` is the chord before it, for the fault's suggestion."""
    try:
        bass, end = pitch_at(text, start)
    except NotMusic as fault:
        meant = _BASS.match(f"/{fault.write}")  # the bass alone, without what follows it
        write = written + (meant[0] if meant else "")
        raise NotMusic(start, f"the bass after the slash is one letter, in {quoted(text)}", write) from None
    if end < stop:
        raise NotMusic(end, f"the bass after the slash is one letter, in {quoted(text)}", f"{written}/{bass}")
    return bass
