"""A chart before layout: the road map as sections, each with its rows of bars as one player reads them.

A section that repeats unchanged is written out once; later a line refers to it. Number charts follow the default of
companion.music.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Final

import msgspec

from companion.how_many import how_many
from companion.music import Bar, ChordLine, Hits, Key, Meter, NotMusic, Repeat, Struck, read_hits
from companion.music.chord_line import ordinal
from companion.paper.readers import ChartReader
from companion.paper.words_of import key_words
from companion.show import Section, SectionChords, Song, SoundCall, chords_on, song_keys
from companion.show.chords import FOUR_FOUR, in_key, written_elsewhere
from companion.show.notes_in_key import notes_written_in
from companion.show.sounding import sounds_on

C_MAJOR: Final = Key.signed(0)
BARS_A_ROW: Final = 4  # where the chord line marks no phrases
LONGEST_ROW: Final = 8  # most bars in one row
TWICE: Final = 2
BLANK_UP_TO: Final = 32  # most empty bars that are drawn one by one for a pencil; a longer section is one bar


class ChartBar(msgspec.Struct, frozen=True):
    """One bar on paper, with the signs at its bar lines. ``empty``: the number of empty bars that it stands for."""

    chords: tuple[Struck, ...] = ()
    meter: Meter = FOUR_FOUR
    number: int = 1  # in its section as written, from 1
    again: int = 0
    empty: int = 0
    meter_shown: bool = False
    opens: bool = False
    closes: bool = False
    times: int = 0
    ending: str = ""
    hits: tuple[float, ...] = ()  # positions in the bar, in units of its meter


class ChartSection(msgspec.Struct, frozen=True):
    """One section on paper. ``as_before`` names the earlier section that it repeats; then it has no rows."""

    name: str  # numbered where several sections share the name
    written_name: str
    counted: str = ""
    as_before: str = ""
    key: str = ""  # if it differs from the section before: in B♭, 1 = B♭
    rows: tuple[tuple[ChartBar, ...], ...] = ()
    hits: Hits | None = None  # hits that belong to no written bar
    meter: Meter = FOUR_FOUR
    feature: str = ""
    sound: str = ""  # one line per keyboard
    rests: bool = False
    lines: tuple[tuple[str, str], ...] = ()  # watch, cue, words: (label, text)
    unread: tuple[str, str] | None = None  # unreadable chords: as written, and what is wrong


class SongChart(msgspec.Struct, frozen=True):
    """A song as one player reads it."""

    song: Song
    reader: ChartReader
    key: Key | None  # concert
    written: Key | None  # transposed for this player
    sections: tuple[ChartSection, ...]
    notes: tuple[str, ...] = ()


def chart_of(song: Song, reader: ChartReader, key: Key | None = None) -> SongChart:
    """Chart a song for a reader; ``key`` replaces the song's concert key.

    Chords that cannot be read are printed as written.
    """
    here = in_key(msgspec.structs.replace(song, fingered_in=None), key) if key else song
    here = here if here.road_map else msgspec.structs.replace(here, road_map=(Section("", bars=BLANK_UP_TO),))
    home = song_keys(here)
    sections: list[ChartSection] = []
    drawn: dict[tuple[str, Key | None, str], str] = {}  # the section's printed name, by its name, key, chords and bars
    names = Counter(section.name.casefold() for section in here.road_map)
    seen: Counter[str] = Counter()
    before = home.sounds
    printed = ""  # the sounds printed last
    for on, sounds in zip(chords_on(here, home), sounds_on(here), strict=True):
        section, name = on.section, on.section.name.casefold()
        seen[name] += 1
        line, unread = _line_or_fault(on, reader)
        hits = _hits(section, on.meter)
        called = f"{section.name} {seen[name]}" if names[name] > 1 else section.name
        same = (name, None if reader.in_numbers else on.sounds, str(line or section.bars))
        named_bars = hits is not None and hits.last_bar > 0
        as_before = drawn.get(same, "") if not section.chords and not named_bars else ""
        rests = (section.tacet or song.tacet) and reader.is_keys
        if not rests:
            drawn.setdefault(same, called)
        sound = "\n".join(_sounds(sounds)) if reader.is_keys and not rests else ""
        sections.append(
            ChartSection(
                called,
                section.name,
                _counted(on),
                as_before if not rests else "",
                _key_note(on, before, reader),
                () if as_before or rests or unread else _rows(section, line, hits if named_bars else None, song),
                None if named_bars else hits,
                on.meter,
                (section.feature or "") if reader.is_keys else "",
                sound if sound != printed else "",
                rests,
                tuple(_remarks(section, hits)),
                None if as_before or rests else unread,
            )
        )
        before, printed = on.sounds, sound or printed
    written_key = _read(home.sounds, home.hands, reader)
    notes = list(_notes(song, reader, here.key, key))
    written = written_elsewhere(song, home.hands if reader.is_keys else home.sounds)
    if written and not key and not reader.in_numbers:
        notes.append(f"Chords written in {key_words(written)}, moved to {key_words(written_key)}.")
    if key and song.key:
        song = msgspec.structs.replace(song, notes=notes_written_in(song.notes, song.key, key))
    return SongChart(song, reader, here.key, written_key, tuple(sections), tuple(notes))


def _read(sounds: Key | None, hands: Key | None, reader: ChartReader) -> Key | None:
    """Return the key that this player reads; for the keys, the key that they finger on a retuned keyboard."""
    if reader.is_keys and not reader.in_numbers:
        return hands
    return reader.reads(sounds) if sounds else None


def line_for(on: SectionChords, reader: ChartReader) -> ChordLine | None:
    """Return the chords of a section as this player reads them; None if it has none. Raises NotMusic."""
    line = on.line
    if line is None or (on.written is None and reader.in_numbers):
        return line
    if on.written and reader.in_numbers:
        return line.as_numbers(on.written)
    old = on.written or C_MAJOR  # the song has no key: only the interval matters, and C has no accidentals
    key = _read(on.sounds, on.hands, reader)
    if line.in_numbers:
        return on.line_in(key)
    new = key or reader.reads(old)
    return (line if old == new else line.moved(old, new)).plain


def _line_or_fault(on: SectionChords, reader: ChartReader) -> tuple[ChordLine | None, tuple[str, str] | None]:
    """Return the chords of a section, or the text as written with its fault."""
    try:
        return line_for(on, reader), None
    except NotMusic as fault:
        return None, (" ".join(on.text.split()), fault.problem)


def _key_note(on: SectionChords, before: Key | None, reader: ChartReader) -> str:
    """Return the key to print from here on; for numbers, only where 1 differs from ``before``, in concert pitch."""
    if on.sounds is None or on.sounds == before:
        return ""
    if not reader.in_numbers:
        return f"in {key_words(_read(on.sounds, on.hands, reader))}"
    one = reader.counts_from(on.sounds)
    return "" if before and one == reader.counts_from(before) else f"1 = {key_words(one)}"


def _hits(section: Section, meter: Meter) -> Hits | None:
    """Read the hits; text that is not a rhythm is printed as text."""
    try:
        return read_hits(section.hits, meter) if section.hits else None
    except NotMusic:
        return None


def _counted(on: SectionChords) -> str:
    section, bars = on.section, on.bars
    words = [how_many(bars, "bar")] if bars and section.name else []
    if on.chords_for and words:
        words = [f"{words[0]}, chords for {on.chords_for}"]
    if section.passes > 1:  # not as x 2, which would seem to count the repeats in its bars
        words.append("played twice" if section.passes == TWICE else f"played {section.passes} times")
    if section.open:
        words.append("open")
    return (", " if section.passes > 1 else " ").join(words)


def _sounds(calls: tuple[SoundCall, ...]) -> Iterator[str]:
    """Yield each sound with its keyboard; a sound without a keyboard only where no keyboard has that name."""
    named = {call.sound for call in calls if call.keyboard}
    for call in calls:
        if call.keyboard:
            yield f"{call.keyboard}: {call.sound}"
        elif call.sound not in named:
            yield call.sound


def _remarks(section: Section, hits: Hits | None) -> Iterator[tuple[str, str]]:
    if section.hits and hits is None:
        yield "hits", section.hits
    if section.watch:
        yield "watch", section.watch
    if section.cue:
        yield "cue", section.cue
    if section.first_words:
        yield "words", f"“{section.first_words} …”"


def _notes(song: Song, reader: ChartReader, concert: Key | None, other: Key | None) -> Iterator[str]:
    if reader.in_numbers and concert and concert.mode.value != "major":
        one = key_words(reader.counts_from(concert))
        capo = f" with capo {reader.capo}" if reader.capo else ""
        yield f"In {key_words(reader.reads(concert))}{capo}. Numbers count from {one}, the relative major."
    if not song.road_map:
        yield "No road map yet: pencil in the sections and chords."
    if concert is None and any(section.chords for section in song.road_map):
        yield "No key written yet: numbers stay numbers, and letters are transposed as if from C."
    if other and song.key and other != song.key:
        yield f"Here in {other}; the band's list says {song.key}."


def _rows(section: Section, line: ChordLine | None, hits: Hits | None, song: Song) -> tuple[tuple[ChartBar, ...], ...]:
    meter = song.meter or FOUR_FOUR
    if line is None:
        return _blank(section.bars or 0, meter, hits)
    folded = hits is None or not any(isinstance(part, Repeat) for part in line.parts)
    line = line if folded else ChordLine(line.played, meter)
    bars = [*_bars(line), *_rest(line.bars, section.bars or 0, meter)]
    if hits:
        bars = [msgspec.structs.replace(bar, hits=_at(hits, bar.number)) for bar in bars]
    return tuple(_phrases(line, bars))


def _rest(chords: int, bars: int, meter: Meter) -> Iterator[ChartBar]:
    """Yield empty bars for a pencil, from the last chord to the end of the section."""
    if bars - chords > BLANK_UP_TO:
        yield ChartBar(meter=meter, number=chords + 1, empty=bars - chords)
    else:
        yield from (ChartBar(meter=meter, number=number) for number in range(chords + 1, bars + 1))


def _at(hits: Hits, bar: int) -> tuple[float, ...]:
    return tuple(float(hit.at) for hit in hits.in_bar(bar))


def _blank(bars: int, meter: Meter, hits: Hits | None) -> tuple[tuple[ChartBar, ...], ...]:
    if not bars:
        return ()
    if bars > BLANK_UP_TO:
        return ((ChartBar(meter=meter, empty=bars),),)
    empty = [
        ChartBar(meter=meter, number=number, hits=_at(hits, number) if hits else ()) for number in range(1, bars + 1)
    ]
    return tuple(_fours(empty))


def _fours(bars: list[ChartBar], size: int = BARS_A_ROW) -> Iterator[tuple[ChartBar, ...]]:
    for start in range(0, len(bars), size):
        yield tuple(bars[start : start + size])


def _bars(line: ChordLine) -> Iterator[ChartBar]:
    """Yield the bars as written, numbered as played if nothing is repeated."""
    number = 1
    for part in line.parts:
        if isinstance(part, Bar):
            yield _bar(part, line, number)
        else:
            yield from _repeated(part, line, number)
        number += part.bars


def _repeated(part: Repeat, line: ChordLine, number: int) -> Iterator[ChartBar]:
    """Yield a repeat with its signs. The count is printed unless it is two or the endings show it."""
    for place, bar in enumerate(part.body):
        ends = not part.endings and place == len(part.body) - 1
        shown = _bar(bar, line, number + place)
        times = part.times if ends and part.times != 2 else 0
        yield msgspec.structs.replace(shown, opens=place == 0, closes=ends, times=times)
    for ending in part.endings:
        for place, bar in enumerate(ending.bars):
            ends = place == len(ending.bars) - 1 and ending is not part.endings[-1]
            label = "" if place else _passes(ending.passes)
            yield msgspec.structs.replace(_bar(bar, line, number), ending=label, closes=ends)


def _passes(passes: tuple[int, ...]) -> str:
    return ordinal(passes[0]) if len(passes) == 1 else f"{ordinal(passes[0])}–{ordinal(passes[-1])}"


def _bar(bar: Bar, line: ChordLine, number: int) -> ChartBar:
    return ChartBar(bar.chords, bar.meter or line.meter, number, bar.again, meter_shown=bar.meter is not None)


def _phrases(line: ChordLine, bars: list[ChartBar]) -> Iterator[tuple[ChartBar, ...]]:
    """Cut the bars into rows: at the chord line's phrase ends, else every four bars."""
    ends = list(_phrase_ends(line))
    if not any(ends):
        yield from _fours(bars)
        return
    phrase: list[ChartBar] = []
    for bar, last in zip(bars, ends, strict=False):  # empty bars follow the chords
        phrase.append(bar)
        if last:
            yield from _fours(phrase, LONGEST_ROW)
            phrase = []
    begun = len(phrase)
    empty = bars[len(ends) :]
    phrase += empty[: -begun % BARS_A_ROW]
    yield from _fours(phrase, LONGEST_ROW)
    yield from _fours(empty[len(phrase) - begun :])


def _phrase_ends(line: ChordLine) -> Iterator[bool]:
    for part in line.parts:
        if isinstance(part, Bar):
            yield part.ends_phrase
            continue
        written = [*part.body, *(bar for ending in part.endings for bar in ending.bars)]
        for place, bar in enumerate(written):
            yield bar.ends_phrase or (part.ends_phrase and place == len(written) - 1)
