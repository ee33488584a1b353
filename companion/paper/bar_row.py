"""A row of bars as written by hand: bar lines, chords at their beats, repeats, endings, hits as slashes and rhythm."""

import itertools
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from companion.music import Chord, Meter, NumberChord, Struck
from companion.music.chord_line import dots_of
from companion.music.hits import QUARTERS
from companion.paper.chart import ChartBar
from companion.paper.leaves import PaperInk
from companion.paper.paper_fonts import CAP_HEIGHT, width_pt
from companion.paper.pen import SHARPS, LeafPen

USUAL_BARS: Final = 4  # in a row
ROW: Final = 1.8  # height of a row of bars, as a share of the chords' size
RHYTHM: Final = 1.5  # same: the hits below the row
BRACKET: Final = 0.75  # same: the ending's bracket above the row
KIND: Final = 0.78  # share of the root's size: the chord's kind after it
KIND_UP: Final = 0.1
INSIDE: Final = 0.4  # share of the size: from the bar line to the first chord
GAP: Final = 0.4  # share of the size: the smallest gap between chords; a beat slash must not look like a slash chord
SLASH_SIZE: Final = 0.8  # share of the size: a beat slash
SLASH: Final = 0.32  # same: its width
METER: Final = 0.55  # share of the size: a bar's own meter
REPEAT: Final = 0.35  # share of the size: the repeat dots at a bar line
LEAST_SHRUNK: Final = 0.7  # share of the size: break the row rather than shrink chords below this

DIAMOND: Final = 0.42  # share of the size: from the tip of a diamond to its chord
DIAMOND_SIDE: Final = 0.75  # same: from the tip to the flat top of a wide one
DIAMOND_HALF: Final = 0.85  # same: half its height

Piece = tuple[str, float, float]  # text, its share of the size, how far it is raised (same unit)


@lru_cache(4096)
def pieces(chord: Chord | NumberChord) -> tuple[Piece, ...]:
    """Return a chord as pieces of text: a large root, its kind smaller, the bass after a slash."""
    if isinstance(chord, NumberChord):
        if chord.degree is None:
            return (("N.C.", KIND, 0.0),)
        root, kind, bass = str(chord.degree), chord.kind.in_numbers, str(chord.bass or "")
    else:
        if chord.root is None:
            return (("N.C.", KIND, 0.0),)
        root, kind, bass = str(chord.root), chord.kind.in_letters, str(chord.bass or "")
    found: list[Piece] = [(root.translate(SHARPS), 1.0, 0.0)]
    if kind:
        found.append((_signs(kind), KIND, KIND_UP))
    if bass:
        found.append((f"/{bass.translate(SHARPS)}", 0.85, 0.0))
    return tuple(found)


def _signs(kind: str) -> str:
    """Return a kind with printed flats and sharps; "b" is a flat only before a digit."""
    return "".join(
        "♭" if sign == "b" and kind[place + 1 : place + 2].isdigit() else "♯" if sign == "#" else sign
        for place, sign in enumerate(kind)
    )


@lru_cache(4096)
def chord_share(struck: Struck) -> float:
    """Return the width of a chord with its signs, as a share of the size."""
    share = sum(width_pt(text, part) for text, part, _up in pieces(struck.chord))
    return (
        share
        + (2 * DIAMOND if struck.held else 0.0)
        + (0.45 if struck.pushed else 0.0)
        + (0.4 if struck.stopped else 0.0)
    )


def _slots(bar: ChartBar) -> list[Struck | None]:
    """Return an entry for each printed beat: the chord on its first beat, None (a slash) on each further beat.

    Chords that share the bar evenly show no beats.
    """
    slots: list[Struck | None] = []
    if not bar.chords:
        return slots
    for struck, dots in zip(bar.chords, dots_of(bar.chords, bar.meter), strict=True):
        slots += [struck, *[None] * (dots - 1)]
    return slots


def _least(slot: Struck | None) -> float:
    """Return the width of a chord or slash with the gap after it, as a share of the size."""
    return (SLASH if slot is None else chord_share(slot)) + GAP


def need(bar: ChartBar) -> float:
    """Return the width that a bar needs, as a share of the size."""
    if not bar.chords:
        return 3.0 * max(bar.again, 1)
    return sum(map(_least, _slots(bar))) + 2 * INSIDE + _signs_share(bar)


def _signs_share(bar: ChartBar) -> float:
    """Return the width of the signs at the bar lines, as a share of the size."""
    at_left = (REPEAT if bar.opens else 0.0) + (width_pt(str(bar.meter), METER) + GAP if bar.meter_shown else 0.0)
    return at_left + (REPEAT if bar.closes else 0.0)


