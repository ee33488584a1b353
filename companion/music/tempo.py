"""Tempo and time: bars to seconds, taps to a tempo, lengths as shown."""

import itertools
import math
import re
from collections.abc import Sequence

import msgspec

from companion.music.faults import NotMusic, quoted
from companion.music.meter import Meter

SLOWEST_BPM, FASTEST_BPM = 20.0, 400.0
SILENCE_MS = 2000.0  # below 30 bpm: the player has stopped and starts again (common practice, no source)
OUTLIER = 0.25  # a gap further than this from the median is not a beat: a slip, a missed or a doubled tap
_TEMPO = r"(?i)\s*(?:(?:♩|𝅘𝅥|♪|q|quarter)\.?\s*=\s*)?(?:ca?\.?\s*|~\s*)?([0-9]{1,4}(?:[.,][0-9]{1,3})?)\s*(?:bpm)?\s*$"


class TappedTempo(msgspec.Struct, frozen=True):
    """The tempo of some taps. ``gaps`` counts the gaps used, ``dropped`` the gaps ignored."""

    tempo_bpm: float
    gaps: int
    dropped: int


def bar_seconds(meter: Meter, tempo_bpm: float) -> float:
    """Return the length of one bar in seconds. The tempo counts the meter's felt beats: dotted quarters in 6/8.

    >>> bar_seconds(Meter(6, 8), tempo_bpm=60)
    2.0
    """
    return float(meter.whole_notes / meter.felt_beat) * 60 / tempo_bpm


def song_seconds(bars: float, meter: Meter, tempo_bpm: float) -> float:
    """Return the length of this many bars in seconds."""
    return bars * bar_seconds(meter, tempo_bpm)


def shown_length(seconds: float) -> str:
    """Return a length as players say it, to the nearest second, half up: 2:09, or 1:02:03 from an hour on."""
    whole = math.floor(seconds + 0.5)
    minutes, rest = divmod(whole, 60)
    return f"{minutes}:{rest:02}" if minutes < 60 else f"{minutes // 60}:{minutes % 60:02}:{rest:02}"


def tap_tempo(taps_ms: Sequence[float]) -> TappedTempo | None:
    """Return the tempo of the taps since the last two seconds of silence; None for fewer than two taps.

    Gaps more than a quarter away from the median gap are dropped and the others averaged, so without a slip this is
    60000 x (taps - 1) / (last - first). Times are in milliseconds, in the order of tapping.
    """
    gaps: list[float] = []
    for before, after in itertools.pairwise(taps_ms):
        if after - before > SILENCE_MS:
            gaps.clear()
        elif after > before:
            gaps.append(after - before)
    if not gaps:
        return None
    median = (
        sorted(gaps)[len(gaps) // 2]
        if len(gaps) % 2
        else sum(sorted(gaps)[len(gaps) // 2 - 1 : len(gaps) // 2 + 1]) / 2
    )
    kept = [gap for gap in gaps if abs(gap - median) <= OUTLIER * median] or gaps
    return TappedTempo(60_000 * len(kept) / sum(kept), len(kept), len(gaps) - len(kept))


def read_tempo(text: str) -> float:
    """Read beats a minute, 20 to 400: 112, 112.5, 112 bpm, ♩=112, ca. 112. Raises NotMusic."""
    found = re.match(_TEMPO, text)
    if not found:
        digits = re.search(r"[0-9]{2,3}", text[:40])
        start = len(text) - len(text.lstrip())
        write = digits[0] if digits else "beats a minute, as in 112"
        raise NotMusic(min(start, max(len(text) - 1, 0)), f"{quoted(text)} is not a tempo", write)
    tempo_bpm = float(found[1].replace(",", "."))
    if not SLOWEST_BPM <= tempo_bpm <= FASTEST_BPM:
        limit = SLOWEST_BPM if tempo_bpm < SLOWEST_BPM else FASTEST_BPM
        raise NotMusic(
            found.start(1), f"a tempo is from {SLOWEST_BPM:g} to {FASTEST_BPM:g} beats a minute", f"{limit:g}"
        )
    return tempo_bpm
