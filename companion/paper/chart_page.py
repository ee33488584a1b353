"""Charts on paper: one page a song, section names in the margin, one phrase a row; smaller where it is long."""

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music.chord_line import dots_of
from companion.paper.bars import draw_hits, draw_row, fitting_rows, row_height
from companion.paper.chart import Chart, ChartBar, ChartSection
from companion.paper.leaves import Ink, Leaf, Paper
from companion.paper.pen import Pen, Said
from companion.paper.typeface import width_pt, wrapped
from companion.paper.words_of import ending_words, key_words, tempo_words

MARGIN: Final = 100.0  # where the section names stand
CHORD_PT: Final = 20.0  # capitals of 14 pt: 24' and more from a music stand, see leaves.READ_ARCMIN and STAND_M
LEAST_CHORD_PT: Final = 9.5  # before a chart gets smaller than this it takes a second page
ROOM_TO_FILL_IN_PT: Final = 14.0  # below it nobody writes chords in by hand, and empty bars take up room
STEP_PT: Final = 0.75
NAME: Final = 0.76  # of the chords' size
SAID: Final = 0.6
LEAST_PT: Final = 7.5
HITS_WIDE: Final = 9.0  # of the size: one bar of hits by itself
FOOT_PT: Final = 14.0
ALONE: Final = "feature"  # a * in the margin: the highlighter on the name says it all


class Block(msgspec.Struct, frozen=True):
    """A section, or a part of one that goes on on the next page, with its rows broken to the size."""

    section: ChartSection
    rows: tuple[tuple[ChartBar, ...], ...]
    height: float
    goes_on: bool = False


def chart_leaves(chart: Chart, paper: Paper, name: str = "", level: int = 0) -> list[Leaf]:
    """Lay a chart out, on one page if it can be read so, else on as many as it takes."""
    sheet = Pen(paper)
    top = _head(sheet, chart)
    room = sheet.bottom - FOOT_PT - top
    size = CHORD_PT
    blocks = list(_blocks(chart.sections, size, sheet))
    while (needed := sum(block.height for block in blocks)) > room and size > LEAST_CHORD_PT:
        steps = max(1, int(size * (1 - room / needed) / STEP_PT))  # nearly all gets smaller with the chords
        size = max(size - steps * STEP_PT, LEAST_CHORD_PT)
        sections = _without_blanks(chart.sections) if size < ROOM_TO_FILL_IN_PT else chart.sections
        blocks = list(_blocks(sections, size, sheet))
    leaves: list[Leaf] = []
    title = chart.song.title
    for number, page in enumerate(_pages(blocks, size, sheet, room)):
        pen = sheet if number == 0 else Pen(paper)
        y = top
        if number:
            pen.write(pen.left, pen.top + 12, f"{title}, page {number + 1}", 13, room=pen.right - pen.left)
            y = pen.top + 24
        for block in page:
            _draw(pen, block, y, size)
            y += block.height
        if number == 0:
            _legend(pen, chart)
        leaves.append(pen.leaf(title if number == 0 else "", level, name if number == 0 else ""))
    return leaves


def _without_blanks(sections: Sequence[ChartSection]) -> list[ChartSection]:
    """Give the sections with one bar for all that are empty: there is no room to fill them in."""
    return [
        msgspec.structs.replace(section, rows=((ChartBar(meter=section.meter, empty=_bars_in(section)),),))
        if section.rows and not any(bar.chords or bar.hits for row in section.rows for bar in row)
        else section
        for section in sections
    ]


def _bars_in(section: ChartSection) -> int:
    return sum(bar.empty or 1 for row in section.rows for bar in row)


