"""A chart before it is laid out: the road map as sections, each with its rows of bars as one player reads them.

A section that has no chords of its own has those of the last section of its name, and is written out once: where it
comes again as it was, a line says so. Numbers follow the practice that companion.music takes by default.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Final

import msgspec

from companion.music import Bar, ChordLine, Hits, Key, Meter, NotMusic, Repeat, Struck, read_chord_line, read_hits
from companion.music.chord_line import ordinal
from companion.paper.readers import Reader
from companion.paper.words_of import key_words
from companion.show import Section, Song, SoundCall
from companion.show.sounding import sounds_on

FOUR_FOUR: Final = Meter(4, 4)
C_MAJOR: Final = Key.signed(0)
BARS_A_ROW: Final = 4  # where the chord line says no phrases
LONGEST_ROW: Final = 8  # bars that one row can hold
BLANK_UP_TO: Final = 32  # bars that are drawn empty, to be filled in with a pencil; a longer section is one bar


class ChartBar(msgspec.Struct, frozen=True):
    """One bar on paper, with what stands at its lines. ``empty`` is so many bars without chords in one."""

    chords: tuple[Struck, ...] = ()
    meter: Meter = FOUR_FOUR
    number: int = 1  # in its section, from 1, as it is written
    again: int = 0
    empty: int = 0
    meter_shown: bool = False
    opens: bool = False
    closes: bool = False
    times: int = 0
    ending: str = ""
    hits: tuple[float, ...] = ()  # where in the bar, in units of its meter


class ChartSection(msgspec.Struct, frozen=True):
    """One section on paper. ``as_before`` names the section that it is played like; then it has no rows."""

    name: str  # with its number, where several have that name
    written_name: str
    counted: str = ""
    as_before: str = ""
    key: str = ""  # where it is not that of the section before: in B♭, 1 = B♭
    rows: tuple[tuple[ChartBar, ...], ...] = ()
    hits: Hits | None = None  # those of no named bar
    meter: Meter = FOUR_FOUR
    feature: str = ""
    sound: str = ""  # one keyboard a line
    rests: bool = False
    lines: tuple[tuple[str, str], ...] = ()  # watch, cue, words: what it is, what it says
    unread: tuple[str, str] | None = None  # chords that cannot be read: as written, and what is wrong with them


class Chart(msgspec.Struct, frozen=True):
    """A song as one player reads it."""

    song: Song
    reader: Reader
    key: Key | None  # concert
    written: Key | None  # as this player reads it
    sections: tuple[ChartSection, ...]
    notes: tuple[str, ...] = ()


class NoChart(ValueError):  # noqa: N818 - as NotMusic
    """The chords of a section cannot be read. ``key`` is where they stand in the show file."""

    def __init__(self, section: Section, key: str, fault: NotMusic) -> None:
        self.section = section
        self.key = key
        self.fault = fault
        super().__init__(f"{section.name}: {fault}")


def chart_of(song: Song, reader: Reader, key: Key | None = None) -> Chart:
    """Chart a song for a reader; ``key`` is another concert key than the song's.

    Chords that cannot be read stand there as they are written.
    """
    concert = key or song.key
    reads = _reading(song, reader, key)
    road_map = song.road_map or (Section("", bars=BLANK_UP_TO),)
    up = (key.tonic.semitone - song.key.tonic.semitone) if key and song.key else 0
    sections: list[ChartSection] = []
    written: dict[str, tuple[str, Key | None]] = {}  # of a name: its last chords, and the key they stand in
    drawn: dict[tuple[str, Key | None, str, Key | None], str] = {}  # of name, key, chords: what the section is called
    names = Counter(section.name.casefold() for section in road_map)
    seen: Counter[str] = Counter()
    was, before = song.key or key, concert
    told = ""  # the sounds that were told last
    for section, sounds in zip(road_map, sounds_on(song), strict=True):
        was = section.key or was
        now = concert if was is None or was == song.key else was.transposed(up)
        name = section.name.casefold()
        seen[name] += 1
        text, their_key = written.get(name, ("", None))
        if section.chords:
            text, their_key = section.chords, was
            written[name] = (text, was)
        line, unread = _line_or_fault(section, text, song.meter or FOUR_FOUR)
        hits = _hits(section, song.meter or FOUR_FOUR)
        if line is not None:
            line = _read_by(line, their_key, now, reads, in_numbers=reader.in_numbers)
        called = f"{section.name} {seen[name]}" if names[name] > 1 else section.name
        same = (name, now if not reader.in_numbers else None, text or str(section.bars), their_key)
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
                _counted(section, line),
                as_before if not rests else "",
                _key_told(reads(now), reads(before) if before else None, reader) if now and now != before else "",
                () if as_before or rests or unread else _rows(section, line, hits if named_bars else None, song),
                None if named_bars else hits,
                song.meter or FOUR_FOUR,
                (section.feature or "") if reader.is_keys else "",
                sound if sound != told else "",
                rests,
                tuple(_said(section, hits)),
                None if as_before or rests else unread,
            )
        )
        before, told = now, sound or told
    written_key = reads(concert) if concert else None
    return Chart(song, reader, concert, written_key, tuple(sections), tuple(_notes(song, reader, concert, key)))


def _reading(song: Song, reader: Reader, other: Key | None) -> Callable[[Key], Key]:
    """Tell how this player reads a concert key: the keys as they finger it, on an instrument that is tuned so."""
    hands = song.fingered_in
    if not reader.is_keys or reader.in_numbers or other or hands is None or song.key is None:
        return reader.reads
    home = song.key.tonic.semitone
    return lambda concert: hands.transposed(concert.tonic.semitone - home)


_read = lru_cache(1024)(read_chord_line)
"""A pack reads each line once, whatever number of players there is."""


def line_of(section: Section, text: str, meter: Meter) -> ChordLine | None:
    """Read the chords that a section has, its own or those of one before it. Raises NoChart."""
    if not text:
        return None
    try:
        return _read(text, meter)
    except NotMusic as fault:
        raise NoChart(section, "chords", fault) from None


def _line_or_fault(section: Section, text: str, meter: Meter) -> tuple[ChordLine | None, tuple[str, str] | None]:
    """Return the chords of a section, or the text as it is written with what is wrong in it."""
    try:
        return line_of(section, text, meter), None
    except NoChart as trouble:
        return None, (" ".join(text.split()), trouble.fault.problem)


def _key_told(key: Key, before: Key | None, reader: Reader) -> str:
    """Say which key it is from here on; in numbers only where 1 is another note than before."""
    if not reader.in_numbers:
        return f"in {key_words(key)}"
    one = reader.counts_from(key)
    return "" if before and one == reader.counts_from(before) else f"1 = {key_words(one)}"


def _hits(section: Section, meter: Meter) -> Hits | None:
    """Read the hits; words about them are no rhythm, and are printed as words."""
    try:
        return read_hits(section.hits, meter) if section.hits else None
    except NotMusic:
        return None


def _read_by(
    line: ChordLine, was: Key | None, now: Key | None, reads: Callable[[Key], Key], *, in_numbers: bool
) -> ChordLine:
    """Give a line that was written for one key as the reader has it in another one."""
    if in_numbers:
        return line.as_numbers(was) if was else line
    if line.in_numbers:
        return line.as_letters(reads(now)).plain if now else line
    old = was or C_MAJOR  # letters of a song without a key: their distance counts, and C has no signs
    new = reads(now or C_MAJOR)
    return (line if old == new else line.moved(old, new)).plain


def _counted(section: Section, line: ChordLine | None) -> str:
    bars = section.bars or (line.bars if line else 0)
    words = [f"{bars} bar{'' if bars == 1 else 's'}"] if bars and section.name else []
    if section.passes > 1:
        words.append(f"× {section.passes}")
    if section.open:
        words.append("open")
    return " ".join(words)


def _sounds(calls: tuple[SoundCall, ...]) -> Iterator[str]:
    """Give each keyboard's sound with the keyboard; a bare one only where no keyboard has it by name."""
    named = {call.sound for call in calls if call.keyboard}
    for call in calls:
        if call.keyboard:
            yield f"{call.keyboard}: {call.sound}"
        elif call.sound not in named:
            yield call.sound


