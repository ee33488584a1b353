"""Hits: accents that the whole band plays together, written as counted (4, 4&), for one bar or bar by bar.

| written | means |
|---|---|
| `4, 4&` | on four and on the "and" of four; with no bar named, the player knows which bar |
| `1 & 3` | the same with spaces: a lone & belongs to the beat before it; `& of 1` and `1+` work too |
| `2e, 2a` | the sixteenths around the "and": 2 e & a |
| `/ | 1 | % | 4, 4&` | bars from the section's first: / is a bar without hits, % repeats the bar before |
| `bar 8 4, 4& | bar 16 1` | only in these bars of the section |

Beats count the meter's unit, so 6/8 counts to six (common practice, no source).
"""

import re
from fractions import Fraction

import msgspec

from companion.music.faults import NotMusic, quoted
from companion.music.meter import Meter

LONGEST_HITS = 2_000
MAX_BARS = 400
FOUR_FOUR = Meter(4, 4)
QUARTERS = ("", "e", "&", "a")  # of one beat, as they are counted aloud
_PART_OF = {"e": 1, "&": 2, "+": 2, "and": 2, "a": 3, "": 0}
_HIT = re.compile(r"(?P<and>(?:&|\+|and) of )?(?P<beat>[0-9]{1,2})?(?P<part>e|&|\+|and|a|)(?![^\s,])")
_BAR = re.compile(r"\s*bar\s*([0-9]{1,3})\b", re.IGNORECASE)
_TIME = re.compile(r"\s*/+\s*")
_AGAIN = re.compile(r"\s*%\s*")


class Hit(msgspec.Struct, frozen=True, order=True):
    """One accent: the beat of the bar, from 1, and the quarter of that beat, 0 to 3."""

    beat: int
    quarter: int = 0

    @property
    def at(self) -> Fraction:
        """Units of the meter since the bar began."""
        return self.beat - 1 + Fraction(self.quarter, 4)

    def __str__(self) -> str:
        return f"{self.beat}{QUARTERS[self.quarter]}"


class HitBar(msgspec.Struct, frozen=True):
    """The hits of one bar, in playing order. ``bar`` counts from 1 in the section; None if the player named none."""

    bar: int | None
    hits: tuple[Hit, ...]

    def __str__(self) -> str:
        return ", ".join(str(hit) for hit in self.hits)


class Hits(msgspec.Struct, frozen=True):
    """The hits of a section. Their text reads back as equal hits in the same meter."""

    bars: tuple[HitBar, ...]

    def in_bar(self, bar: int) -> tuple[Hit, ...]:
        """Return the hits of a bar of the section, counted from 1; hits without a bar number belong to no bar."""
        return tuple(hit for one in self.bars if one.bar == bar for hit in one.hits)

    @property
    def last_bar(self) -> int:
        """The last bar named, or 0 if none is; to compare with the section's own number of bars."""
        return max((one.bar or 0 for one in self.bars), default=0)

    def __str__(self) -> str:
        return " | ".join(str(one) if one.bar is None else f"bar {one.bar} {one}" for one in self.bars)


def read_hits(text: str, meter: Meter = FOUR_FOUR) -> Hits:
    """Read the hits of a section in this meter, in the forms of the table above. Raises NotMusic."""
    if len(text) > LONGEST_HITS:
        raise NotMusic(LONGEST_HITS, f"hits have at most {LONGEST_HITS} characters", "the bars that matter")
    pieces = list(re.finditer(r"[^|]+", text))
    first_named = _BAR.match(text)
    bars: list[HitBar] = []
    for place, piece in enumerate(pieces, start=1):
        named = _BAR.match(text, piece.start(), piece.end())
        start = named.end() if named else piece.start()
        bar = int(named[1]) if named else place if len(pieces) > 1 else None
        if bar is not None and not 1 <= bar <= MAX_BARS:
            raise NotMusic(piece.start(), f"a section has bars 1 to {MAX_BARS}", "bar 1")
        if bool(named) is not bool(first_named):
            raise NotMusic(piece.start(), "either all bars are named or none", f"bar {place}")
        bars.append(HitBar(bar, _hits_of(text, start, piece.end(), meter, bars[-1].hits if bars else ())))
    bars = [one for one in bars if one.hits]
    if not bars:
        raise NotMusic(0, "there are no hits here", "the beats, as in 4, 4&")
    return Hits(tuple(bars))


def _hits_of(text: str, start: int, stop: int, meter: Meter, before: tuple[Hit, ...]) -> tuple[Hit, ...]:
    """Read the hits of one bar; ``before`` are the hits of the previous bar."""
    if _TIME.fullmatch(text, start, stop):
        return ()
    if _AGAIN.fullmatch(text, start, stop):
        return before
    hits: set[Hit] = set()
    last: int | None = None  # the previous beat, which a lone & belongs to
    column = _after_gap(text, start, stop)
    if column == stop:
        raise NotMusic(min(start, len(text) - 1), "there are no hits in this bar", "/ for a bar without hits")
    while column < stop:
        found = _HIT.match(text, column, stop)
        beat = int(found["beat"]) if found and found["beat"] else last
        if not found or not found[0] or beat is None or (found["and"] and (found["part"] or not found["beat"])):
            write = "the beats, as in 4, 4&; words belong in cue"
            raise NotMusic(column, f"{quoted(text[column:stop].strip())} is not a rhythm", write)
        if not 1 <= beat <= meter.beats:
            raise NotMusic(column, f"a bar of {meter} has beats 1 to {meter.beats}, not {beat}", str(meter.beats))
        hits.add(Hit(beat, 2 if found["and"] else _PART_OF[found["part"]]))
        last = beat
        column = _after_gap(text, found.end(), stop)
    return tuple(sorted(hits))


def _after_gap(text: str, column: int, stop: int) -> int:
    while column < stop and text[column] in ", \t\r\n":
        column += 1
    return column
