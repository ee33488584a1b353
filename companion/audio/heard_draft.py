"""A hearing as a player would write it: key, tempo, meter, and a road map with chords. Pure."""

from collections.abc import Sequence
from statistics import fmean
from typing import Final

import msgspec

from companion.audio.anchors import NOTHING_KNOWN, Anchors, placed
from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord
from companion.audio.hearing import Hearing
from companion.audio.key_changes import SectionKey, section_keys
from companion.music import Key

SURE: Final = 0.9  # what is less sure is shown as a doubt
KINDS: Final = {
    ("maj", 0): "",
    ("maj", 11): "maj7",
    ("maj", 10): "7",
    ("min", 0): "m",
    ("min", 11): "m(maj7)",
    ("min", 10): "m7",
    ("sus4", 0): "sus4",
    ("sus4", 10): "7sus4",
    ("sus2", 0): "sus2",
    ("dim", 0): "dim",
    ("dim", 9): "dim7",
    ("dim", 10): "m7b5",
    ("aug", 0): "aug",
}
SHARPS: Final = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"]
FLATS: Final = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"]
THIN: Final = 0.7  # of what usually begins in a bar; measured on invented songs (tests/bench/hear.py)
AGAINST_SECTIONS: Final = 0.8  # how sure a key is at most in which no section is
MANY: Final = 4  # places that are named in one doubt
LOOP_BARS: Final = (1, 2, 4, 8)


class DraftSection(msgspec.Struct, frozen=True):
    """A section of the draft: a letter as its name, its bars, its chord line, and the probability of each.

    ``key``: the record's key from here on, if it changes here. ``is_thin``: little begins here beside the rest of the
    song, as where the drums wait: the keys may be alone.
    """

    name: str
    bars: int
    chords: str
    start_s: float
    start_sure: float
    chords_sure: float
    key: Key | None = None
    key_sure: float = 1.0
    is_thin: bool = False
    end_s: float = 0.0


class SongDraft(msgspec.Struct, frozen=True):
    """What was heard, in the show file's words. ``None`` where nothing could be heard.

    ``cents``: the recording's distance from A = 440 Hz. ``first_bar_s``: where bar one begins; what comes before is
    silence or a count-off. ``is_own_map``: the sections are those of the player's road map, one for each pass.
    ``has_second_song``: this seems a medley. ``has_clear_chords``: false if this may be a voice alone. The
    probabilities are those of the key, the tempo and the meter.
    """

    record_key: Key | None
    key_sure: float
    second_key: Key | None
    cents: float
    tempo_bpm: float | None
    other_tempo_bpm: float | None
    tempo_sure: float
    drift: float
    meter: str | None
    meter_sure: float
    swing: bool
    first_bar_s: float
    sections: tuple[DraftSection, ...]
    is_own_map: bool = False
    has_second_song: bool = False
    has_clear_chords: bool = True
    doubts: tuple[str, ...] = ()


def draft_of(hearing: Hearing, anchors: Anchors = NOTHING_KNOWN) -> SongDraft:
    """Return a hearing as a draft of the song's entry, with the player's own sections where they are written."""
    written = placed(anchors.sections, hearing.sections)
    names = [one.name for one in anchors.sections] if written else [one.letter for one in hearing.sections]
    spans = written or hearing.sections
    grid = hearing.grid
    keys = section_keys(hearing.key.key, hearing.chords, spans, grid.downbeats, grid.beats_in_bar)
    key_sure = hearing.key.sure
    if keys and all(one.key != hearing.key.key for one in keys):
        key_sure = min(key_sure, AGAINST_SECTIONS)
        keys = [SectionKey(hearing.key.key, 1.0)] * len(spans)
    key = keys[0].key if keys and anchors.key is None else hearing.key.key
    sections = _sections(spans, names, hearing, keys or [SectionKey(key, 1.0)] * len(spans))
    drift = hearing.tempo_last_bpm / hearing.tempo_first_bpm - 1 if hearing.tempo_first_bpm else 0.0
    second = hearing.key.key if key != hearing.key.key else hearing.key.second
    draft = SongDraft(
        record_key=key,
        key_sure=key_sure,
        second_key=second,
        cents=round(hearing.cents, 1),
        tempo_bpm=_tempo(hearing.tempo_bpm),
        other_tempo_bpm=hearing.other_tempo_bpm,
        tempo_sure=hearing.tempo_sure,
        drift=drift,
        meter=_meter(hearing, anchors),
        meter_sure=hearing.grid.sure,
        swing=hearing.grid.swing > 0.5,
        first_bar_s=hearing.bar_s[0] if hearing.bar_s else 0.0,
        sections=sections,
        is_own_map=bool(written),
        has_second_song=hearing.second_song is not None,
        has_clear_chords=hearing.has_clear_chords,
    )
    doubts = [*_medley(hearing), *_one_voice(draft), *_other_bars(hearing, anchors), *_doubts(draft)]
    return msgspec.structs.replace(draft, doubts=tuple(doubts))


def _medley(hearing: Hearing) -> list[str]:
    found = hearing.second_song
    if found is None:
        return []
    why = f"the tempo goes from {found.before_bpm:.0f} to {found.after_bpm:.0f}" if found.before_bpm else "a pause ends"
    return [f"one song? At {_clock(found.at_s)} {why}. If a second song begins there, cut the recording in two"]


def _one_voice(draft: SongDraft) -> list[str]:
    if draft.has_clear_chords or not draft.sections:
        return []
    return ["chords: hardly any are clear. Is this a voice or one instrument alone? Then only the key may be right"]


def _meter(hearing: Hearing, anchors: Anchors) -> str | None:
    if len(hearing.bar_s) <= 2:
        return None
    return hearing.grid.meter if anchors.counted is None else str(anchors.meter)


