"""Layout: where each line of a view goes and how large. Pure; sizes come from the eyes' distance, not from taste.

A page has fixed places, so that the eye need not search: a head row, the large line, what comes next, a middle for what
is special here, and a foot row with sound and key.
"""

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from .beat import beat_mark
from .blocks import Block
from .columns import list_page
from .fitting import Fitted, Fitting
from .packing import LARGE, packed
from .page import Page, Pen, Sizes, sizes_of
from .parts import Line, Mark, Part, Picture, View
from .rows import Row, height, placed, row_px
from .typeface import Typeface

EDGE: Final = 0.35  # of the margin, above and below the page
NOMINAL_MIDDLE: Final = 3  # rows of the middle that a usual page has room for
BESIDE: Final = 0.45  # of the width, at most, for what is counted beside the section
KEY_SHARE: Final = 0.6  # of the foot, at most, for the key where the sound must be cut
AIR: Final = 0.5  # of a row: over the middle, where there is room


def lay_out(view: View, page: Page, face: Typeface) -> tuple[Block, ...]:
    """Give the blocks of a view on a page. What finds no room is left out, the least important first."""
    pen, sizes = Pen(page, face), sizes_of(page)
    if view.picture in (Picture.KEYS, Picture.CALL):
        return tuple(list_page(view, pen, sizes))
    return tuple(_Desk(view, pen, sizes).blocks())


