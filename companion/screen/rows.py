"""Rows: fitted lines side by side on one baseline, from the left margin or up to the right one."""

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from companion.screen.blocks import ScreenBlock, blocks_of
from companion.screen.fitting import ABOVE, LEADING, Fitted
from companion.screen.page import TypeMeasure


class LineRow(msgspec.Struct, frozen=True):
    """Lines on one baseline, in a left and a right group."""

    left: tuple[Fitted, ...] = ()
    right: tuple[Fitted, ...] = ()

    @property
    def all(self) -> tuple[Fitted, ...]:
        """The lines of both groups, from left to right."""
        return (*self.left, *self.right)

    @property
    def cap_px(self) -> float:
        """Height of the largest capitals in the row, in px."""
        return max((one.cap_px for one in self.all), default=0.0)

    @property
    def height(self) -> float:
        """Height of the row, wrapped lines included, in px."""
        return max((one.height + (self.cap_px - one.cap_px) * (1 + ABOVE) for one in self.all), default=0.0)

    def span(self, gap: float) -> float:
        """Return the width from the first word to the last, in px. Marks at both ends may extend into the margins."""
        return span(self.all, gap)


def span(row: Sequence[Fitted], gap: float) -> float:
    """Return the width in px of lines side by side, with room for the marks between them."""
    bleeds = sum(2 * one.bleed for one in row) - (row[0].bleed + row[-1].bleed if row else 0.0)
    return sum(one.width for one in row) + bleeds + gap * max(len(row) - 1, 0)


def height(rows: Iterable[LineRow]) -> float:
    """Return the total height of rows, in px."""
    return sum(row.height for row in rows)


def row_px(pen: TypeMeasure, arcmin: float) -> float:
    """Return the height in px of a row in this size."""
    return pen.cap_px(arcmin) * LEADING


def placed(
    pen: TypeMeasure, rows: Iterable[LineRow], y: float, edges: tuple[float, float, float]
) -> Iterator[ScreenBlock]:
    """Place rows from ``y`` down; ``edges`` are left margin, right margin and gap between lines, in px."""
    left, right, gap = edges
    for row in rows:
        baseline = y + (1 + ABOVE) * row.cap_px
        yield from _side_by_side(pen, row.left, left, baseline, gap)
        yield from _side_by_side(pen, row.right, right - span(row.right, gap), baseline, gap)
        y += row.height


def _side_by_side(
    pen: TypeMeasure, group: Sequence[Fitted], x: float, baseline: float, gap: float
) -> Iterator[ScreenBlock]:
    for number, one in enumerate(group):
        # The first words begin at the margin; a mark may extend beyond it.
        at = x + one.bleed if number else x
        yield from blocks_of(pen, one, at, baseline)
        x = at + one.width + one.bleed + gap
