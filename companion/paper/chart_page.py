"""A chart on paper: its head, section names in the margin, one phrase a row, remarks under each section."""

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music.chord_line import dots_of
from companion.paper.bar_row import LEAST_SHRUNK, draw_hits, draw_row, fitting_rows, row_height
from companion.paper.chart import ChartBar, ChartSection, SongChart
from companion.paper.leaves import PaperInk
from companion.paper.paper_fonts import width_pt, wrapped
from companion.paper.pen import LeafPen, StyledWord
from companion.paper.words_of import ending_words, key_words, note_words, tempo_words

NARROWEST_MARGIN, WIDEST_MARGIN = 98.0, 135.0  # widest margin for section names
NAME: Final = 0.76  # share of the chords' size
REMARK: Final = 0.6
LEAST_PT: Final = 8.0
MAX_REMARK_PT: Final = 14.0
HITS_WIDE: Final = 9.0  # share of the size: one bar of hits by itself
MAX_NOTE_LINES: Final = 4
MAX_TITLE_LINES: Final = 3
MAX_NAME_LINES: Final = 4
ALONE: Final = "feature"  # a * in the margin: the highlighted name says it all


class ChartBlock(msgspec.Struct, frozen=True):
    """A section, or the part of it on this page, with its rows broken to the size."""

    section: ChartSection
    rows: tuple[tuple[ChartBar, ...], ...]
    height: float
    goes_on: bool = False


def chart_head(pen: LeafPen, chart: SongChart, y: float, scale: float) -> float:
    """Write title, key, tempo, who starts and the form from ``y`` down; return the ``y`` where the sections begin."""
    song, reader = chart.song, chart.reader
    y += 18 * scale
    key = key_words(chart.written) if chart.written else "no key yet"
    shown = f"1 = {key_words(reader.counts_from(chart.key))}" if reader.in_numbers and chart.key else key
    shown = f"capo {reader.capo}: {shown}" if reader.capo else shown
    begin = pen.write_left_of(pen.right, y, shown, (24 if chart.key else 13) * scale)
    for number, line in enumerate(wrapped(song.title, 20 * scale, begin - pen.left - 18, MAX_TITLE_LINES)):
        y += 23 * scale if number else 0.0
        pen.write(pen.left, y, line, 20 * scale)
    y += 17 * scale
    whose = reader.shown.replace("Bb", "B♭").replace("Eb", "E♭")
    if chart.key and chart.written != chart.key:
        whose += f", sounds in {key_words(chart.key)}"
    begin = pen.write_left_of(pen.right, y, whose, 9.5 * scale, PaperInk.PENCIL)
    pieces = [("", tempo_words(song), False)] if tempo_words(song) else []
    for label, words in (
        ("starts:", song.starts_with or ""),
        ("count:", song.count_off or ""),
        ("ends:", ending_words(song)),
    ):
        if words:
            pieces.append((label, words, False))
    small = 10.5 * scale
    y = (pen.say(pen.left, y, begin - pen.left - 18, pieces, small, lines=3) if pieces else y + small * 1.3) + 1
    form = " · ".join(_form(chart.sections))
    for line in wrapped(form, 10 * scale, pen.right - pen.left, 3):
        pen.write(pen.left, y, line, 10 * scale, PaperInk.PENCIL)
        y += 13 * scale
    notes = [*chart.notes, *filter(None, [note_words(song) if reader.is_keys else ""])]
    for note in notes:
        for line in wrapped(note, 9.5 * scale, pen.right - pen.left, MAX_NOTE_LINES):
            pen.write(pen.left, y, line, 9.5 * scale)
            y += 12.5 * scale
    pen.line(pen.left, y - 6, pen.right, y - 6, 1.2)
    return y


def _form(sections: Sequence[ChartSection]) -> Iterator[str]:
    """Yield the road map on one line: each name, and how often it comes in a row."""
    for name, group in itertools.groupby(sections, key=lambda section: section.written_name):
        times = len(list(group))
        yield name if times == 1 else f"{name} × {times}"


def blocks_of(
    sections: Sequence[ChartSection], size: float, pen: LeafPen, shrunk: float = LEAST_SHRUNK
) -> Iterator[ChartBlock]:
    """Break the sections' rows to the size: a row is halved before its chords get smaller than ``shrunk`` of it."""
    room = pen.right - pen.left - margin_pt(size)
    for section in sections:
        rows = tuple(part for row in section.rows for part in fitting_rows(row, size, room, shrunk))
        yield block_of(section, rows, size, pen)


def block_of(
    section: ChartSection, rows: tuple[tuple[ChartBar, ...], ...], size: float, pen: LeafPen, *, goes_on: bool = False
) -> ChartBlock:
    """Measure a section with these rows; its remarks follow only where it ends here."""
    block = ChartBlock(section, rows, 0.0, goes_on)
    return msgspec.structs.replace(block, height=_height(block, size, pen))


def margin_pt(size: float) -> float:
    """Return the width of the margin with the section names."""
    return min(WIDEST_MARGIN, max(NARROWEST_MARGIN, size * 5))


def _remark_pt(size: float) -> float:
    return min(max(size * REMARK, LEAST_PT), MAX_REMARK_PT)


