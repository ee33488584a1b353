"""Layout: where each line of a view goes and how large. Pure; sizes come from the eyes' distance, not from taste.

A page has fixed places, so that the eye need not search: a head row, the large line, what comes next, a middle for what is
special here, and a foot row with sound and key.
"""

from collections.abc import Iterable
from typing import Final

import msgspec

from .fitting import ABOVE, GLASSES_WIDE, LEADING, Fitted, Page, Pen, fit
from .legibility import CUE_ARCMIN, LEAST_ARCMIN, SECTION_ARCMIN, SECTION_PORTRAIT_ARCMIN
from .palette import Ink
from .parts import Line, Mark, Part, Picture, View
from .typeface import Typeface

USUAL: Final = (
    660.0,
    371.0,
)  # arc minutes that a 13-inch screen takes up at 1.5 m; what is seen larger is drawn larger
MARGIN: Final = 16.0
GAP: Final = 22.0  # between two lines that share a row
TITLE_ARCMIN: Final = 45.0  # three sizes on a page, each 150 % of the next: MIL-STD-1472E 5.15.3.3

MIDDLE: Final = (
    Part.FEATURE,
    Part.WATCH,
    Part.CUE,
    Part.START,
    Part.FIRST_WORDS,
    Part.HITS,
    Part.ENDING,
    Part.CHORDS,
    Part.NOTES,
    Part.CHOICE,
)
KEEP_SIZE: Final = frozenset((Part.FEATURE, Part.WATCH, Part.CUE))  # never under 30 arc minutes
LESSER: Final = frozenset((Part.TITLE, Part.STANDING, Part.HINT, Part.PACE, Part.NOTES))


class Block(msgspec.Struct, frozen=True):
    """Words at a place. The box is in px and holds the mark too; ``left`` and ``baseline`` are where the words begin."""

    part: Part
    text: str
    x: int
    y: int
    width: int
    height: int
    left: int
    baseline: int
    em_px: int
    cap_px: float
    arcmin: float
    ink: Ink
    mark: Mark = Mark.NONE


def lay_out(view: View, page: Page, face: Typeface) -> tuple[Block, ...]:
    """Give the blocks of a view on a page. What finds no room is left out, the least important first."""
    return _Desk(view, Pen(page, face)).blocks()


