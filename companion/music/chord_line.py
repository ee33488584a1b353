"""A chord line of the show file: bars, chords with their beats, repeats; its length, and how it is written back.

SIGNS is the one table of signs: the reader's tests, the help and the legend on paper all come from it.
"""

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import TypeGuard

import msgspec

from companion.music.chord import Chord
from companion.music.key import Key
from companion.music.meter import Meter
from companion.music.numbers import NumberChord, moved, to_letters, to_number

NUMBER_SYSTEM, COMMON = "public descriptions of the number system", "common practice"


class Sign(msgspec.Struct, frozen=True):
    """One sign of a chord line: an example, what it means, its source, and how many bars the example lasts."""

    example: str
    meaning: str
    source: str
    bars: int


SIGNS = (
    Sign("1 | 4 | 5", "bars; a single chord fills its bar. The | at either end is optional", NUMBER_SYSTEM, 3),
    Sign("C | F#m7 | G/B", "letters instead of numbers, for the whole line", COMMON, 3),
    Sign("1 4 | 5", "a space: these chords share the bar evenly", NUMBER_SYSTEM, 2),
    Sign(
        "1... 5. | 4",
        "dots: the beats of each chord, as you feel them; in 6/8 also eighths, six in all",
        NUMBER_SYSTEM,
        2,
    ),
    Sign("1 / / 5 | 4", "a slash alone: one more beat of the chord before; companion writes it as dots", COMMON, 2),
    Sign("1 | %", "repeat the bar before", COMMON, 2),
    Sign("1 | 4 | %2", "repeat the two bars before", COMMON, 4),
    Sign("(1 | 4) x3", "a repeat: three times in all; without a number, twice", COMMON, 6),
    Sign("(1 | 4 | 1st 5 | 2nd 1)", "endings of a repeat; 1st-3rd is one ending for three times", COMMON, 6),
    Sign("<1> | 4", "a diamond: struck and held", NUMBER_SYSTEM, 2),
    Sign("1 | <4", "a push: the chord comes an eighth early", NUMBER_SYSTEM, 2),
    Sign("1 | 5^", "a stop: struck and cut", NUMBER_SYSTEM, 2),
    Sign("1 | in 2/4 5 | 1", "another meter for this one bar", COMMON, 3),
    Sign("N.C. | 1", "no chord", COMMON, 2),
    Sign("1 | 4 || 5 | 1", "a double bar or a new line: ends the phrase, and the row on paper", COMMON, 4),
    Sign("1 | 4#o | 5", "the same as #4o, which needs quotes: YAML reads a # after a space as a comment", COMMON, 3),
)


class Struck(msgspec.Struct, frozen=True):
    """One chord in a bar. ``beats`` counts units of the bar's meter: quarters in 4/4, eighths in 6/8."""

    chord: Chord | NumberChord
    beats: Fraction
    held: bool = False
    pushed: bool = False
    stopped: bool = False


class Bar(msgspec.Struct, frozen=True):
    """One written bar: chords, or ``again``, the 1 or 2 bars to repeat. ``meter`` is None if it is the line's."""

    chords: tuple[Struck, ...] = ()
    meter: Meter | None = None
    again: int = 0
    ends_phrase: bool = False

    @property
    def bars(self) -> int:
        """How many bars it lasts."""
        return self.again or 1


class RepeatEnding(msgspec.Struct, frozen=True):
    """The bars that close a repeat on these passes, counted from 1."""

    passes: tuple[int, ...]
    bars: tuple[Bar, ...]


class Repeat(msgspec.Struct, frozen=True):
    """Bars that are played several times in all, with endings or without."""

    body: tuple[Bar, ...]
    times: int = 2
    endings: tuple[RepeatEnding, ...] = ()
    ends_phrase: bool = False

    @property
    def bars(self) -> int:
        """How many bars it lasts, all passes counted."""
        in_endings = sum(len(ending.passes) * sum(bar.bars for bar in ending.bars) for ending in self.endings)
        return self.times * sum(bar.bars for bar in self.body) + in_endings

    @property
    def usual_times(self) -> int:
        """How often it is played if no number is written."""
        return max((last for ending in self.endings for last in ending.passes), default=2)


