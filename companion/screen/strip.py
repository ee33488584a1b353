"""The slim line over a song's own chart: section, what comes next, and how far the chart is turned. Pure."""

from collections.abc import Callable, Iterator
from typing import Final

from msgspec.structs import replace

from .blocks import Block
from .fitting import Fitted, Fitting
from .page import Page, Pen, Sizes, sizes_of
from .parts import Line, Mark, Part, View
from .rows import Row, placed, row_px
from .typeface import Typeface

SECTION_SHARE: Final = 0.5  # of the room beside the turns, at most, where section and next cannot both be whole
AIR: Final = 0.15  # of the row, under it

Fit = Callable[[Line, float], Fitted]


def strip_px(page: Page, face: Typeface) -> int:
    """Give the height of the strip; it is the same whatever is said in it, since the chart must stand still."""
    return round(row_px(Pen(page, face), sizes_of(page).cue) * (1 + AIR))


def strip(view: View, turn: tuple[int, int], page: Page, face: Typeface) -> tuple[Block, ...]:
    """Give the strip's blocks; ``turn`` is (which screenful, from 1; of how many).

    Section and next keep the size of the next section; the turns are as small as anything may be, and so is what is
    wrong, which is taped in their place. Where room is short, the small words go first, then the turns.
    """
    pen, sizes = Pen(page, face), sizes_of(page)
    left, right = sizes.margin, page.width - sizes.margin
    rows = list(_rows(view, turn, (pen, sizes), right - left))
    fitting = [row for row in rows if row.span(sizes.gap) <= right - left]
    best = next((row for row in fitting if all(_is_whole(one) for one in row.all)), None)
    row = best or (fitting or rows)[0]
    return tuple(placed(pen, (row,), 0.0, (left, right, sizes.gap)))


def _rows(view: View, turn: tuple[int, int], written: tuple[Pen, Sizes], room: float) -> Iterator[Row]:
    """Give every way to say it, the most wanted first."""
    pen, sizes = written

    def fit(line: Line, width: float, arcmin: float = sizes.cue) -> Fitted:
        return Fitting(pen, width, sizes.least, ((arcmin, 1),)).fit(line)

    section = view.of(Part.SECTION) or view.of(Part.TITLE)
    torn = next((line for line in view.lines if line.part is Part.NOTICE and line.mark is Mark.TORN), None)
    follows = view.of(Part.NEXT)
    turns = Line(Part.STANDING, f"{turn[0]} of {turn[1]}", "page")
    at_the_right: tuple[Line | None, ...] = (turns, replace(turns, label="")) if turn[1] > 1 else ()
    if torn is not None:
        at_the_right = tuple(replace(torn, text=form, shorter=()) for form in (torn.text, *torn.shorter))
    for counted in (*at_the_right, None):
        last = (fit(counted, room, sizes.least),) if counted else ()
        free = room - (last[0].width + sizes.gap if last else 0.0)
        if section and follows:
            for after in (follows, replace(follows, label="")):
                yield Row(_both(fit, (section, after), free - sizes.gap), last)
        yield Row((fit(section, free),) if section else (), last)


def _both(fit: Fit, lines: tuple[Line, Line], room: float) -> tuple[Fitted, ...]:
    """Fit section and next side by side; the section is cut where it would leave the other less than its share."""
    section, follows = (fit(line, room) for line in lines)
    marks = section.bleed + 2 * follows.bleed
    width = min(section.width, max(room * SECTION_SHARE, room - follows.width - marks))
    section = fit(lines[0], width)
    return section, fit(lines[1], room - marks - section.width)


def _is_whole(one: Fitted) -> bool:
    return one.rows[0] in (one.line.text, *one.line.shorter)