class _Desk:
    """One page being laid out. All lengths in px, from the top left."""

    def __init__(self, view: View, pen: Pen, sizes: Sizes) -> None:
        self.view, self.pen, self.sizes = view, pen, sizes
        self.left, self.right = sizes.margin, pen.page.width - sizes.margin
        self.room = self.right - self.left
        self.top, self.bottom = sizes.margin * EDGE, pen.page.height - sizes.margin * EDGE
        mark = beat_mark(view, pen.page, sizes)
        self.beside_head = self.right - mark.x + sizes.gap if mark and not mark.counts_off else 0.0
        self.beside_title = self.right - mark.x + sizes.gap if mark and mark.counts_off else 0.0

    def blocks(self) -> Iterator[Block]:
        head, large, row = (row_px(self.pen, size) for size in (self.sizes.least, self.sizes.large, self.sizes.cue))
        # A page higher than the usual one spreads its groups; where they stand does not depend on what is said today.
        spare = max(0.0, self.bottom - self.top - head - large - row * (2 + NOMINAL_MIDDLE)) / 4
        yield from self.rows(self.head(), self.top)
        y = self.top + head + spare
        main = self.main(self.bottom - y)
        yield from self.rows(main, y)
        y += max(large, height(main)) + spare / 2
        has_height = spare > row / 4
        # A long title has a second row where little else is said.
        two = has_height or sum(line.part in LARGE for line in self.view.lines) <= 1
        follows = self.follows(most_rows=2 if two else 1)
        if y + height(follows) > self.bottom:
            follows = ()  # a page so small that not even the next section has room
        yield from self.rows(follows, y)
        y += max(row if self.view.picture is Picture.PLAYING else 0.0, height(follows)) + spare / 2
        foot = self.foot(may_stack=has_height or self.view.picture is not Picture.PLAYING)
        below = self.bottom - height(foot)
        if below < y:
            foot, below = (), self.bottom
        yield from self.rows(foot, below)
        middle = packed(self.view.lines, self.pen, self.sizes, (self.room, below - y))
        yield from self.rows(middle, y + min((below - y - height(middle)) * 0.5, row * AIR))

    def rows(self, rows: tuple[Row, ...], y: float) -> Iterator[Block]:
        return placed(self.pen, rows, y, (self.left, self.right, self.sizes.gap))

    def fit(self, line: Line, width: float, *ways: tuple[float, int]) -> Fitted:
        return Fitting(self.pen, width, self.sizes.least, ways).fit(line)

    def main_line(self) -> Line | None:
        return self.view.of(Part.SECTION) or self.view.of(Part.TITLE)

    def head(self) -> tuple[Row, ...]:
        """Fit what is wrong, else which song this is."""
        main = self.main_line()
        for part in (Part.NOTICE, Part.STANDING, Part.TITLE):
            line = self.view.of(part)
            if line is not None and line is not main:
                room = self.room - self.beside_head
                fitted = self.fit(line, room, (self.sizes.least, 1))
                # What is wrong is taped across the whole page.
                return (Row((replace(fitted, width=room) if line.mark is Mark.TORN else fitted,)),)
        return ()

    def main(self, high: float) -> tuple[Row, ...]:
        """Fit the large line, and what is counted beside it, above a foot."""
        line, counted = self.main_line(), self.view.of(Part.COUNT)
        if line is None:
            return ()
        if line.part is Part.TITLE:
            title, cue = self.sizes.title, self.sizes.cue
            most = 3 if self.pen.page.is_portrait else 2
            ways = [*((title, rows) for rows in range(1, most + 1)), *((cue, rows) for rows in range(1, most + 2))]
            room = high - row_px(self.pen, self.sizes.cue)
            ways = [way for way in ways if way[1] * row_px(self.pen, way[0]) <= room] or [(cue, 1)]
            return (Row((self.fit(line, self.room - self.beside_title, *ways),)),)
        if counted is None:
            return (Row((self.fit(line, self.room, (self.sizes.large, 1)),)),)
        wanted = self.pen.face.width_px(line.text, self.pen.em_px(self.sizes.large))
        for form in (counted.text, *counted.shorter):
            short = replace(counted, text=form)
            beside = self.fit(short, self.room * BESIDE, (self.sizes.cue, 1))
            width = self.room - beside.width - self.sizes.gap
            if wanted <= width:
                break
        row = Row((self.fit(line, width, (self.sizes.large, 1)),), (beside,))
        return (row,) if self.fits(row) else (Row((self.fit(line, self.room, (self.sizes.large, 1)),)),)

    def follows(self, *, most_rows: int) -> tuple[Row, ...]:
        """Fit what comes next."""
        line = self.view.of(Part.NEXT)
        ways = [(self.sizes.cue, rows) for rows in range(1, most_rows + 1)]
        return (Row((self.fit(line, self.room, *ways),)),) if line else ()

    def foot(self, *, may_stack: bool) -> tuple[Row, ...]:
        """Fit the sounds and the key: on one row, else on two where the page is high, else smaller, else cut."""
        sounds, key = [line for line in self.view.lines if line.part is Part.SOUND], self.view.of(Part.KEY)
        if key is None:
            return self.sounds(sounds, ())
        cue, least = self.sizes.cue, self.sizes.least
        forms = [(sounds, form) for form in (key.text, *key.shorter)]
        forms += [([replace(line, label="") for line in sounds], form) for _, form in forms]
        for sounds, form in forms:
            for sound_arcmin, key_arcmin in ((cue, cue), (cue, least), (least, least)):
                left = tuple(self.fit(line, self.room, (sound_arcmin, 1)) for line in sounds)
                right = (self.fit(replace(key, text=form), self.room, (key_arcmin, 1)),)
                if self.fits(Row(left, right)):
                    return (Row(left, right),)
                if may_stack and self.fits(Row(left)):
                    return Row(left), Row((), right)
        return self.sounds(sounds, (self.fit(key, self.room * KEY_SHARE, (least, 1)),))

    def sounds(self, sounds: list[Line], right: tuple[Fitted, ...]) -> tuple[Row, ...]:
        """Fit the sounds beside what is on the right; where even cut they do not fit, the last ones go."""
        free = self.room - (Row((), right).span(self.sizes.gap) + self.sizes.gap if right else 0.0)
        for many in range(len(sounds), 0, -1):
            each = (free - self.sizes.gap * (many - 1)) / many
            for ways in (((self.sizes.cue, 1),), ((self.sizes.least, 1),)):
                wide = self.room if ways[0][0] > self.sizes.least else each * 0.9
                row = Row(tuple(self.fit(line, wide, *ways) for line in sounds[:many]), right)
                if self.fits(row):
                    return (row,)
        return (Row((), right),) if right else ()

    def fits(self, row: Row) -> bool:
        return row.span(self.sizes.gap) <= self.room
