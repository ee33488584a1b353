"""Blocks: words at a place, in px and in arc minutes. Layout makes them and the painter paints them."""

from collections.abc import Iterator

import msgspec

from companion.screen.fitting import ABOVE, BEFORE_WORDS, DRAWN, DRAWN_WIDE, LEADING, Fitted
from companion.screen.page import TypeMeasure
from companion.screen.palette import ScreenInk
from companion.view import FormPlace, LineMark, LineRole, ViewLine
from companion.view.glance import is_leftover


class ScreenBlock(msgspec.Struct, frozen=True):
    """Words at a place. The box, in px, includes the mark; ``left`` and ``baseline`` are where the words begin."""

    part: LineRole
    text: str
    x: int
    y: int
    width: int
    height: int
    left: int
    baseline: int
    em_px: int
    cap_px: float
    arcmin: float  # of a capital letter
    ink: ScreenInk
    mark: LineMark = LineMark.NONE
    form: FormPlace | None = None

    def __str__(self) -> str:
        """Return a line for review: ``section "Solo" 12,80 900x310 60' highlight``."""
        mark = f" {self.mark.value}" if self.mark.value else ""
        place = f"{self.x},{self.y} {self.width}x{self.height}"
        return f'{self.part.value} "{self.text}" {place} {self.arcmin:.0f}\'{mark}'


INK_ON: dict[LineMark, ScreenInk] = {
    LineMark.HIGHLIGHT: ScreenInk.ON_HIGHLIGHTER,
    LineMark.CHOSEN: ScreenInk.ON_HIGHLIGHTER,
    LineMark.TAPE: ScreenInk.ON_TAPE,
    LineMark.TORN: ScreenInk.ON_WARNING,
    LineMark.RIPPED: ScreenInk.ON_RIPPED,
}
LESSER = frozenset((LineRole.STANDING, LineRole.HINT, LineRole.NOTES, LineRole.BARS))


def is_lesser(fitted: Fitted) -> bool:
    """Return whether a line is in pencil: less important words, such as the title of a song that plays."""
    head = fitted.line.part is LineRole.TITLE and fitted.em_px == fitted.label_em_px
    return head or fitted.line.part in LESSER or is_leftover(fitted.line)


def blocks_of(pen: TypeMeasure, fitted: Fitted, x: float, baseline: float) -> Iterator[ScreenBlock]:
    """Yield the blocks of a fitted line. ``x`` is its left edge, ``baseline`` that of its first row, in px."""
    line, cap_px, start = fitted.line, fitted.cap_px, x
    ink = INK_ON.get(line.mark) or (ScreenInk.PENCIL if is_lesser(fitted) else ScreenInk.INK)
    if line.mark in DRAWN:
        yield _block(
            pen, line, "", (start, baseline, DRAWN_WIDE * cap_px), (fitted.em_px, 0.0), (ScreenInk.PENCIL, line.mark)
        )
        start += (DRAWN_WIDE + BEFORE_WORDS) * cap_px
    if line.label:
        width = pen.face.width_px(line.label, fitted.label_em_px)
        size = (fitted.label_em_px, 0.0)
        yield _block(pen, line, line.label, (start, baseline, width), size, (ScreenInk.PENCIL, LineMark.NONE))
    mark = LineMark.NONE if line.mark in DRAWN else line.mark
    for number, row in enumerate(fitted.rows):
        width = fitted.width - fitted.words_px if line.mark is LineMark.TORN else pen.face.width_px(row, fitted.em_px)
        place = (x + fitted.words_px, baseline + number * fitted.row_height, width)
        yield _block(pen, line, row, place, (fitted.em_px, fitted.bleed), (ink, mark))


def _block(
    pen: TypeMeasure,
    line: ViewLine,
    text: str,
    place: tuple[float, float, float],
    size: tuple[int, float],
    drawn: tuple[ScreenInk, LineMark],
) -> ScreenBlock:
    """Make a block from (left, baseline, width), (type size, bleed) and (ink, mark)."""
    (left, baseline, width), (em_px, bleed) = place, size
    cap_px = em_px * pen.face.cap_height
    return ScreenBlock(
        part=line.part,
        text=text,
        x=round(left - bleed),
        y=round(baseline - (1 + ABOVE) * cap_px),
        width=round(width + 2 * bleed),
        height=round(cap_px * LEADING),
        left=round(left),
        baseline=round(baseline),
        em_px=em_px,
        cap_px=cap_px,
        arcmin=cap_px / pen.page.px_per_arcmin,
        ink=drawn[0],
        mark=drawn[1],
    )


def form_block(pen: TypeMeasure, form: FormPlace, box: tuple[float, float, float, float], least: float) -> ScreenBlock:
    """Make the block of the line that shows the song's form; ``box`` is its left, top, width and height in px."""
    x, y, width, height = box
    return ScreenBlock(
        part=LineRole.SECTION,
        text="",
        x=round(x),
        y=round(y),
        width=round(width),
        height=round(height),
        left=round(x),
        baseline=round(y + height),
        em_px=pen.em_px(least),
        cap_px=height,
        arcmin=least,
        ink=ScreenInk.PENCIL,
        mark=LineMark.FORM,
        form=form,
    )