def _side_lines(section: ChartSection, size: float) -> list[tuple[str, float, PaperInk]]:
    """Return the text in the margin: name, length, sound."""
    room = margin_pt(size) - 10
    widest = max((width_pt(word, 1.0) for word in section.name.split()), default=0.0)
    name = max(min(size * NAME, room / widest if widest else size), LEAST_PT)  # shrink rather than cut a word
    lines = [(line, name, PaperInk.PEN) for line in wrapped(section.name, name, room, MAX_NAME_LINES)]
    small = _remark_pt(size)
    if section.key:
        lines.append((f"now {section.key}", name, PaperInk.PEN))
    if section.counted and not section.as_before:
        lines += [(line, small, PaperInk.PENCIL) for line in wrapped(section.counted, small, room, 2)]
    if section.sound:
        for sound in section.sound.split("\n"):
            lines += [(line, small, PaperInk.PEN) for line in wrapped(sound, small, room, 2)]
    return lines


def _height(block: ChartBlock, size: float, pen: LeafPen) -> float:
    """Return the height of a block, with the gap after it."""
    side = sum(letters * 1.25 for _line, letters, _ink in _side_lines(block.section, size)) + size * 0.5
    body = sum(row_height(row, size) for row in block.rows)
    if not block.goes_on:
        body += _say(LeafPen(pen.paper), block, 0.0, size)
    return max(side, body) + size * 0.45


def _remarks(section: ChartSection) -> list[StyledWord]:
    pieces: list[StyledWord] = []
    if section.rests:
        pieces.append(("", "tacet", False))
    if section.as_before:
        pieces.append(("as", section.as_before, False))
        if section.counted:
            pieces.append(("", section.counted, False))
    if section.feature and section.feature != ALONE:
        pieces.append(("you:", section.feature, True))
    pieces += [(f"{label}:", words, False) for label, words in section.lines]
    return pieces


def _say(pen: LeafPen, block: ChartBlock, y: float, size: float) -> float:
    """Write the remarks under the rows from the top ``y`` down; return their height."""
    section = block.section
    x = pen.left + margin_pt(size)
    room = pen.right - x
    small = _remark_pt(size)
    used = _as_written(pen, section.unread, x, y, room, size) if section.unread else 0.0
    y += used
    pieces = _remarks(section)
    if pieces:
        before = small * 1.15 + (size * 0.15 if not block.rows else 0.0)
        below = pen.say(x, y + before, room, pieces, small) - y - small * 1.3 + small * 0.4
        used, y = used + below, y + below
    if section.hits:
        wide = size * HITS_WIDE
        pen.write(x, y + size * 0.95, "hits", small, PaperInk.PENCIL)
        for bar in section.hits.bars:
            at = [float(hit.at) for hit in bar.hits]
            draw_hits(pen, section.meter, at, x + small * 3, y + size * 0.25, wide, size)
            used, y = used + size * 1.8, y + size * 1.8
    return used


def _as_written(pen: LeafPen, unread: tuple[str, str], x: float, y: float, room: float, size: float) -> float:
    """Write unreadable chords as they are in the show file, with the fault; return the height."""
    small, here = _remark_pt(size), y
    text, fault = unread
    for line, ink in (
        *((line, PaperInk.PEN) for line in wrapped(text, small * 1.2, room, 12)),
        *((line, PaperInk.PENCIL) for line in wrapped(f"not read: {fault}", small, room, 3)),
    ):
        here += small * 1.5
        pen.write(x, here, line, small * 1.2 if ink is PaperInk.PEN else small, ink)
    return here - y + small * 0.5


def draw_block(pen: LeafPen, block: ChartBlock, y: float, size: float) -> None:
    """Draw a section whose top is ``y``."""
    line_y = y + size * 0.35
    for number, (line, letters, ink) in enumerate(_side_lines(block.section, size)):
        line_y += letters * (0.95 if number == 0 else 1.25)
        if block.section.feature and number == 0:
            pen.highlight(pen.left, line_y, width_pt(line, letters), letters)
        pen.write(pen.left, line_y, line, letters, ink)
    x = pen.left + margin_pt(size)
    for row in block.rows:
        draw_row(pen, row, x, y, pen.right - x, size)
        y += row_height(row, size)
    if not block.goes_on:
        _say(pen, block, y, size)


def legend(pen: LeafPen, charts: Sequence[SongChart]) -> None:
    """Explain at the foot of a page the signs that are on it."""
    sections = [section for chart in charts for section in chart.sections]
    bars = [bar for section in sections for row in section.rows for bar in row]
    struck = [one for bar in bars for one in bar.chords]
    signs = [
        meaning
        for has, meaning in (
            (any(one.pushed for one in struck), "<  an eighth early"),
            (any(_shows_beats(bar) for bar in bars), "/  the chord for one more beat"),
            (any(one.held for one in struck), "diamond: struck and held"),
            (any(one.stopped for one in struck), "^  struck and cut"),
            (any(bar.again for bar in bars), "%  the bar again"),
        )
        if has
    ]
    pen.write(pen.left, pen.bottom - 4, "     ".join(signs), 8, PaperInk.PENCIL)


def _shows_beats(bar: ChartBar) -> bool:
    return bool(bar.chords) and any(dots > 1 for dots in dots_of(bar.chords, bar.meter))
