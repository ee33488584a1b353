"""Numbers: chords by scale degree (1 5 6- 4), to letters and back in any key; moving a chord to another key.

Degrees count in a major scale. A song in minor counts from the relative major: Am F C G in A minor is 6- 4 1 5. So the
numbers share the song's key signature, its scale's chords need no accidentals, and a minor verse and a major chorus
need no key change between them. (Some players count from its own tonic: 1- b6 b3 b7.) Modes work like minor: D dorian
counts from C.
"""

import re

import msgspec

from companion.music.chord import LONGEST_CHORD, NO_CHORD, NO_CHORD_WRITTEN, SLASH, Chord, is_no_chord, over
from companion.music.faults import NotMusic, quoted
from companion.music.key import Key
from companion.music.kind import ChordKind, fifths_up
from companion.music.kind_signs import read_kind
from companion.music.pitch import ACCIDENTAL, Pitch, accidental_of

_DEGREE = re.compile(rf"({ACCIDENTAL})([1-7])|([1-7])([b♭#♯]?)(?![0-9])|([1-7])")  # 4#o is #4o; 7#9 is not #79
_BASS = re.compile(rf"/{ACCIDENTAL}?[1-7]")
_BARE_NUMBER = re.compile(r"[0-9]+")
_STACKED = ("7", "9", "11", "13")  # 57 is a five seven; any other figure after a degree may be another chord


class Degree(msgspec.Struct, frozen=True):
    """A degree of the major scale, 1 to 7, perhaps altered: b7, #4. ``accidental`` in semitones, flats below 0."""

    number: int
    accidental: int = 0

    @property
    def fifths(self) -> int:
        """Its distance from degree 1, in fifths."""
        return fifths_up(str(self))

    def __str__(self) -> str:
        return ("b" * -self.accidental if self.accidental < 0 else "#" * self.accidental) + str(self.number)


class NumberChord(msgspec.Struct, frozen=True):
    """A chord by its degree. ``bass`` is a degree of the key, not of the chord. Without a degree it is N.C."""

    degree: Degree | None
    kind: ChordKind = ChordKind()
    bass: Degree | None = None

    def __str__(self) -> str:
        if self.degree is None:
            return NO_CHORD_WRITTEN
        return f"{self.degree}{self.kind.in_numbers}{f'/{self.bass}' if self.bass else ''}"


NO_NUMBER_CHORD = NumberChord(None)

# The names of the twelve semitones above degree 1, the usual name first. All other spellings (b1, #3, b4, #6, #7,
# doubles) are a player's B for Cb or F for E#, and mean the usual degree.
_NAMES: tuple[tuple[Degree, ...], ...] = (
    (Degree(1),),
    (Degree(2, -1), Degree(1, 1)),
    (Degree(2),),
    (Degree(3, -1), Degree(2, 1)),
    (Degree(3),),
    (Degree(4),),
    (Degree(4, 1), Degree(5, -1)),
    (Degree(5),),
    (Degree(6, -1), Degree(5, 1)),
    (Degree(6),),
    (Degree(7, -1),),
    (Degree(7),),
)


def read_number(text: str) -> NumberChord:
    """Read a chord by its degree: 1, 6-, b7, 4/5, 2-7, 1maj7, 7o, 5sus, 6-7b5, 1(2), 57, N.C. Raises NotMusic."""
    stripped = text.strip()
    start = len(text) - len(text.lstrip())
    stop = start + len(stripped)
    if is_no_chord(stripped):
        return NO_NUMBER_CHORD
    if len(stripped) > LONGEST_CHORD:
        raise NotMusic(start + LONGEST_CHORD, f"a chord has at most {LONGEST_CHORD} characters", "1")
    degree, kind_start = _degree_at(text, start, stop, write="a number from 1 to 7, as in 1 or b7")
    slash = SLASH.search(text, kind_start, stop)
    kind_stop = slash.start() if slash else stop
    bare = _BARE_NUMBER.match(text, kind_start, kind_stop)
    if bare and bare[0] not in _STACKED:
        write = f"{degree} {' '.join(bare[0])}" + (f" or {degree}({bare[0]})" if bare[0] in ("2", "5", "6") else "")
        raise NotMusic(kind_start, f"{quoted(stripped)} can be one chord or several", write)
    try:
        kind = read_kind(text, kind_start, kind_stop)
    except NotMusic as fault:
        bass_text = text[kind_stop:stop] if _BASS.fullmatch(text, kind_stop, stop) else ""
        write = " or ".join(f"{degree}{_bracketed(way)}{bass_text}" for way in fault.write.split(" or "))
        raise NotMusic(fault.column, f"{fault.problem} in {quoted(stripped)}", write) from None
    if not slash:
        return NumberChord(degree, kind)
    before = f"{degree}{kind.in_numbers}"
    bass, end = _degree_at(text, slash.end(), stop, write=before)
    if end < stop:
        problem = f"the bass after the slash is one number, in {quoted(stripped)}"
        raise NotMusic(end, problem, f"{before}/{bass}")
    return NumberChord(degree, kind, None if bass == degree else bass)


def _bracketed(kind: str) -> str:
    """Return the kind, in brackets if it would merge with the number before it."""
    return f"({kind})" if kind[:1] in ("2", "5", "6") else kind


def _degree_at(text: str, start: int, stop: int, write: str) -> tuple[Degree, int]:
    found = _DEGREE.match(text, start, stop)
    if not found:
        raise NotMusic(min(start, max(len(text) - 1, 0)), f"expected a degree 1 to 7 here in {quoted(text)}", write)
    number, signs = found[2] or found[3] or found[5], found[1] or found[4] or ""
    return Degree(int(number), accidental_of(signs)), found.end()


def to_letters(number: NumberChord, key: Key) -> Chord:
    """Return this number's chord in this key, spelled strictly: b3 in Gb is Bbb (shown as A)."""
    if number.degree is None:
        return NO_CHORD
    root = Pitch.on_fifths(key.sf + number.degree.fifths)
    bass = Pitch.on_fifths(key.sf + number.bass.fifths) if number.bass else None
    return over(root, number.kind, bass)


def to_number(chord: Chord, key: Key) -> NumberChord:
    """Return the number of this chord in this key. An odd spelling gets the usual degree: in Gb, B is 4 like Cb.

    A root with the plain name of a double flat means that flat: A in Gb is b3. A diminished chord is the exception:
    as a passing chord it goes up by sharps (#2o). The bass is spelled like the root.
    """
    if chord.root is None:
        return NO_NUMBER_CHORD
    is_passing = chord.kind.is_diminished
    degree = _usual(chord.root, key.sf, as_shown=not is_passing)
    as_shown = Pitch.on_fifths(key.sf + degree.fifths) != chord.root
    bass = _usual(chord.bass, key.sf, as_shown=as_shown) if chord.bass else None
    return NumberChord(degree, chord.kind, None if bass == degree else bass)


def moved(chord: Chord, old: Key, new: Key) -> Chord:
    """Return the chord moved from the old key to the new one, by degree, so that its spelling fits the key."""
    return to_letters(to_number(chord, old), new)


def _usual(pitch: Pitch, home: int, *, as_shown: bool) -> Degree:
    above = pitch.fifths - home
    names = _NAMES[above * 7 % 12]
    strict = next((name for name in names if name.fifths == above), None)
    first = Pitch.on_fifths(home + names[0].fifths)
    if strict is None or (first != first.plain == pitch and (as_shown or names[0].accidental > 0)):
        return names[0]
    return strict