class _Desk:
    """One page being laid out. All lengths in px."""

    def __init__(self, view: View, pen: Pen) -> None:
        self.view, self.pen = view, pen
        page = pen.page
        usual = tuple(reversed(USUAL)) if page.is_portrait else USUAL
        wide, high = page.width / page.px_per_arcmin, page.height / page.px_per_arcmin
        self.scale = max(1.0, min(wide / usual[0], high / usual[1]))
        self.large = self.scale * (SECTION_PORTRAIT_ARCMIN if page.is_portrait else SECTION_ARCMIN)
        self.title = self.scale * TITLE_ARCMIN
        self.cue, self.least = self.scale * CUE_ARCMIN, self.scale * LEAST_ARCMIN
        self.margin = min(pen.px(self.scale * MARGIN), page.width * 0.04)
        self.left, self.right = self.margin, page.width - self.margin
        self.room = self.right - self.left
        self.placed: list[Block] = []

    def blocks(self) -> tuple[Block, ...]:
        top, bottom = self.margin * 0.6, self.pen.page.height - self.margin * 0.6
        head = self.row_px(self.least)
        large = self.row_px(self.large)
        following = self.row_px(self.cue)
        # A higher page than usual spreads its groups; where they stand does not depend on what is said.
        spare = max(0.0, bottom - top - head - large - following - 3.2 * following) / 4
        self.head(top)
        y = self.main(top + head + spare, large)
        y = self.follows(y + spare / 2)
        foot = self.foot(bottom)
        self.middle(y + spare / 2, foot)
        return tuple(self.placed)

    def row_px(self, arcmin: float) -> float:
        return self.pen.em_px(arcmin) * self.pen.face.cap_height * LEADING

    def fit(self, line: Line, width: float, *ways: tuple[float, int]) -> Fitted:
        return fit(self.pen, line, width, ways, self.least)

    def head(self, y: float) -> None:
        """The head row: what is wrong, else which song this is."""
        notices = [line for line in self.view.lines if line.part is Part.NOTICE]
        for line in notices[:1]:
            self.put(self.fit(line, self.room, (self.least, 1)), self.left, y)
            return
        for part in (Part.STANDING, Part.TITLE):
            line = self.view.of(part)
            if line is not None and not self.is_main(line):
                self.put(self.fit(line, self.room, (self.least, 1)), self.left, y)
                return

    def is_main(self, line: Line) -> bool:
        return line is self.main_line()

    def main_line(self) -> Line | None:
        """The large line."""
        for part in (Part.SECTION, Part.TYPED, Part.TITLE):
            line = self.view.of(part)
            if line is not None:
                return line
        return None

    def main(self, y: float, row: float) -> float:
        """The large line and what is counted beside it; where the next row begins."""
        line, counted = self.main_line(), self.view.of(Part.COUNT)
        if line is None:
            return y + row
        if line.part is not Part.SECTION:
            fitted = self.fit(line, self.room, (self.title, 1), (self.title, 2), (self.cue, 3))
            self.put(fitted, self.left, y)
            return y + max(row, fitted.height)
        beside: Fitted | None = None
        width = self.room
        if counted is not None:
            shortest = msgspec.structs.replace(counted, text=(counted.text, *counted.shorter)[-1], shorter=())
            for form in (counted, shortest):
                beside = self.fit(form, self.room * 0.45, (self.cue, 1))
                width = self.room - beside.width - self.pen.px(self.scale * GAP)
                if self.pen.face.width_px(line.text, self.pen.em_px(self.large)) <= width:
                    break
        fitted = self.fit(line, width, (self.large, 1))
        self.put(fitted, self.left, y)
        if beside is not None:
            self.put(beside, self.right - beside.width, y + fitted.height - beside.height - self.lift(fitted, beside))
        return y + row

    def lift(self, one: Fitted, other: Fitted) -> float:
        """How much higher the other must be put for both to stand on one baseline."""
        below = LEADING - ABOVE - 1
        return (one.em_px - other.em_px) * self.pen.face.cap_height * below

    def follows(self, y: float) -> float:
        line = self.view.of(Part.NEXT)
        if line is None:
            return y + (self.row_px(self.cue) if self.view.picture is Picture.PLAYING else 0)
        fitted = self.fit(line, self.room, (self.cue, 1))
        self.put(fitted, self.left, y)
        return y + fitted.height

    def foot(self, y: float) -> float:
        """Sound on the left, key and tempo on the right; where the middle must end."""
        sounds = [line for line in self.view.lines if line.part is Part.SOUND]
        keys = [line for line in self.view.lines if line.part in (Part.KEY, Part.TEMPO)]
        for arcmin in (self.cue, self.least):
            right = [self.fit(line, self.room, (arcmin, 1)) for line in keys]
            left = [self.fit(line, self.room, (arcmin, 1)) for line in sounds]
            if self.row_width([*left, *right]) <= self.room:
                break
        gap = self.pen.px(self.scale * GAP)
        right_px = self.row_width(right) + (gap if right and left else 0)
        while right and right_px > self.room:
            right.pop()
            right_px = self.row_width(right) + gap
        if left and self.row_width([*left, *right]) > self.room:
            each = (self.room - right_px - gap * (len(left) - 1)) / len(left)
            left = [self.fit(one.line, each - 2 * one.bleed, (self.least, 1)) for one in left] if each > gap else []
        if not left and not right:
            return y
        top = y - max(one.height for one in (*left, *right)) * 1.08
        x = self.left
        for one in left:
            self.put(one, x, top)
            x += one.width + 2 * one.bleed + gap
        x = self.right
        for one in reversed(right):
            self.put(one, x - one.width - one.bleed, top)
            x -= one.width + 2 * one.bleed + gap
        return top

    def row_width(self, row: Iterable[Fitted]) -> float:
        widths = [one.width + 2 * one.bleed for one in row]
        return sum(widths) + self.pen.px(self.scale * GAP) * max(len(widths) - 1, 0)

    def middle(self, top: float, bottom: float) -> None:
        """What is special here: side by side while it fits, the least important left out."""
        lines = sorted(
            (line for line in self.view.lines if line.part in MIDDLE), key=lambda line: MIDDLE.index(line.part)
        )
        rest = [line for line in self.view.lines if line.part in (Part.HINT, Part.PACE)]
        rows: list[list[Fitted]] = []
        y = top
        for line in (*lines, *rest):
            arcmin = self.least if line.part in LESSER else self.cue
            most = 2 if line.part in (Part.CUE, Part.NOTES, Part.CHORDS) else 1
            ways = (
                [(arcmin, most)]
                if line.part in KEEP_SIZE or arcmin == self.least
                else [(arcmin, most), (self.least, most)]
            )
            fitted = self.fit(line, self.room, *ways)
            if rows and len(fitted.rows) == 1 and self.row_width([*rows[-1], fitted]) <= self.room:
                rows[-1].append(fitted)
                continue
            if y + fitted.height > bottom and len(fitted.rows) > 1:
                fitted = self.fit(line, self.room, (arcmin, 1))
            if y + fitted.height > bottom:
                continue
            rows.append([fitted])
            y += fitted.height
        y = top
        for row in rows:
            x = self.left
            for one in row:
                self.put(one, x, y + row[0].height - one.height - self.lift(row[0], one))
                x += one.width + 2 * one.bleed + self.pen.px(self.scale * GAP)
            y += max(one.height for one in row)

    def put(self, fitted: Fitted, x: float, y: float) -> None:
        """Make the blocks of a fitted line, its left edge and top given."""
        line, face = fitted.line, self.pen.face
        cap_px = fitted.em_px * face.cap_height
        for number, row in enumerate(fitted.rows):
            top = y + number * fitted.row_height
            baseline = top + (ABOVE + 1) * cap_px
            start = x
            if number == 0 and line.mark is Mark.GLASSES:
                self.add(line, "", start, GLASSES_WIDE * cap_px, baseline, fitted.em_px, Ink.PENCIL, Mark.GLASSES)
                start += (GLASSES_WIDE + 0.4) * cap_px
            if number == 0 and line.label:
                width = face.width_px(line.label, fitted.label_em_px)
                self.add(line, line.label, start, width, baseline, fitted.label_em_px, Ink.PENCIL, Mark.NONE)
            mark = Mark.NONE if line.mark is Mark.GLASSES else line.mark
            width = face.width_px(row, fitted.em_px)
            self.add(line, row, x + fitted.label_px, width, baseline, fitted.em_px, ink_of(line), mark, fitted.bleed)

    def add(
        self,
        line: Line,
        text: str,
        x: float,
        width: float,
        baseline: float,
        em_px: int,
        ink: Ink,
        mark: Mark,
        bleed: float = 0,
    ) -> None:
        cap_px = em_px * self.pen.face.cap_height
        top = baseline - (1 + ABOVE) * cap_px
        self.placed.append(
            Block(
                line.part,
                text,
                round(x - bleed),
                round(top),
                round(width + 2 * bleed),
                round(cap_px * LEADING),
                round(x),
                round(baseline),
                em_px,
                cap_px,
                cap_px / self.pen.page.px_per_arcmin,
                ink,
                mark,
            )
        )


def ink_of(line: Line) -> Ink:
    """Tell what the words of a line are written with."""
    on_mark = {Mark.HIGHLIGHT: Ink.ON_HIGHLIGHTER, Mark.TAPE: Ink.ON_TAPE, Mark.TORN: Ink.ON_WARNING}
    return on_mark.get(line.mark) or (Ink.PENCIL if line.part in LESSER else Ink.INK)
