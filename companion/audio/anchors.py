"""What the player knows of a recording and need not be heard: it anchors the rest. Pure."""

from collections.abc import Sequence
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from companion.audio.bars import BarGrid
from companion.audio.form import HeardSection
from companion.music import Key, Meter
from companion.show import Song

NEAR_TEMPO: Final = (
    0.08  # the tempo of the record beside the written one: a band plays a song that much faster or slower
)
FOUR_FOUR: Final = Meter(4, 4)
FAR: Final = 0.28  # of a beat between a named downbeat and the nearest beat: the beats are in the wrong place
NEAR_BARS: Final = 0.35  # the bars of the record beside those written: half the way to half as many


class WrittenSection(msgspec.Struct, frozen=True):
    """One pass of a section of the player's road map: its name, its bars, and its place in the road map, from 0."""

    name: str
    bars: int
    place: int


class Anchors(msgspec.Struct, frozen=True):
    """What the player wrote or tapped. Nothing is known where a value is None or empty.

    ``tempo_bpm`` counts felt beats. ``downbeats_s``: seconds from the recording's beginning at which a bar begins.
    ``taps_s``: the same, tapped while the recording played, so that some may be a beat off. ``sections``: the whole
    road map, each pass on its own; empty where the bars of one section are not written.
    """

    key: Key | None = None
    tempo_bpm: float | None = None
    meter: Meter | None = None
    downbeats_s: tuple[float, ...] = ()
    taps_s: tuple[float, ...] = ()
    sections: tuple[WrittenSection, ...] = ()

    @property
    def bars(self) -> int:
        """Return the bars of the whole road map, 0 where they are not written."""
        return sum(one.bars for one in self.sections)

    @property
    def counted(self) -> tuple[int, int] | None:
        """Return the felt beats in a bar and the parts of a beat; None where a bar has half a beat, as in 7/8."""
        if self.meter is None or self.meter.felt_beats.denominator > 1:
            return None
        return int(self.meter.felt_beats), 3 if self.meter.is_compound else 2


NOTHING_KNOWN: Final = Anchors()


def anchors_of(song: Song, downbeats_s: Sequence[float] = (), taps_s: Sequence[float] = ()) -> Anchors:
    """Return what is written in a song's entry, and the downbeats that the player named and tapped."""
    passes = [
        WrittenSection(one.name, one.bars, place)
        for place, one in enumerate(song.road_map)
        if one.bars
        for _ in range(one.passes)
    ]
    is_whole = all(one.bars and not one.open for one in song.road_map)
    meter = song.meter or (FOUR_FOUR if passes and is_whole else None)  # bars were counted in the usual meter
    return Anchors(
        song.record_key,
        song.tempo_bpm,
        meter,
        tuple(sorted(downbeats_s)),
        tuple(sorted(taps_s)),
        tuple(passes) if is_whole else (),
    )


def is_near_tempo(bpm: float, anchors: Anchors) -> bool:
    """Return whether a tempo may be the written one; any may where none is written."""
    return anchors.tempo_bpm is None or abs(np.log(bpm / anchors.tempo_bpm)) < NEAR_TEMPO


def is_near_bars(bars: int, anchors: Anchors) -> bool:
    """Return whether a number of bars may be the written one, and not its half or double; any if none is written."""
    return not anchors.bars or abs(np.log(max(bars, 1) / anchors.bars)) < NEAR_BARS


def off_downbeats(beats: NDArray[np.float64], anchors: Anchors) -> float:
    """Return how far a named downbeat is from the nearest of these beats, at most, as a share of a beat."""
    if not anchors.downbeats_s or len(beats) < 2:
        return 0.0
    return max(float(np.abs(beats - tap).min()) for tap in anchors.downbeats_s) / float(np.median(np.diff(beats)))


def with_downbeats(grid: BarGrid, anchors: Anchors) -> BarGrid:
    """Return the bars moved so that one begins at each downbeat that the player named.

    One downbeat moves all bars alike: a bar of another length stays in its place. Of two that ask for different moves,
    each moves the bars from itself on; the first also those before it. Taps all move the bars alike, as most of them
    ask.
    """
    firsts, many = grid.downbeats, grid.beats_in_bar
    if not firsts:
        return grid
    beats = sorted({int(np.abs(grid.beats - tap).argmin()) for tap in anchors.downbeats_s})
    if not beats and anchors.taps_s:
        tapped = [int(np.abs(grid.beats - tap).argmin()) for tap in anchors.taps_s]
        moves = [_late(beat, firsts, many) for beat in tapped]
        beats = [tapped[moves.index(max(moves, key=moves.count))]]
    if not beats:
        return grid
    moved: list[int] = []
    for number, tapped_at in enumerate(beats):
        begin = tapped_at if number else 0
        end = beats[number + 1] if number + 1 < len(beats) else len(grid.beats)
        late = _late(tapped_at, firsts, many)
        all_alike = [*(first + late - many for first in firsts), firsts[-1] + late] if late else firsts
        moved += [first for first in all_alike if begin <= first < end]
    return msgspec.structs.replace(grid, downbeats=tuple(moved))


def _late(beat: int, firsts: Sequence[int], many: int) -> int:
    """Return how many beats after the beginning of its bar a beat comes; 0 for the first beat of one."""
    before = [first for first in firsts if first <= beat]
    return beat - before[-1] if before else (beat - firsts[0]) % many


def placed(sections: Sequence[WrittenSection], heard: Sequence[HeardSection]) -> list[HeardSection]:
    """Return the player's sections where they fit best among those heard; none where the recording has fewer bars.

    Each keeps the letter and the move of what was heard there. Bars beyond them stay as heard.
    """
    bars = heard[-1].start + heard[-1].bars if heard else 0
    total = sum(one.bars for one in sections)
    if not sections or total > bars:
        return []
    sure = {one.start: one.sure for one in heard}
    lengths = np.asarray([one.bars for one in sections])
    starts = np.concatenate([[0], np.cumsum(lengths)[:-1]])
    best = max(range(bars - total + 1), key=lambda at: (sum(sure.get(int(at + one), 0.0) for one in starts), -at))
    found = []
    for begin, many in zip(starts + best, lengths, strict=True):
        inside = max(heard, key=lambda one: min(one.start + one.bars, begin + many) - max(one.start, begin))
        found.append(HeardSection(int(begin), int(many), inside.letter, inside.shift, 1.0))
    return found
