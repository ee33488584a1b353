"""The parts of a recording that were heard, and the section at a given second. Pure."""

from collections.abc import Sequence
from typing import Final

import msgspec

from companion.music import Meter, bar_seconds
from companion.show import Song
from companion.show.chords import with_bars

FOUR_FOUR: Final = Meter(4, 4)


class HeardStretches(msgspec.Struct, frozen=True):
    """The stretches of a recording that were heard, sorted, not overlapping; one heard again counts once."""

    stretches: tuple[tuple[float, float], ...] = ()

    def with_stretch(self, begin: float, end: float) -> "HeardStretches":
        """Return these stretches with one more."""
        if end <= begin:
            return self
        joined: list[tuple[float, float]] = []
        for first, last in sorted((*self.stretches, (begin, end))):
            if joined and first <= joined[-1][1]:
                joined[-1] = (joined[-1][0], max(joined[-1][1], last))
            else:
                joined.append((first, last))
        return HeardStretches(tuple(joined))

    @property
    def seconds(self) -> float:
        """Seconds heard, each counted once."""
        return sum(last - first for first, last in self.stretches)

    def share(self, length_s: float) -> float:
        """Return the share heard of a recording of this length, 0 to 1."""
        return min(1.0, self.seconds / length_s) if length_s > 0 else 0.0


class Timed(msgspec.Struct, frozen=True):
    """A section with the seconds where it begins and ends."""

    name: str
    begin_s: float
    end_s: float
    feature: str = ""


def timed_sections(song: Song) -> tuple[Timed, ...]:
    """Return the road map in seconds; empty where tempo or bars are missing. An open section lasts one pass."""
    road_map = with_bars(song).road_map
    if song.tempo_bpm is None or not road_map or any(section.bars is None for section in road_map):
        return ()
    bar = bar_seconds(song.meter or FOUR_FOUR, song.tempo_bpm)
    found, at = [], 0.0
    for section in road_map:
        end = at + (section.bars or 0) * section.passes * bar
        found.append(Timed(section.name, at, end, section.feature or ""))
        at = end
    return tuple(found)


def section_at(sections: Sequence[Timed], seconds: float) -> int | None:
    """Return the index of the section at this second; None before the first, after the last, or without sections."""
    return next((at for at, one in enumerate(sections) if one.begin_s <= seconds < one.end_s), None)
