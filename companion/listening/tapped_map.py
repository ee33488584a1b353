"""Turn taps along a recording into sections with their bars and doubts. Pure."""

import enum
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.files import Reading, SourceFile, Text
from companion.how_many import how_many
from companion.music import Meter
from companion.music.tapping import KNOWN_OFF, MappedSection, lone_taps, map_taps, taps_together
from companion.show import Section, Song
from companion.show.roadmap import RoadMap
from companion.show.show_file import SECTION

FOUR_FOUR: Final = Meter(4, 4)
TEMPO_DIFFERS: Final = 0.005  # precision of tapping; a tempo in the show that differs less stays
ENOUGH_BEATS: Final = 3  # fewer tapped beats measure nothing
MOST: Final = 4  # without beats, a tempo fits all sections but one in so many: of three, some tempo always fits two
HALF: Final = 0.5  # more doubtful bars are as likely wrong as right: they are shown, and not written
MAX_BARS: Final = 400  # bars of one section, as in the show file


class MapTap(enum.Enum):
    """The player's commands while the recording plays; the value is the help text."""

    FIRST = "a section begins here; tap once more at the end of the last one"
    BEAT = "a beat: a few in a row, if you like; optional"
    TAKE_BACK = "take the last tap back"
    BACK = "back ten seconds"
    AGAIN = "once more from the top"
    DONE = "done"


class TapTake(msgspec.Struct, frozen=True):
    """One time through: the taps in the order made, as (whether a section begins, milliseconds)."""

    taps: tuple[tuple[bool, float], ...] = ()

    @property
    def firsts(self) -> tuple[float, ...]:
        """The first beats of sections, and the end, in milliseconds."""
        return tuple(at_ms for is_first, at_ms in self.taps if is_first)

    @property
    def beats(self) -> tuple[float, ...]:
        """The tapped beats, in milliseconds."""
        return tuple(at_ms for is_first, at_ms in self.taps if not is_first)

    def tapped(self, tap: MapTap, at_ms: float) -> "TapTake":
        """Return this time through with one more tap, or one fewer."""
        if tap is MapTap.TAKE_BACK:
            return TapTake(self.taps[:-1])
        return TapTake((*self.taps, (tap is MapTap.FIRST, at_ms))) if tap in (MapTap.FIRST, MapTap.BEAT) else self


class MapSection(msgspec.Struct, frozen=True):
    """A section as it will be written. ``tapped``: its measurements; empty if its end was not tapped."""

    section: Section
    tapped: tuple[MappedSection, ...] = ()
    says: str = ""

    def __str__(self) -> str:
        bars = "bars unknown" if self.section.bars is None else how_many(self.section.bars, "bar")
        passes = f" x{self.section.passes}" if self.section.passes > 1 else ""
        exact = f" (tapped {', '.join(f'{one.exact:.2f}' for one in self.tapped)})" if self.tapped else ""
        return f"{self.section.name}: {bars}{passes}{exact}{f'  ? {self.says}' if self.says else ''}"


class TappedMap(msgspec.Struct, frozen=True):
    """The result of the taps. ``problem``: why nothing can be written. ``tempo_bpm``: set where the show's differs."""

    song: Song
    lines: tuple[MapSection, ...] = ()
    tempo_bpm: float | None = None
    off_bpm: float = 0
    doubts: tuple[str, ...] = ()
    problem: str = ""

    @property
    def road_map(self) -> tuple[Section, ...]:
        """The sections as they will be written."""
        return tuple(line.section for line in self.lines)


def named_sections(text: str) -> tuple[Section, ...]:
    """Read the sections of a recording in shorthand: "Intro*, Verse, Chorus @choir"; none of an empty text.

    Raises CompanionError with what to write.
    """
    if not text.strip():
        return ()
    reading = Reading()
    sections = RoadMap(SECTION).read(Text(text, SourceFile("", text), 1, 1, '"'), reading) or ()
    if reading.faults:
        fault = min(reading.faults)
        raise CompanionError(f"{fault.problem}. Write: {fault.write}")
    return sections


