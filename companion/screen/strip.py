"""The line above a song's own chart: section, what comes next, and which screenful of the chart. Pure."""

from collections.abc import Callable, Iterator
from typing import Final

from msgspec.structs import replace

from companion.screen.blocks import ScreenBlock
from companion.screen.fitting import Fitted, Fitting
from companion.screen.page import PageSize, Sizes, TypeMeasure, sizes_of
from companion.screen.rows import LineRow, placed, row_px
from companion.screen.screen_fonts import Typeface
from companion.view import LineMark, LineRole, View, ViewLine

SECTION_SHARE: Final = 0.5  # of the room beside the screenful's number, at most, if section and next do not both fit
AIR: Final = 0.15  # of the row: space below it

Fit = Callable[[ViewLine, float], Fitted]


def strip_px(page: PageSize, face: Typeface) -> int:
    """Return the height of the strip in px. It does not depend on the words, so that the chart never moves."""
    return round(row_px(TypeMeasure(page, face), sizes_of(page).cue) * (1 + AIR))


def strip(view: View, turn: tuple[int, int], page: PageSize, face: Typeface) -> tuple[ScreenBlock, ...]:
    """Return the strip's blocks; ``turn`` is (which screenful, from 1; of how many).

    Section and next keep their size; the screenful's number has the smallest legible size. If something is wrong, that
    takes the number's place, on tape. If room is short, labels go first, then the number.
    """
    pen, sizes = TypeMeasure(page, face), sizes_of(page)
    left, right = sizes.margin, page.width - sizes.margin
    rows = list(_rows(view, turn, (pen, sizes), right - left))
    fitting = [row for row in rows if row.span(sizes.gap) <= right - left]
    best = next((row for row in fitting if all(_is_whole(one) for one in row.all)), None)
    row = best or (fitting or rows)[0]
    return tuple(placed(pen, (row,), 0.0, (left, right, sizes.gap)))


def _rows(view: View, turn: tuple[int, int], written: tuple[TypeMeasure, Sizes], room: float) -> Iterator[LineRow]:
    """Yield every version of the row, the preferred first."""
    pen, sizes = written

    def fit(line: ViewLine, width: float, arcmin: float = sizes.cue) -> Fitted:
        return Fitting(pen, width, sizes.least, ((arcmin, 1),)).fit(line)

    section = view.of(LineRole.SECTION) or view.of(LineRole.TITLE)
    torn = next((line for line in view.lines if line.part is LineRole.NOTICE and line.mark is LineMark.TORN), None)
    follows = view.of(LineRole.NEXT)
    turns = ViewLine(LineRole.STANDING, f"{turn[0]} of {turn[1]}", "page")
    at_the_right: tuple[ViewLine | None, ...] = (turns, replace(turns, label="")) if turn[1] > 1 else ()
    if torn is not None:
        at_the_right = tuple(replace(torn, text=form, shorter=()) for form in (torn.text, *torn.shorter))
    for counted in (*at_the_right, None):
        last = (fit(counted, room, sizes.least),) if counted else ()
        free = room - (last[0].width + sizes.gap if last else 0.0)
        if section and follows:
            for after in (follows, replace(follows, label="")):
                yield LineRow(_both(fit, (section, after), free - sizes.gap), last)
        yield LineRow((fit(section, free),) if section else (), last)


def _both(fit: Fit, lines: tuple[ViewLine, ViewLine], room: float) -> tuple[Fitted, ...]:
    """Fit section and next side by side; cut the section if it would leave too little room for next."""
    section, follows = (fit(line, room) for line in lines)
    marks = section.bleed + 2 * follows.bleed
    width = min(section.width, max(room * SECTION_SHARE, room - follows.width - marks))
    section = fit(lines[0], width)
    return section, fit(lines[1], room - marks - section.width)


def _is_whole(one: Fitted) -> bool:
    return one.rows[0] in (one.line.text, *one.line.shorter)