def spread(least: Sequence[float], room: float, shares: Sequence[float] | None = None) -> list[float]:
    """Divide the room by shares (evenly without them), giving each at least its least width.

    Where the least widths exceed the room, all shrink in proportion.

    >>> spread([10, 50, 10], 120)
    [35.0, 50, 35.0]
    """
    shares = shares or [1.0] * len(least)
    if sum(least) >= room:
        return [one * room / sum(least) for one in least]
    narrow: set[int] = set(range(len(least)))
    while True:
        each = (room - sum(least[n] for n in range(len(least)) if n not in narrow)) / sum(shares[n] for n in narrow)
        wide = {n for n in narrow if least[n] > each * shares[n]}
        if not wide or wide == narrow:  # both within rounding error
            return [each * shares[n] if n in narrow else least[n] for n in range(len(least))]
        narrow -= wide


def fitting_rows(
    row: Sequence[ChartBar], size: float, room: float, shrunk: float = LEAST_SHRUNK
) -> list[tuple[ChartBar, ...]]:
    """Halve a row, repeatedly, while its chords would get smaller than ``shrunk`` of the size."""
    if len(row) > 1 and any(bar.chords for bar in row) and sum(map(need, row)) * size * shrunk > room:
        half = (len(row) + 1) // 2
        return [*fitting_rows(row[:half], size, room, shrunk), *fitting_rows(row[half:], size, room, shrunk)]
    return [tuple(row)]


def row_height(row: Sequence[ChartBar], size: float) -> float:
    """Return the height of a row with its brackets above and hits below."""
    over = BRACKET if any(bar.ending for bar in row) else 0.0
    under = RHYTHM if any(bar.hits for bar in row) else 0.0
    return (ROW + over + under) * size


def _widths(row: Sequence[ChartBar], size: float, room: float) -> list[float]:
    """Divide the room among bars: evenly where that is enough, else by need. A short row stays short."""
    columns = [float(max(bar.again, 1)) for bar in row]
    needs = [need(bar) * size for bar in row]
    short = room / max(sum(columns), USUAL_BARS) * sum(columns)
    return spread(needs, min(room, max(short, sum(needs))), columns)


def draw_row(pen: LeafPen, row: Sequence[ChartBar], x: float, y: float, room: float, size: float) -> None:
    """Draw a row whose top is ``y``."""
    if any(bar.ending for bar in row):
        y += BRACKET * size
    top, bottom = y + 0.3 * size, y + (ROW - 0.3) * size
    baseline = y + (ROW / 2 + CAP_HEIGHT / 2) * size
    for bar, width in zip(row, _widths(row, size, room), strict=True):
        _bar_lines(pen, bar, x, x + width, top, bottom, size)
        if bar.ending:
            pen.line(x + 1, top - 0.15 * size, x + 1, top - 0.75 * size)
            pen.line(x + 1, top - 0.75 * size, x + width - 3, top - 0.75 * size)
            pen.write(x + 0.3 * size, top - 0.2 * size, bar.ending, 0.5 * size)
        _inside(pen, bar, x, x + width, baseline, size)
        if bar.hits:
            _rhythm(pen, bar, bar.hits, x, x + width, y + ROW * size, size)
        x += width


def _bar_lines(pen: LeafPen, bar: ChartBar, x1: float, x2: float, top: float, bottom: float, size: float) -> None:
    pen.line(x1, top, x1, bottom, 2.0 if bar.opens else 0.8)
    pen.line(x2, top, x2, bottom, 2.0 if bar.closes else 0.8)
    middle = (top + bottom) / 2
    for at, here in ((bar.opens, x1 + 0.25 * size), (bar.closes, x2 - 0.25 * size)):
        if at:
            for dot in (middle - 0.22 * size, middle + 0.22 * size):
                pen.line(here, dot, here, dot, 0.16 * size)
    if bar.times:
        pen.write_left_of(x2, top - 0.08 * size, f"× {bar.times}", 0.6 * size)


def _inside(pen: LeafPen, bar: ChartBar, x1: float, x2: float, baseline: float, size: float) -> None:
    if bar.empty:
        pen.write((x1 + x2 - width_pt(f"{bar.empty} bars", 0.7 * size)) / 2, baseline, f"{bar.empty} bars", 0.7 * size)
        return
    if bar.again:
        middle = (x1 + x2) / 2
        end = pen.write(middle - width_pt("%", size) / 2, baseline, "%", size)
        if bar.again > 1:
            pen.write(end + 1, baseline - 0.3 * size, str(bar.again), 0.55 * size)
        return
    if not bar.chords:
        return
    places = _places(bar, x1, x2, size)
    if bar.meter_shown:
        pen.write(places.meter, baseline, str(bar.meter), METER * places.size)
    for slot, x in zip(_slots(bar), places.slots, strict=True):
        if slot is None:
            pen.write(x, baseline, "/", SLASH_SIZE * places.size, PaperInk.PENCIL)
        else:
            _chord(pen, slot, x, baseline, places.size)


