"""Any key, kind, chord, meter and chord line, for the tests of what always holds."""

import itertools
from fractions import Fraction

from hypothesis import strategies as st
from msgspec.structs import replace

from companion.music import (
    NO_CHORD,
    Bar,
    Chord,
    ChordKind,
    ChordLine,
    Degree,
    Key,
    Meter,
    Mode,
    NumberChord,
    Pitch,
    Repeat,
    RepeatEnding,
    Seventh,
    Struck,
    Third,
)
from companion.music.chord_line import even_share, units_of_a_dot
from companion.music.kind import TENSIONS

EVERY_KEY = [Key.signed(sf, mode) for mode in Mode for sf in range(-7, 8)]
FIFTHS = (("5",), ("b5",), ("#5",), ("b5", "#5"), ())
EVERY_KIND = [
    ChordKind(third, fifths, seventh, tensions)
    for third, fifths, seventh in itertools.product(Third, FIFTHS, Seventh)
    if seventh is not Seventh.DIMINISHED or (third is Third.MINOR and fifths == ("b5",))
    for many in range(len(TENSIONS) + 1)
    for tensions in itertools.combinations(TENSIONS, many)
    if not (third is Third.SUS2 and "9" in tensions) and not (third is Third.SUS4 and "11" in tensions)
]

keys = st.sampled_from(EVERY_KEY)
kinds = st.sampled_from(EVERY_KIND)
pitches = st.builds(Pitch, st.sampled_from("ABCDEFG"), st.integers(-2, 2))
degrees = st.builds(Degree, st.integers(1, 7), st.integers(-2, 2))
meters = st.builds(Meter, st.integers(1, 13), st.sampled_from([1, 2, 4, 8, 16, 32]))
usual_meters = st.sampled_from([Meter(4, 4), Meter(3, 4), Meter(6, 8), Meter(12, 8), Meter(7, 8), Meter(2, 2)])


@st.composite
def chords(draw: st.DrawFn) -> Chord:
    root = draw(pitches)
    bass = draw(st.none() | pitches)
    return Chord(root, draw(kinds), None if bass == root else bass)


@st.composite
def number_chords(draw: st.DrawFn) -> NumberChord:
    degree = draw(degrees)
    bass = draw(st.none() | degrees)
    return NumberChord(degree, draw(kinds), None if bass == degree else bass)


@st.composite
def beats(draw: st.DrawFn, meter: Meter) -> tuple[Fraction, ...]:
    """Beats of the chords in one bar, such as a player can write."""
    if draw(st.booleans()):
        shares = [even_share(meter, chords) for chords in range(1, 5)]
        share = draw(st.sampled_from([share for share in shares if share]))
        return (share,) * int(meter.beats / share)
    dot = draw(st.sampled_from(units_of_a_dot(meter)))
    left, each = meter.beats // dot, []
    while left:
        each.append(draw(st.integers(1, left)))
        left -= each[-1]
    return tuple(Fraction(dot * one) for one in each)


@st.composite
def struck_bars(draw: st.DrawFn, line_meter: Meter, *, in_numbers: bool) -> Bar:
    other = draw(st.none() | usual_meters)
    meter = other or line_meter
    struck = []
    for has in draw(beats(meter)):
        chord = draw((number_chords() if in_numbers else chords()) | st.just(NO_CHORD))
        held, pushed = draw(st.booleans()), draw(st.booleans())
        struck.append(Struck(chord, has, held, pushed, stopped=not held and draw(st.booleans())))
    return Bar(tuple(struck), None if other == line_meter else other, ends_phrase=draw(st.booleans()))


@st.composite
def chord_lines(draw: st.DrawFn) -> ChordLine:
    meter = draw(usual_meters)
    in_numbers = draw(st.booleans())

    def bars(most: int, before: int) -> tuple[Bar, ...]:
        some = [draw(struck_bars(meter, in_numbers=in_numbers))] if not before else []
        for _ in range(draw(st.integers(0 if some else 1, most))):
            again = draw(st.integers(0, min(2, before + sum(bar.bars for bar in some))))
            one = Bar(again=again, ends_phrase=draw(st.booleans()))
            some.append(one if again else draw(struck_bars(meter, in_numbers=in_numbers)))
        return tuple(some)

    parts: list[Bar | Repeat] = []
    for _ in range(draw(st.integers(1, 3))):
        if draw(st.booleans()):
            parts += bars(2, sum(part.bars for part in parts))
            continue
        body = bars(2, 0)
        in_body = sum(bar.bars for bar in body)
        lasts = sorted(draw(st.sets(st.integers(1, 4), max_size=2)))
        passes = [tuple(range(first + 1, last + 1)) for first, last in itertools.pairwise([0, *lasts])]
        endings = tuple(RepeatEnding(numbers, bars(1, in_body)) for numbers in passes)
        times = max(lasts) if lasts else draw(st.integers(1, 5))
        parts.append(Repeat(body, times, endings, ends_phrase=draw(st.booleans())))
    return _as_the_reader_gives(ChordLine(tuple(parts), meter))


def _as_the_reader_gives(line: ChordLine) -> ChordLine:
    """Take away the ends of phrases that have no sign: the last one of the line, of a repeat, of its last ending."""

    def without(bars: tuple[Bar, ...]) -> tuple[Bar, ...]:
        return (*bars[:-1], replace(bars[-1], ends_phrase=False))

    parts: list[Bar | Repeat] = []
    for part in line.parts:
        if isinstance(part, Repeat) and part.endings:
            *others, last = part.endings
            parts.append(replace(part, endings=(*others, RepeatEnding(last.passes, without(last.bars)))))
        elif isinstance(part, Repeat):
            parts.append(replace(part, body=without(part.body)))
        else:
            parts.append(part)
    parts[-1] = replace(parts[-1], ends_phrase=False)
    return ChordLine(tuple(parts), line.meter)
