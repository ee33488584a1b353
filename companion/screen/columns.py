"""Pages that are lists: the keys, and the songs that fit what was typed."""

from collections.abc import Iterator, Sequence

from .blocks import Block
from .fitting import Fitted, Fitting
from .page import Pen, Sizes
from .parts import Line, Part, Picture, View
from .rows import Row, placed, row_px


def list_page(view: View, pen: Pen, sizes: Sizes) -> Iterator[Block]:
    """Give the blocks of a page that is a list."""
    left, right = sizes.margin, pen.page.width - sizes.margin
    if view.picture is Picture.CALL:
        rows = [Row((one,)) for one in _call(view, pen, sizes, right - left)]
        while rows and sum(row.height for row in rows) > pen.page.height - sizes.margin:
            rows.pop()
        yield from placed(pen, rows, sizes.margin / 2, (left, right, sizes.gap))
        return
    yield from _keys(view.lines, pen, sizes)


def _call(view: View, pen: Pen, sizes: Sizes, width: float) -> Iterator[Fitted]:
    size_of = {Part.TYPED: sizes.title, Part.CHOICE: sizes.cue}
    for line in view.lines:
        yield Fitting(pen, width, sizes.least, ((size_of.get(line.part, sizes.least), 1),)).fit(line)


def _keys(lines: Sequence[Line], pen: Pen, sizes: Sizes) -> Iterator[Block]:
    """Place keys and what they do in as many columns as are needed; what then finds no room is left out."""
    high = row_px(pen, sizes.least)
    rows = max(1, int((pen.page.height - sizes.margin) / high))
    columns = 1 if len(lines) <= rows else 2
    wide = (pen.page.width - 2 * sizes.margin - sizes.gap * (columns - 1)) / columns
    em_px = pen.em_px(sizes.least)
    label = min(max(pen.face.width_px(line.label, em_px) for line in lines), wide * 0.45)
    for number, line in enumerate(lines[: rows * columns]):
        column, row = divmod(number, rows)
        x = sizes.margin + column * (wide + sizes.gap)
        key = Fitting(pen, label, sizes.least, ((sizes.least, 1),)).fit(Line(Part.CHOICE, line.label))
        does = Fitting(pen, wide - label - sizes.gap, sizes.least, ((sizes.least, 1),)).fit(Line(Part.HINT, line.text))
        y = sizes.margin / 2 + row * high
        yield from placed(pen, (Row((key,)),), y, (x, x + wide, sizes.gap))
        yield from placed(pen, (Row((does,)),), y, (x + label + sizes.gap, x + wide, sizes.gap))
