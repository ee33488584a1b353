"""Blocks: words at a place, in px and in arc minutes. What layout gives and the painter paints."""

from collections.abc import Iterator

import msgspec

from .fitting import ABOVE, BEFORE_WORDS, DRAWN, DRAWN_WIDE, LEADING, Fitted
from .glance import is_leftover
from .page import Pen
from .palette import Ink
from .parts import Form, Line, Mark, Part


class Block(msgspec.Struct, frozen=True):
    """Words at a place. The box in px holds the mark too; ``left`` and ``baseline`` are where the words begin."""

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
    arcmin: float  # of a capital letter
    ink: Ink
    mark: Mark = Mark.NONE
    form: Form | None = None

    def __str__(self) -> str:
        """Give a line to review: ``section "Solo" 12,80 900x310 60' highlight``."""
        mark = f" {self.mark.value}" if self.mark.value else ""
        place = f"{self.x},{self.y} {self.width}x{self.height}"
        return f'{self.part.value} "{self.text}" {place} {self.arcmin:.0f}\'{mark}'


INK_ON: dict[Mark, Ink] = {
    Mark.HIGHLIGHT: Ink.ON_HIGHLIGHTER,
    Mark.CHOSEN: Ink.ON_HIGHLIGHTER,
    Mark.TAPE: Ink.ON_TAPE,
    Mark.TORN: Ink.ON_WARNING,
    Mark.RIPPED: Ink.ON_RIPPED,
}
LESSER = frozenset((Part.STANDING, Part.HINT, Part.NOTES, Part.BARS))


def is_lesser(fitted: Fitted) -> bool:
    """Tell whether a line is in pencil: what is looked up, not looked for, as the title of a song that plays."""
    head = fitted.line.part is Part.TITLE and fitted.em_px == fitted.label_em_px
    return head or fitted.line.part in LESSER or is_leftover(fitted.line)


def blocks_of(pen: Pen, fitted: Fitted, x: float, baseline: float) -> Iterator[Block]:
    """Give the blocks of a fitted line: its left edge, and the baseline of its first row, in px."""
    line, cap_px, start = fitted.line, fitted.cap_px, x
    ink = INK_ON.get(line.mark) or (Ink.PENCIL if is_lesser(fitted) else Ink.INK)
    if line.mark in DRAWN:
        yield _block(
            pen, line, "", (start, baseline, DRAWN_WIDE * cap_px), (fitted.em_px, 0.0), (Ink.PENCIL, line.mark)
        )
        start += (DRAWN_WIDE + BEFORE_WORDS) * cap_px
    if line.label:
        width = pen.face.width_px(line.label, fitted.label_em_px)
        size = (fitted.label_em_px, 0.0)
        yield _block(pen, line, line.label, (start, baseline, width), size, (Ink.PENCIL, Mark.NONE))
    mark = Mark.NONE if line.mark in DRAWN else line.mark
    for number, row in enumerate(fitted.rows):
        width = fitted.width - fitted.words_px if line.mark is Mark.TORN else pen.face.width_px(row, fitted.em_px)
        place = (x + fitted.words_px, baseline + number * fitted.row_height, width)
        yield _block(pen, line, row, place, (fitted.em_px, fitted.bleed), (ink, mark))


def _block(
    pen: Pen,
    line: Line,
    text: str,
    place: tuple[float, float, float],
    size: tuple[int, float],
    drawn: tuple[Ink, Mark],
) -> Block:
    """Make a block from (left, baseline, width), (type size, bleed) and (ink, mark)."""
    (left, baseline, width), (em_px, bleed) = place, size
    cap_px = em_px * pen.face.cap_height
    return Block(
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


def form_block(pen: Pen, form: Form, box: tuple[float, float, float, float], least: float) -> Block:
    """Make the block of the line that shows the song's form; ``box`` is its left, top, width and height in px."""
    x, y, width, height = box
    return Block(
        part=Part.SECTION,
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
        ink=Ink.PENCIL,
        mark=Mark.FORM,
        form=form,
    )