def _other_bars(hearing: Hearing, anchors: Anchors) -> list[str]:
    bars = len(hearing.bar_s) - 1
    if not anchors.sections or bars == anchors.bars:
        return []
    return [f"bars: your road map has {anchors.bars}, the recording {bars}?"]


def _tempo(bpm: float) -> float | None:
    """Return the tempo in whole beats a minute: closer than a drummer keeps it."""
    return float(round(bpm)) if bpm else None


def _doubts(draft: SongDraft) -> list[str]:
    """Return what to ask about, the most doubtful first."""
    if not draft.sections:
        return ["no chords heard: is this speech, drums alone, voices alone, or noise?"]
    doubts: list[tuple[float, str]] = []
    if draft.record_key is not None and draft.key_sure < SURE:
        doubts.append((draft.key_sure, f"key: {draft.record_key} or {draft.second_key}?"))
    if draft.tempo_bpm and draft.other_tempo_bpm and draft.tempo_sure < SURE:
        doubts.append((draft.tempo_sure, f"tempo: {draft.tempo_bpm:g} or {draft.other_tempo_bpm:g}?"))
    if draft.meter and draft.meter_sure < SURE:
        doubts.append((draft.meter_sure, f"meter: is it {draft.meter}?"))
    weak = [one for one in draft.sections[1:] if one.start_sure < SURE]
    if weak:
        doubts.append((weak[0].start_sure, f"form: does a new section begin here? {_places(weak)}"))
    dim = [one for one in draft.sections if one.chords_sure < SURE]
    if dim and draft.has_clear_chords:
        doubts.append((SURE, f"chords: check them here: {_places(dim)}"))
    doubts += [
        (one.key_sure, f"key change: does {one.name} at {_clock(one.start_s)} go to {one.key}?")
        for one in draft.sections
        if one.key is not None and one.key_sure < SURE
    ]
    return [text for _, text in sorted(doubts)]


def _places(sections: Sequence[DraftSection]) -> str:
    """Return where these begin: Verse at 1:07, and how many more where there are many."""
    named = ", ".join(f"{one.name} at {_clock(one.start_s)}" for one in sections[:MANY])
    return f"{named} and {len(sections) - MANY} more" if len(sections) > MANY else named


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02}"


def _sections(
    spans: Sequence[HeardSection], names: Sequence[str], hearing: Hearing, keys: Sequence[SectionKey]
) -> tuple[DraftSection, ...]:
    """Return the sections, each with its key if it is another one than before."""
    found, now = [], hearing.key.key if not keys else keys[0].key
    busy = [fmean(hearing.busy[one.start : one.start + one.bars] or (1.0,)) for one in spans]
    for one, name, own, much in zip(spans, names, keys, busy, strict=True):
        section = _section(one, name, hearing, own.key)
        end_s = hearing.bar_s[one.start + one.bars]
        section = msgspec.structs.replace(section, is_thin=much < THIN, end_s=end_s)
        if own.key != now:
            section = msgspec.structs.replace(section, key=own.key, key_sure=own.sure)
        found.append(section)
        now = own.key
    return tuple(found)


def _section(one: HeardSection, name: str, hearing: Hearing, key: Key | None) -> DraftSection:
    firsts = hearing.grid.downbeats
    bars, sures = [], []
    for bar in range(one.start, one.start + one.bars):
        first = firsts[bar]
        last = firsts[bar + 1] if bar + 1 < len(firsts) else first + hearing.grid.beats_in_bar
        inside = [chord for chord in hearing.chords if chord.start < last and chord.stop > first]
        bars.append(_bar(inside, first, last, hearing.grid.parts, key))
        sures += [chord.sure for chord in inside]
    return DraftSection(
        name,
        one.bars,
        chord_line(bars),
        hearing.bar_s[one.start],
        one.sure,
        sum(sures) / len(sures) if sures else 0.0,
    )


def _bar(inside: Sequence[HeardChord], first: int, last: int, parts: int, key: Key | None) -> str:
    """Return a bar's chords as written: alone, evenly shared, or with dots for their beats."""
    if not inside:
        return "N.C."
    names = [chord_name(one, key) for one in inside]
    beats = [min(one.stop, last) - max(one.start, first) for one in inside]
    if len(set(beats)) == 1:
        return " ".join(names)
    dots = 3 if parts == 3 else 1
    return " ".join(name + "." * (dots * many) for name, many in zip(names, beats, strict=True))


def chord_name(chord: HeardChord, key: Key | None) -> str:
    """Return a chord in letters, spelled with the flats or the sharps of the key."""
    if chord.root is None:
        return "N.C."
    names = SHARPS if key is not None and key.sf > 0 else FLATS
    over = f"/{names[(chord.root + chord.bass) % 12]}" if chord.bass else ""
    return f"{names[chord.root]}{KINDS[chord.triad, chord.seventh]}{over}"


def chord_line(bars: Sequence[str]) -> str:
    """Return bars as a player would write them: a loop once with its count, a bar like the one before as %.

    >>> chord_line(["C", "G", "Am", "F"] * 2)
    '(C | G | Am | F) x2'
    >>> chord_line(["C", "C", "F"])
    'C | % | F'
    """
    for loop in LOOP_BARS:
        times, left = divmod(len(bars), loop)
        if times > 1 and not left and all(bars[at] == bars[at % loop] for at in range(len(bars))):
            once = _repeated(bars[:loop])
            return f"({once}) x{times}"
    return _repeated(bars)


def _repeated(bars: Sequence[str]) -> str:
    return " | ".join("%" if at and bar == bars[at - 1] else bar for at, bar in enumerate(bars))