def _head(pen: Pen, chart: Chart) -> float:
    """Write title, key, tempo, who starts, the form; give where the sections begin."""
    song, reader = chart.song, chart.reader
    y = pen.top + 18
    key = key_words(chart.written) if chart.written else "no key yet"
    shown = f"1 = {key_words(reader.counts_from(chart.key))}" if reader.in_numbers and chart.key else key
    begin = pen.write_left_of(pen.right, y, shown, 24 if chart.key else 13)
    pen.write(pen.left, y, song.title, 20, room=begin - pen.left - 18)
    y += 17
    whose = reader.shown.replace("Bb", "B♭").replace("Eb", "E♭")
    if chart.key and chart.written != chart.key:
        whose += f", sounds in {key_words(chart.key)}"
    begin = pen.write_left_of(pen.right, y, whose, 9.5, Ink.PENCIL)
    said: list[Said] = []
    if tempo_words(song):
        said.append(("", tempo_words(song), False))
    for label, words in (
        ("starts:", song.starts_with or ""),
        ("count:", song.count_off or ""),
        ("ends:", ending_words(song)),
    ):
        if words:
            said.append((label, words, False))
    pen.say(pen.left, y, begin - pen.left - 18, said, 10.5, lines=2)
    y += 14 if _one_line(said, 10.5, begin - pen.left - 18) else 28
    form = " · ".join(_form(chart.sections))
    for line in wrapped(form, 10, pen.right - pen.left, 2):
        pen.write(pen.left, y, line, 10, Ink.PENCIL)
        y += 13
    notes = [*chart.notes, *([" ".join(song.notes.split())] if song.notes and reader.is_keys else [])]
    for note in notes:
        for line in wrapped(note, 9.5, pen.right - pen.left, 2):
            pen.write(pen.left, y, line, 9.5)
            y += 12.5
    pen.line(pen.left, y - 6, pen.right, y - 6, 1.2)
    return y


def _one_line(said: Sequence[Said], size: float, room: float) -> bool:
    return sum(width_pt(f"{label} {words}", size) + size * 1.2 for label, words, _lit in said) <= room


def _form(sections: Sequence[ChartSection]) -> Iterator[str]:
    """Give the road map in one breath: each name, and how often in a row."""
    for name, group in itertools.groupby(sections, key=lambda section: section.written_name):
        times = len(list(group))
        yield name if times == 1 else f"{name} × {times}"


def _blocks(sections: Sequence[ChartSection], size: float, pen: Pen) -> Iterator[Block]:
    room = pen.right - pen.left - MARGIN
    for section in sections:
        yield _block(section, tuple(part for row in section.rows for part in fitting_rows(row, size, room)), size, pen)


def _block(
    section: ChartSection, rows: tuple[tuple[ChartBar, ...], ...], size: float, pen: Pen, *, goes_on: bool = False
) -> Block:
    block = Block(section, rows, 0.0, goes_on)
    return msgspec.structs.replace(block, height=_height(block, size, pen))


def _pages(blocks: Sequence[Block], size: float, pen: Pen, room: float) -> Iterator[list[Block]]:
    """Put the blocks on pages; a section that is longer than the rest of a page goes on on the next."""
    page: list[Block] = []
    left = room
    waiting = list(reversed(blocks))
    while waiting:
        block = waiting.pop()
        if block.height <= left:
            page.append(block)
            left -= block.height
            continue
        rows = _rows_in(block, size, left, pen)
        whole = pen.bottom - FOOT_PT - pen.top - 24
        if rows and block.height > whole:
            page.append(_block(block.section, block.rows[:rows], size, pen, goes_on=True))
            waiting.append(_block(block.section, block.rows[rows:], size, pen))
        elif page:
            waiting.append(block)
        else:
            page.append(block)  # a section without rows is never higher than a page
        yield page
        page, left = [], whole
    if page or not blocks:
        yield page


def _rows_in(block: Block, size: float, left: float, pen: Pen) -> int:
    """How many of its rows have room, with what else the section has."""
    used = _block(block.section, (), size, pen).height
    for number, row in enumerate(block.rows):
        used += row_height(row, size)
        if used > left:
            return number
    return len(block.rows)


def _said_pt(size: float) -> float:
    return max(size * SAID, LEAST_PT)


def _side_lines(section: ChartSection, size: float) -> list[tuple[str, float, Ink]]:
    """Give what stands in the margin: the name, how long, the sound."""
    name = max(size * NAME, LEAST_PT)
    room = MARGIN - 10
    lines = [(line, name, Ink.PEN) for line in wrapped(section.name, name, room, 2)]
    small = _said_pt(size)
    if section.key:
        lines.append((f"now {section.key}", name, Ink.PEN))
    if section.counted:
        lines += [(line, small, Ink.PENCIL) for line in wrapped(section.counted, small, room, 2)]
    if section.sound:
        for sound in section.sound.split("\n"):
            lines += [(line, small, Ink.PEN) for line in wrapped(sound, small, room, 2)]
    return lines