def _said(section: Section, hits: Hits | None) -> Iterator[tuple[str, str]]:
    if section.hits and hits is None:
        yield "hits", section.hits
    if section.watch:
        yield "watch", section.watch
    if section.cue:
        yield "cue", section.cue
    if section.first_words:
        yield "words", f"“{section.first_words} …”"


def _notes(song: Song, reader: Reader, concert: Key | None, other: Key | None) -> Iterator[str]:
    if reader.in_numbers and concert and concert.mode.value != "major":
        one = key_words(reader.counts_from(concert))
        yield f"In {key_words(concert)}. Numbers count from {one}, the relative major."
    if not song.road_map:
        yield "No road map yet: the names and the chords are for your pencil."
    if concert is None and any(section.chords for section in song.road_map):
        yield "No key is written yet: numbers stay numbers, and letters are moved as if from C."
    if other and song.key and other != song.key:
        yield f"Here in {other}; the band's list says {song.key}."


def _rows(section: Section, line: ChordLine | None, hits: Hits | None, song: Song) -> tuple[tuple[ChartBar, ...], ...]:
    meter = song.meter or FOUR_FOUR
    if line is None:
        return _blank(section.bars or 0, meter, hits)
    folded = hits is None or not any(isinstance(part, Repeat) for part in line.parts)
    line = line if folded else ChordLine(line.played, meter)
    bars = list(_bars(line))
    if hits:
        bars = [msgspec.structs.replace(bar, hits=_at(hits, bar.number)) for bar in bars]
    return tuple(_phrases(line, bars))


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
    """Give the bars as written. Their numbers are those that are played where nothing is repeated."""
    number = 1
    for part in line.parts:
        if isinstance(part, Bar):
            yield _bar(part, line, number)
        else:
            yield from _repeated(part, line, number)
        number += part.bars


def _repeated(part: Repeat, line: ChordLine, number: int) -> Iterator[ChartBar]:
    """Give a repeat with its signs: times are written where they are not two, or where endings do not say them."""
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
    """Cut the bars into rows: where the line ends its phrases, else every four bars."""
    ends = list(_phrase_ends(line))
    if not any(ends):
        yield from _fours(bars)
        return
    phrase: list[ChartBar] = []
    for bar, last in zip(bars, ends, strict=True):
        phrase.append(bar)
        if last:
            yield from _fours(phrase, LONGEST_ROW)
            phrase = []
    if phrase:
        yield from _fours(phrase, LONGEST_ROW)


def _phrase_ends(line: ChordLine) -> Iterator[bool]:
    for part in line.parts:
        if isinstance(part, Bar):
            yield part.ends_phrase
            continue
        written = [*part.body, *(bar for ending in part.endings for bar in ending.bars)]
        for place, bar in enumerate(written):
            yield bar.ends_phrase or (part.ends_phrase and place == len(written) - 1)