def tapped_map(song: Song, throughs: Sequence[TapTake], named: Sequence[Section] = ()) -> TappedMap:
    """Work out a song's road map from all times through. ``named``: its sections, if it has no road map yet."""
    times = [through.firsts for through in throughs if through.firsts]
    beats = max((through.beats for through in reversed(throughs)), key=len, default=())
    firsts = taps_together(times)
    meter = song.meter or FOUR_FOUR
    begun, many = sum(section.passes for section in named), len(firsts) - 1
    sections = song.road_map or (*named, *(Section(f"Part {at + 1}") for at in range(begun, many)))
    made = map_taps(firsts, meter, beats, song.tempo_bpm, _written(sections, many))
    if made is None:
        return TappedMap(song, problem="tap at least the first beat of a section and its end")
    shared = _shared(sections, made.sections)
    if shared is None:
        passes = sum(section.passes for section in sections)
        each = f", {passes} with each pass" if passes != len(sections) else ""
        has = "the road map has" if song.road_map else "you named"
        problem = f"{has} {how_many(len(sections), 'section')}{each}, but you tapped {len(made.sections)}"
        return TappedMap(song, problem=f"{problem}: tap again from the top, each section's first beat and the end")
    doubts = [f"at {_clock(at)}, only some of your takes have a tap" for at in lone_taps(times)]
    if not shared[-1]:
        doubts.append(f"you did not tap the end: {sections[-1].name} unchanged")
    if song.road_map and named:
        doubts.append("the song has a road map already: --names ignored")
    if song.meter is None:
        doubts.append("the song has no meter: 4/4 assumed")
    unfit = sum(one.doubt > HALF for one in made.sections)
    apart = abs(made.tempo_bpm / song.tempo_bpm - 1) if song.tempo_bpm else 1.0
    is_measured = len(beats) >= ENOUGH_BEATS or unfit * MOST <= len(made.sections)
    if unfit and len(beats) < ENOUGH_BEATS:
        doubts.append("you tapped no beats: tap the song again, with a few beats in a row, and the doubts go")
    is_other = apart > max(TEMPO_DIFFERS, 2 * made.off_bpm / made.tempo_bpm)  # within two standard errors it stays
    is_trusted = is_measured or apart <= KNOWN_OFF
    lines = tuple(
        _line(section, tapped, is_trusted=is_trusted) for section, tapped in zip(sections, shared, strict=True)
    )
    tempo = round(made.tempo_bpm, 1 if made.off_bpm < 0.5 else None)
    return TappedMap(song, lines, float(tempo) if is_other and is_measured else None, made.off_bpm, tuple(doubts))


def _written(sections: Sequence[Section], many: int) -> list[int | None]:
    """Return the bars that the show has for each of so many tapped stretches: a whole section each, or a pass."""
    if many in (len(sections), len(sections) - 1):
        return [section.bars and section.bars * section.passes for section in sections][:many]
    return [section.bars for section in sections for _ in range(section.passes)]


def _shared(
    sections: Sequence[Section], tapped: Sequence[MappedSection]
) -> tuple[tuple[MappedSection, ...], ...] | None:
    """Assign the tapped stretches: one a section, or one a pass; None if neither fits. The last may be missing."""
    if len(tapped) in (len(sections), len(sections) - 1):
        return tuple(tuple(tapped[at : at + 1]) for at in range(len(sections)))
    if len(tapped) != sum(section.passes for section in sections):
        return None
    shared, at = [], 0
    for section in sections:
        shared.append(tuple(tapped[at : at + section.passes]))
        at += section.passes
    return tuple(shared)


def _line(section: Section, tapped: tuple[MappedSection, ...], *, is_trusted: bool) -> MapSection:
    """Return a line with the tapped bars of a section and any doubts. ``is_trusted``: the tempo is probably right."""
    if not tapped:
        return MapSection(section)
    total = sum(one.bars for one in tapped)
    bars, over = divmod(total, section.passes)
    says = [f"{one.doubt:.0%} doubt" for one in tapped if not one.is_sure]
    if over:
        says.append(f"{total} bars do not divide into {section.passes} equal passes")
    if len({one.bars for one in tapped}) > 1:
        says.append(f"passes of {', '.join(str(one.bars) for one in tapped)} bars")
    if bars <= MAX_BARS and (not is_trusted or any(one.doubt > HALF for one in tapped)):
        return MapSection(section, tapped, "; ".join((*says, "its bars stay as they were")))
    if not 1 <= bars <= MAX_BARS:
        says.append(f"a section has 1 to {MAX_BARS} bars")
        bars = max(1, min(bars, MAX_BARS))
    if section.bars not in (None, bars):
        says.append(f"the show has {section.bars}")
    return MapSection(msgspec.structs.replace(section, bars=bars), tapped, "; ".join(says))


def _clock(at_ms: float) -> str:
    return f"{int(at_ms / 1000) // 60}:{int(at_ms / 1000) % 60:02}"
