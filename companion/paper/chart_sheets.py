"""Charts laid out on sheets: as large as one page allows, over several pages where needed, or short ones together."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import msgspec

from companion.paper.bar_row import LEAST_SHRUNK, row_height
from companion.paper.chart import ChartBar, ChartSection, SongChart
from companion.paper.chart_page import ChartBlock, block_of, blocks_of, chart_head, draw_block, legend
from companion.paper.leaves import Bookmark, Leaf, Paper
from companion.paper.pen import LeafPen

LARGEST_PT: Final = 30.0  # capitals of 21 pt: 15' even from standing; larger only takes room from the bars
USUAL_PT: Final = 20.0  # capitals of 14 pt: 24' at 0.7 m, from a music stand (common practice, no source)
FILLED_IN_PT: Final = 14.0  # below this, chords cannot be pencilled in, and empty bars only take up room
LEAST_PT: Final = 13.0  # capitals of 9.3 pt, 16' from a music stand: take a second page rather than go smaller
SHARED_PT: Final = 15.0  # songs share a page only where their chords are at least this large
GOOD_SHRUNK: Final = 0.85  # on a page with room: the smallest share of the size for a crowded row's chords
STEP_PT: Final = 0.5
FOOT_PT: Final = 14.0
WIDEST_GAP: Final = 1.2  # share of the size: most spare room added between sections
BETWEEN_SONGS_PT: Final = 18.0
MAX_TRIES: Final = 3  # further sizes tried after one fits
CLOSE: Final = 0.03  # share of the page's height: fuller than this, no further size is tried
LARGEST_HEAD: Final = 1.3  # the title grows with the chords up to this size

Sections = Sequence[ChartSection]


class ChartSheets(msgspec.Struct, frozen=True):
    """The pages of one song, or a page shared by several."""

    titles: tuple[str, ...]
    leaves: tuple[Leaf, ...]


class _Fit(msgspec.Struct, frozen=True):
    """Charts at a size: the blocks of each, the height available, and the height left; below 0, they do not fit."""

    size: float
    blocks: tuple[tuple[ChartBlock, ...], ...]
    room: float
    left: float

    @property
    def rows(self) -> int:
        """Rows of bars in all charts."""
        return sum(len(block.rows) for blocks in self.blocks for block in blocks)


def chart_sheets(
    charts: Iterable[tuple[SongChart, str]], paper: Paper, *, level: int = 0, share: bool = False
) -> Iterator[ChartSheets]:
    """Lay out charts, each with its link target. With ``share``, consecutive short ones share a page."""
    together: list[tuple[SongChart, str]] = []
    for one in charts:
        if together and not (share and _have_room([chart for chart, _name in (*together, one)], paper)):
            yield _laid_out(together, paper, level)
            together = []
        together.append(one)
    if together:
        yield _laid_out(together, paper, level)


def _have_room(charts: Sequence[SongChart], paper: Paper) -> bool:
    """Return whether charts fit on a shared page at a readable size, empty bars merged."""
    return _at([_without_blanks(chart) for chart in charts], SHARED_PT, paper).left >= 0


def _laid_out(charts: Sequence[tuple[SongChart, str]], paper: Paper, level: int) -> ChartSheets:
    titles = tuple(chart.song.title for chart, _name in charts)
    marks = tuple(Bookmark(chart.song.title, level, name) for chart, name in charts)
    whole = [chart for chart, _name in charts]
    fit = _largest(whole, paper, USUAL_PT, GOOD_SHRUNK) or _largest(whole, paper, FILLED_IN_PT, LEAST_SHRUNK)
    if fit is None:
        whole = [_without_blanks(chart) for chart in whole]
        fit = _largest(whole, paper, LEAST_PT, LEAST_SHRUNK)
    leaves = _several(whole[0], paper) if fit is None else [_one_page(whole, fit, paper)]
    return ChartSheets(titles, (msgspec.structs.replace(leaves[0], bookmarks=marks), *leaves[1:]))


def _without_blanks(chart: SongChart) -> SongChart:
    """Return the chart with each run of empty bars merged into one: there is no room to fill them in."""
    sections = [
        msgspec.structs.replace(section, rows=((ChartBar(meter=section.meter, empty=_bars_in(section)),),))
        if section.rows and not any(bar.chords or bar.hits for row in section.rows for bar in row)
        else section
        for section in chart.sections
    ]
    return msgspec.structs.replace(chart, sections=tuple(sections))


def _bars_in(section: ChartSection) -> int:
    return sum(bar.empty or 1 for row in section.rows for bar in row)


def _largest(charts: Sequence[SongChart], paper: Paper, least: float, shrunk: float) -> _Fit | None:
    """Return nearly the largest size at which the charts fit on one page; None if none fits.

    ``shrunk`` is the smallest share of that size for a crowded row's chords. No phrase is broken only to allow larger
    letters. Nearly everything scales with the size, so few tries are enough.
    """
    fit = _at(charts, USUAL_PT, paper, shrunk)
    rows, room = fit.rows, fit.room
    found = fit if fit.left >= 0 else None
    low, high = (USUAL_PT, LARGEST_PT + STEP_PT) if found else (least - STEP_PT, USUAL_PT)  # both known
    tries = 0
    while high - low > STEP_PT and not (found and (tries >= MAX_TRIES or found.left < CLOSE * room)):
        tries += 1
        broken = fit.left >= 0 and fit is not found
        guess = (low + high) / 2 if broken else fit.size * room / (room - fit.left)
        fit = _at(charts, min(high - STEP_PT, max(low + STEP_PT, guess // STEP_PT * STEP_PT)), paper, shrunk)
        if fit.left >= 0 and (fit.size <= USUAL_PT or fit.rows <= rows):
            found, low = fit, fit.size
        else:
            high = fit.size
    return found


def _head_scale(size: float) -> float:
    return min(LARGEST_HEAD, max(1.0, size / USUAL_PT))


def _at(charts: Sequence[SongChart], size: float, paper: Paper, shrunk: float = LEAST_SHRUNK) -> _Fit:
    """Lay charts out at this size, one under the other, even if they do not fit on one page."""
    pen = LeafPen(paper)
    room = left = pen.bottom - pen.top - FOOT_PT - BETWEEN_SONGS_PT * (len(charts) - 1)
    blocks = []
    for chart in charts:
        left -= chart_head(LeafPen(paper), chart, 0.0, _head_scale(size))
        blocks.append(tuple(blocks_of(chart.sections, size, pen, shrunk)))
        left -= sum(block.height for block in blocks[-1])
    return _Fit(size, tuple(blocks), room, left)


def _one_page(charts: Sequence[SongChart], fit: _Fit, paper: Paper) -> Leaf:
    """Draw charts one under the other; spare room goes between their sections."""
    pen = LeafPen(paper)
    gaps = sum(len(blocks) for blocks in fit.blocks) + 2 * (len(charts) - 1)
    gap = min(WIDEST_GAP * fit.size, fit.left / max(1, gaps))
    y = pen.top
    for number, (chart, blocks) in enumerate(zip(charts, fit.blocks, strict=True)):
        if number:
            y += BETWEEN_SONGS_PT + 2 * gap
        y = chart_head(pen, chart, y, _head_scale(fit.size))
        for block in blocks:
            draw_block(pen, block, y, fit.size)
            y += block.height + gap
    legend(pen, charts)
    return pen.leaf()


def _several(chart: SongChart, paper: Paper) -> list[Leaf]:
    """Lay out a chart too long for one page: the largest letters that need no more pages than the smallest do."""
    pen = LeafPen(paper)
    size = LEAST_PT
    pages = list(_pages(chart.sections, size, pen, chart))
    while size < USUAL_PT:
        larger = list(_pages(chart.sections, size + STEP_PT, pen, chart))
        if len(larger) > len(pages):
            break
        size, pages = size + STEP_PT, larger
    leaves = []
    for number, page in enumerate(pages):
        pen = LeafPen(paper)
        if number:
            title = f"{chart.song.title}, page {number + 1} of {len(pages)}"
            pen.write(pen.left, pen.top + 12, title, 13, room=pen.right - pen.left)
            y = pen.top + 24
        else:
            y = chart_head(pen, chart, pen.top, 1.0)
        for block in page:
            draw_block(pen, block, y, size)
            y += block.height
        legend(pen, [chart])
        leaves.append(pen.leaf())
    return leaves


def _pages(sections: Sections, size: float, pen: LeafPen, chart: SongChart) -> Iterator[list[ChartBlock]]:
    """Divide the sections among pages; one higher than a page continues on the next."""
    left = pen.bottom - FOOT_PT - chart_head(LeafPen(pen.paper), chart, pen.top, 1.0)
    whole = pen.bottom - FOOT_PT - pen.top - 24
    page: list[ChartBlock] = []
    waiting = list(reversed(list(blocks_of(sections, size, pen))))
    while waiting:
        block = waiting.pop()
        if block.height <= left:
            page.append(block)
            left -= block.height
            continue
        rows = _rows_in(block, size, left, pen)
        if rows and len(block.rows) > rows:
            page.append(block_of(block.section, block.rows[:rows], size, pen, goes_on=True))
            waiting.append(block_of(block.section, block.rows[rows:], size, pen))
        elif page:
            waiting.append(block)
        else:
            page.append(block)  # a section without rows is never higher than a page
        yield page
        page, left = [], whole
    if page:
        yield page


def _rows_in(block: ChartBlock, size: float, left: float, pen: LeafPen) -> int:
    """Return how many of the section's rows fit, with the rest of the section."""
    used = block_of(block.section, (), size, pen).height
    for number, row in enumerate(block.rows):
        used += row_height(row, size)
        if used > left:
            return number
    return len(block.rows)
