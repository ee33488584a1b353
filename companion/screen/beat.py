"""The beat mark: slashes as on a chart's staff, one for each beat, the one that is now inked; a count-off's number.

A slash comes and goes once a bar, or more slowly: more slashes are drawn where a bar is so short that one place would
flash more than three times a second. All of it together stays far under the area that a flash may have at any rate.
"""

import itertools
import math
from typing import Final

import msgspec

from companion.screen.legibility import MAX_FLASHES
from companion.screen.page import PageSize, Sizes
from companion.view.view_lines import Beat, View

SLASH_ARCMIN: Final = 24.0  # height of a slash on the usual page; it is no letter, and need not be read
SLASH_APART: Final = 0.75  # of its height


class BeatMark(msgspec.Struct, frozen=True):
    """Where the mark is, in px: ``places`` slashes side by side, or one number where it counts off."""

    x: int
    y: int
    width: int
    height: int
    places: int
    counts_off: bool


def places_of(beat: Beat) -> int:
    """Tell how many slashes are drawn: the beats of a bar, or of as many bars as keep each place calm."""
    bar_s = sum(beat.beats) * 60 / beat.tempo_bpm
    bars = math.ceil(1 / (MAX_FLASHES * bar_s))
    if len(beat.beats) * bars == 1:
        bars = 2  # a single slash that never goes marks nothing
    return len(beat.beats) * bars


def beat_mark(view: View, page: PageSize, sizes: Sizes) -> BeatMark | None:
    """Return the place of the mark: the head row's right end; for a count-off's number, the right of the large line."""
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
    """What the mark shows: the place that is inked (or the number counted), from 0, and when that changes, in ms."""

    place: int | None
    until_ms: float


def stroke_at(beat: Beat, now_ms: float) -> BeatStroke:
    """Tell what the mark shows at this time of the show."""
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