def _height(block: Block, size: float, pen: Pen) -> float:
    """Height of a block, with the gap after it."""
    side = sum(letters * 1.25 for _line, letters, _ink in _side_lines(block.section, size)) + size * 0.5
    body = sum(row_height(row, size) for row in block.rows)
    if not block.goes_on:
        body += _say(Pen(pen.paper), block, 0.0, size)
    return max(side, body) + size * 0.45


def _said(section: ChartSection) -> list[Said]:
    said: list[Said] = []
    if section.rests:
        said.append(("", "tacet", False))
    if section.as_before:
        said.append(("as", section.as_before, False))
    if section.feature and section.feature != ALONE:
        said.append(("you:", section.feature, True))
    said += [(f"{label}:", words, False) for label, words in section.lines]
    return said


def _say(pen: Pen, block: Block, y: float, size: float) -> float:
    """Write what stands under the rows, from the top ``y`` on; give how high it is."""
    section = block.section
    x, room = pen.left + MARGIN, pen.right - pen.left - MARGIN
    small = _said_pt(size)
    used = _as_written(pen, section.unread, x, y, room, size) if section.unread else 0.0
    y += used
    said = _said(section)
    if said:
        before = small * 1.15 + (size * 0.15 if not block.rows else 0.0)
        below = pen.say(x, y + before, room, said, small) - y - small * 1.3 + small * 0.4
        used, y = used + below, y + below
    if section.hits:
        wide = size * HITS_WIDE
        pen.write(x, y + size * 0.95, "hits", small, Ink.PENCIL)
        for bar in section.hits.bars:
            at = [float(hit.at) for hit in bar.hits]
            draw_hits(pen, section.meter, at, x + small * 3, y + size * 0.25, wide, size)
            used, y = used + size * 1.8, y + size * 1.8
    return used


def _as_written(pen: Pen, unread: tuple[str, str], x: float, y: float, room: float, size: float) -> float:
    """Write chords that cannot be read as they are in the show file, and what is wrong; return how high that is."""
    small, here = _said_pt(size), y
    text, fault = unread
    for line, ink in (
        *((line, Ink.PEN) for line in wrapped(text, small * 1.2, room, 12)),
        *((line, Ink.PENCIL) for line in wrapped(f"not read: {fault}", small, room, 3)),
    ):
        here += small * 1.5
        pen.write(x, here, line, small * 1.2 if ink is Ink.PEN else small, ink)
    return here - y + small * 0.5


def _draw(pen: Pen, block: Block, y: float, size: float) -> None:
    line_y = y + size * 0.35
    for number, (line, letters, ink) in enumerate(_side_lines(block.section, size)):
        line_y += letters * (0.95 if number == 0 else 1.25)
        if block.section.feature and number == 0:
            pen.highlight(pen.left, line_y, width_pt(line, letters), letters)
        pen.write(pen.left, line_y, line, letters, ink)
    x = pen.left + MARGIN
    for row in block.rows:
        draw_row(pen, row, x, y, pen.right - x, size)
        y += row_height(row, size)
    if not block.goes_on:
        _say(pen, block, y, size)


def _has_beats(chart: Chart) -> bool:
    """Whether any bar shows the beats of its chords."""
    bars = (bar for section in chart.sections for row in section.rows for bar in row if bar.chords)
    return any(dots > 1 for bar in bars for dots in dots_of(bar.chords, bar.meter))


def _legend(pen: Pen, chart: Chart) -> None:
    """Say what the signs mean that stand on this chart."""
    struck = [one for section in chart.sections for row in section.rows for bar in row for one in bar.chords]
    signs = [
        meaning
        for has, meaning in (
            (any(one.pushed for one in struck), "<  an eighth early"),
            (_has_beats(chart), "/  the chord for one more beat"),
            (any(one.held for one in struck), "diamond: struck and held"),
            (any(one.stopped for one in struck), "^  struck and cut"),
            (any(bar.again for section in chart.sections for row in section.rows for bar in row), "%  the bar again"),
        )
        if has
    ]
    pen.write(pen.left, pen.bottom - 4, "     ".join(signs), 8, Ink.PENCIL)