class ChordLine(msgspec.Struct, frozen=True):
    """The chords of a section. Its text reads back as an equal line in the same meter."""

    parts: tuple[Bar | Repeat, ...]
    meter: Meter

    @property
    def bars(self) -> int:
        """How many bars are played, to compare with the section's own number."""
        return sum(part.bars for part in self.parts)

    @property
    def played(self) -> tuple[Bar, ...]:
        """The bars in playing order, with repeats and % written out; each has its chords."""
        bars: list[Bar] = []
        for written in self._in_order():
            bars += bars[-written.again :] if written.again else [written]
        return tuple(bars)

    @property
    def whole_notes(self) -> Fraction:
        """How long it lasts, in whole notes; a bar of another meter counts its own length."""
        return sum(((bar.meter or self.meter).whole_notes for bar in self.played), Fraction(0))

    @property
    def in_numbers(self) -> bool:
        """Whether it is written in numbers; False for letters and for a line without chords."""
        return any(isinstance(struck.chord, NumberChord) for bar in self._in_order() for struck in bar.chords)

    def as_letters(self, key: Key) -> "ChordLine":
        """Return this line in letters, in this key; letters stay unchanged."""
        return self._each(lambda chord: to_letters(chord, key) if isinstance(chord, NumberChord) else chord)

    def as_numbers(self, key: Key) -> "ChordLine":
        """Return this line in numbers, its letters read in this key; numbers stay unchanged."""
        return self._each(lambda chord: to_number(chord, key) if _has_letter(chord) else chord)

    def moved(self, old: Key, new: Key) -> "ChordLine":
        """Return this line moved from the old key to the new one. Numbers stay unchanged."""
        return self._each(lambda chord: moved(chord, old, new) if _has_letter(chord) else chord)

    @property
    def plain(self) -> "ChordLine":
        """The line with plain names in place of double accidentals, for display."""
        return self._each(lambda chord: chord.plain if isinstance(chord, Chord) else chord)

    def repeated(self, times: int) -> "ChordLine":
        """Return this line played ``times`` times: as one repeat, or written out if it has repeats of its own."""
        bars = tuple(part for part in self.parts if isinstance(part, Bar))
        if times == 1:
            return self
        parts = (Repeat(bars, times),) if len(bars) == len(self.parts) else self.parts * times
        return ChordLine(parts, self.meter)

    def _in_order(self) -> Iterator[Bar]:
        for part in self.parts:
            if isinstance(part, Bar):
                yield part
                continue
            for this_pass in range(1, part.times + 1):
                yield from part.body
                for ending in part.endings:
                    if this_pass in ending.passes:
                        yield from ending.bars

    def _each(self, change: Callable[[Chord | NumberChord], Chord | NumberChord]) -> "ChordLine":
        """Change every chord, and nothing else."""

        def changed(bars: tuple[Bar, ...]) -> tuple[Bar, ...]:
            return tuple(
                msgspec.structs.replace(
                    bar,
                    chords=tuple(msgspec.structs.replace(one, chord=change(one.chord)) for one in bar.chords),
                )
                for bar in bars
            )

        parts: list[Bar | Repeat] = []
        for part in self.parts:
            if isinstance(part, Bar):
                parts += changed((part,))
            else:
                endings = tuple(RepeatEnding(ending.passes, changed(ending.bars)) for ending in part.endings)
                parts.append(msgspec.structs.replace(part, body=changed(part.body), endings=endings))
        return ChordLine(tuple(parts), self.meter)

    def __str__(self) -> str:
        pieces: list[tuple[str, bool]] = []
        for part in self.parts:
            text = _written_bar(part, self.meter) if isinstance(part, Bar) else _written_repeat(part, self.meter)
            pieces.append((text, part.ends_phrase))
        return _joined(pieces)


def _has_letter(chord: Chord | NumberChord) -> TypeGuard[Chord]:
    """Whether it is a chord in letters; N.C. is the same in letters and numbers."""
    return isinstance(chord, Chord) and chord.root is not None


def even_share(meter: Meter, chords: int) -> Fraction | None:
    """Return the units that each of ``chords`` chords gets if they share a bar evenly; None if they cannot.

    Three chords in 4/4 or two in 3/4 have no even share: the player must say which is longer. Beats may be halved
    or quartered if each then gets the same number of chords.
    """
    if meter.beats % chords == 0 or chords in (2 * meter.beats, 4 * meter.beats):
        return Fraction(meter.beats, chords)
    return None


def units_of_a_dot(meter: Meter) -> tuple[int, ...]:
    """Return the units that one dot may mean in this meter: the felt beat, if it divides the bar, then the unit."""
    felt = meter.felt_beat * meter.unit
    if felt.denominator == 1 and felt > 1 and meter.beats % felt == 0:
        return (int(felt), 1)
    return (1,)


def _written_repeat(repeat: Repeat, meter: Meter) -> str:
    pieces = [(_written_bar(bar, meter), bar.ends_phrase) for bar in repeat.body]
    for ending in repeat.endings:
        label = ordinal(ending.passes[0])
        if len(ending.passes) > 1:
            label += f"-{ordinal(ending.passes[-1])}"
        bars = [(_written_bar(bar, meter), bar.ends_phrase) for bar in ending.bars]
        pieces += [(f"{label} {bars[0][0]}", bars[0][1]), *bars[1:]]
    return f"({_joined(pieces)})" + (f" x{repeat.times}" if repeat.times != repeat.usual_times else "")


def _written_bar(bar: Bar, line_meter: Meter) -> str:
    if bar.again:
        return "%" if bar.again == 1 else f"%{bar.again}"
    meter = bar.meter or line_meter
    dots = dots_of(bar.chords, meter)
    words = [f"in {bar.meter}"] if bar.meter else []
    for struck, beats in zip(bar.chords, dots, strict=True):
        chord = f"<{struck.chord}>" if struck.held else str(struck.chord)
        words.append(f"{'<' if struck.pushed else ''}{chord}{'^' if struck.stopped else ''}{'.' * beats}")
    return " ".join(words)


def dots_of(chords: Sequence[Struck], meter: Meter) -> tuple[int, ...]:
    """Return the dots (beats) of each chord in a bar; all 0 if they share the bar evenly."""
    if len(chords) == 1:
        return (0,)
    share = even_share(meter, len(chords))
    if all(struck.beats == share for struck in chords):
        return (0,) * len(chords)
    dot = next(units for units in units_of_a_dot(meter) if all(one.beats % units == 0 for one in chords))
    return tuple(int(struck.beats / dot) for struck in chords)


def _joined(pieces: list[tuple[str, bool]]) -> str:
    """Join the pieces with bar lines, a double one after a phrase."""
    text = ""
    for place, (piece, ends_phrase) in enumerate(pieces):
        text += piece
        if place < len(pieces) - 1:
            text += " || " if ends_phrase else " | "
    return text


def ordinal(number: int) -> str:
    """Return 1st, 2nd, 3rd, 4th ...; right up to 20."""
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number, 'th') }"