class _Places(NamedTuple):
    """Positions in a bar: its meter, each chord and slash, the end of the last one's room; and the size."""

    size: float
    meter: float
    slots: tuple[float, ...]
    end: float

    def at(self, beat: float, beats: int) -> float:
        """Return the x of a beat, counted from 0: directly under its chord or slash."""
        edges = (*self.slots, self.end)
        place = beat * len(self.slots) / beats
        slot = min(int(place), len(self.slots) - 1)
        return edges[slot] + (place - slot) * (edges[slot + 1] - edges[slot])


def _places(bar: ChartBar, x1: float, x2: float, size: float) -> _Places:
    """Divide the room between two bar lines: evenly by beats, else by need, else with smaller chords."""
    left = x1 + (INSIDE + (REPEAT if bar.opens else 0.0)) * size
    end = x2 - (INSIDE / 2 + (REPEAT if bar.closes else 0.0)) * size
    least = list(map(_least, _slots(bar))) or [1.0]
    meter = width_pt(str(bar.meter), METER) + GAP if bar.meter_shown else 0.0
    size *= min(1.0, (end - left) / ((sum(least) + meter) * size))
    start = left + meter * size
    widths = spread([one * size for one in least], end - start)
    return _Places(size, left, tuple(itertools.accumulate(widths[:-1], initial=start)), end)


def _chord(pen: LeafPen, struck: Struck, x: float, baseline: float, size: float) -> float:
    if struck.pushed:
        x = pen.write(x, baseline, "<", 0.7 * size) + 0.05 * size
    begin = x
    if struck.held:
        x += DIAMOND * size
    for text, part, up in pieces(struck.chord):
        x = pen.write(x, baseline - up * size, text, part * size)
    if struck.held:
        x += DIAMOND * size
        _diamond(pen, begin, x, baseline - CAP_HEIGHT / 2 * size, size)
    if struck.stopped:
        x = pen.write(x + 0.05 * size, baseline - 0.25 * size, "^", 0.6 * size)
    return x


def _diamond(pen: LeafPen, x1: float, x2: float, middle: float, size: float) -> None:
    """Draw a diamond round a chord. Round a wide chord its top and bottom are flat, so that no line cuts a letter."""
    half = DIAMOND_HALF * size
    reach = min((x2 - x1) / 2, DIAMOND_SIDE * size)
    corners = (
        (x1, middle),
        (x1 + reach, middle - half),
        (x2 - reach, middle - half),
        (x2, middle),
        (x2 - reach, middle + half),
        (x1 + reach, middle + half),
    )
    for (a, b), (c, d) in itertools.pairwise((*corners, corners[0])):
        if (a, b) != (c, d):
            pen.line(a, b, c, d, 0.8)


def _rhythm(pen: LeafPen, bar: ChartBar, hits: Sequence[float], x1: float, x2: float, y: float, size: float) -> None:
    """Draw the beats of a bar as slashes; hits are heavy, with a stem and the count below. ``y`` is the top."""
    places, beats = _places(bar, x1, x2, size), bar.meter.beats
    middle = y + 0.65 * size
    hit_beats = {int(hit) for hit in hits if hit == int(hit)}
    for number in range(beats):
        if number not in hit_beats:
            _slash(pen, places.at(number, beats), middle, size, 0.7, PaperInk.PENCIL)
    free = x1
    for hit in hits:
        x = places.at(hit, beats)
        _slash(pen, x, middle, size, 2.2, PaperInk.PEN)
        stem = x + 0.36 * size
        pen.line(stem, middle - 0.25 * size, stem, y + 0.02 * size, 0.9)
        for flag in range({0: 0, 2: 1}.get(int(hit % 1 * 4), 2)):
            high = y + (0.02 + 0.16 * flag) * size
            pen.line(stem, high, stem + 0.2 * size, high + 0.2 * size, 0.9)
        count = f"{int(hit) + 1}{QUARTERS[int(hit % 1 * 4)]}"
        if x >= free:
            free = pen.write(x, y + 1.38 * size, count, 0.52 * size, PaperInk.PENCIL) + 1


def _slash(pen: LeafPen, x: float, middle: float, size: float, thick: float, ink: PaperInk) -> None:
    pen.line(x, middle + 0.25 * size, x + 0.36 * size, middle - 0.25 * size, thick, ink)


def draw_hits(pen: LeafPen, meter: Meter, hits: Sequence[float], x: float, y: float, width: float, size: float) -> None:
    """Draw one bar of hits by itself, for hits that belong to no written bar."""
    pen.line(x, y, x, y + 0.95 * size, 0.8)
    pen.line(x + width, y, x + width, y + 0.95 * size, 0.8)
    _rhythm(pen, ChartBar(meter=meter), hits, x, x + width, y, size)
