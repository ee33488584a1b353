"""Pages that are lists: the keys, or the songs that match what was typed. Section and next stay in a line above."""

from collections.abc import Iterator, Sequence

from companion.screen.blocks import ScreenBlock
from companion.screen.fitting import Fitted, Fitting
from companion.screen.page import Sizes, TypeMeasure
from companion.screen.rows import LineRow, height, placed, row_px
from companion.view import LineRole, Picture, View, ViewLine

LABEL_SHARE = 0.5  # of a column, at most, for the key's name
MAX_ROWS = 4  # of a title, if the list has room for it
AIR = 0.3  # of a row, between the line above and the list
LISTED = frozenset((LineRole.TYPED, LineRole.CHOICE, LineRole.HINT))


def list_page(view: View, pen: TypeMeasure, sizes: Sizes) -> Iterator[ScreenBlock]:
    """Yield the blocks of a page of keys or of a call. Rows without room are left out, the last first."""
    lines = [line for line in view.lines if line.part in LISTED]
    top, edges = sizes.margin / 2, (sizes.margin, pen.page.width - sizes.margin, sizes.gap)
    above = _landmarks([line for line in view.lines if line.part not in LISTED], pen, sizes)
    yield from placed(pen, above, top, edges)
    top += height(above) + (AIR * row_px(pen, sizes.least) if above else 0.0)
    if view.picture is Picture.KEYS:
        yield from _keys(lines, pen, sizes, top)
        return
    high = pen.page.height - sizes.margin / 2 - top
    rows = [LineRow((one,)) for one in _call(lines, pen, sizes, most_rows=MAX_ROWS)]
    if height(rows) > high:
        rows = [LineRow((one,)) for one in _call(lines, pen, sizes, most_rows=1)]
    while rows and height(rows) > high:
        rows.pop()
    yield from placed(pen, rows, top, edges)


def _landmarks(lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes) -> tuple[LineRow, ...]:
    """Fit section, title, next and what is wrong, uncut where possible, side by side while they fit."""
    width = pen.page.width - 2 * sizes.margin
    rows: list[LineRow] = []
    for line in lines:
        wanted = sizes.follows if line.part is LineRole.SECTION else sizes.least
        ways = ((wanted, 1), *((sizes.least, most) for most in (1, 2, 3, 7)))
        fitted = Fitting(pen, width, sizes.least, ways).fit(line)
        longer = LineRow((*rows[-1].left, fitted)) if rows else None
        if longer and max(len(one.rows) for one in longer.left) == 1 and longer.span(sizes.gap) <= width:
            rows[-1] = longer
        else:
            rows.append(LineRow((fitted,)))
    return tuple(rows)


def _call(lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, *, most_rows: int) -> Iterator[Fitted]:
    size_of = {LineRole.TYPED: sizes.follows, LineRole.CHOICE: sizes.cue}
    width = pen.page.width - 2 * sizes.margin
    for line in lines:
        arcmin = size_of.get(line.part, sizes.least)
        ways = ((arcmin, 1), *((sizes.least, rows) for rows in range(1, most_rows + 1)))
        yield Fitting(pen, width, sizes.least, ways).fit(line)


def _keys(lines: Sequence[ViewLine], pen: TypeMeasure, sizes: Sizes, top: float) -> Iterator[ScreenBlock]:
    """Place keys and what they do in one column or two; what does not fit then is left out."""
    high = row_px(pen, sizes.least)
    rows = max(1, int((pen.page.height - sizes.margin / 2 - top) / high))
    columns = 1 if len(lines) <= rows else 2
    wide = (pen.page.width - 2 * sizes.margin - sizes.gap * (columns - 1)) / columns
    between = sizes.gap / 2
    for column in range(columns):
        here = lines[rows * column : rows * (column + 1)]
        widest = max((pen.face.width_px(line.label, pen.em_px(sizes.least)) for line in here), default=0.0)
        label = min(widest, wide * LABEL_SHARE)
        x = sizes.margin + column * (wide + sizes.gap)
        for number, line in enumerate(here):
            y = top + number * high
            key, does = ViewLine(LineRole.CHOICE, line.label), ViewLine(LineRole.HINT, line.text, shorter=line.shorter)
            for words, left, room in ((key, x, label), (does, x + label + between, wide - label - between)):
                fitted = Fitting(pen, room, sizes.least, ((sizes.least, 1),)).fit(words)
                yield from placed(pen, (LineRow((fitted,)),), y, (left, left + room, sizes.gap))
