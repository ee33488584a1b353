"""The beat mark: slashes as on a chart's staff, one for each beat, the current one inked; or a count-off's number.

Each slash comes and goes once a bar or more slowly: if a bar is so short that a slash would flash more than three
times a second, the mark spans several bars. The whole mark stays far under the area that may flash at any rate.
"""

import itertools
import math
from typing import Final

import msgspec

from companion.screen.legibility import MAX_FLASHES
from companion.screen.page import PageSize, Sizes
from companion.view import Beat, View

SLASH_ARCMIN: Final = 24.0  # height of a slash on the usual page; it is not text, so no reading size applies
SLASH_APART: Final = 0.75  # from slash to slash, as a share of its height


class BeatMark(msgspec.Struct, frozen=True):
    """Where the mark is, in px: ``places`` slashes side by side, or one number if it counts off."""

    x: int
    y: int
    width: int
    height: int
    places: int
    counts_off: bool


def places_of(beat: Beat) -> int:
    """Return the number of slashes, at least 2: the beats of one bar, or of enough bars to respect ``MAX_FLASHES``."""
    bar_s = sum(beat.beats) * 60 / beat.tempo_bpm
    bars = math.ceil(1 / (MAX_FLASHES * bar_s))
    if len(beat.beats) * bars == 1:
        bars = 2  # a single slash would stay inked and mark nothing
    return len(beat.beats) * bars


def beat_mark(view: View, page: PageSize, sizes: Sizes) -> BeatMark | None:
    """Return where the mark goes: the right of the head row, or of the large line for a count-off; None: no beat."""
    beat = view.beat
    if beat is None:
        return None
    scale = sizes.least / 20 * page.px_per_arcmin
    if beat.count_off_bars:
        high, wide = 1.3 * sizes.large * page.px_per_arcmin, 1.4 * sizes.large * page.px_per_arcmin
        y = sizes.margin / 2 + 1.6 * sizes.least * page.px_per_arcmin
        return BeatMark(round(page.width - sizes.margin - wide), round(y), round(wide), round(high), 1, counts_off=True)
    places, high = places_of(beat), SLASH_ARCMIN * scale
    apart = min(high * SLASH_APART, page.width / 3 / (places + 1))
    wide = apart * (places + 0.5)
    y = sizes.margin / 2 + 0.15 * high
    return BeatMark(
        round(page.width - sizes.margin - wide), round(y), round(wide), round(high), places, counts_off=False
    )


class BeatStroke(msgspec.Struct, frozen=True):
    """What the mark shows: the inked place or the beat counted, from 0 (None: none), and when it changes, in ms."""

    place: int | None
    until_ms: float


def stroke_at(beat: Beat, now_ms: float) -> BeatStroke:
    """Return what the mark shows at this time of the show."""
    beat_ms = 60_000 / beat.tempo_bpm
    bar_ms = sum(beat.beats) * beat_ms
    since = now_ms - beat.from_ms
    if since < 0:
        return BeatStroke(None, beat.from_ms)
    bar = math.floor(since / bar_ms)
    if beat.count_off_bars and bar >= beat.count_off_bars:
        return BeatStroke(None, math.inf)
    ends = itertools.accumulate((length * beat_ms for length in beat.beats), initial=0.0)
    within = since - bar * bar_ms
    starts = list(ends)
    number = max((place for place, start in enumerate(starts[:-1]) if start <= within), default=0)
    until = beat.from_ms + bar * bar_ms + starts[number + 1]
    place = number if beat.count_off_bars else (bar * len(beat.beats) + number) % places_of(beat)
    return BeatStroke(place, max(until, math.nextafter(now_ms, math.inf)))
