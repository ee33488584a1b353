"""The shapes of the marks from paper, in px: highlighter, pencil circle, tape, glasses, a long rest. Pure.

The painter draws them on the stage window; pages draw the same shapes.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.screen.beat import BeatMark
from companion.screen.blocks import ScreenBlock
from companion.screen.fitting import ABOVE
from companion.screen.palette import ScreenInk
from companion.view import LineMark

EDGE: Final = ((0.0, 0.0), (0.15, 0.8), (0.4, 0.2), (0.7, 1.0), (0.88, 0.3), (1.0, 0.6))  # how a hand-drawn edge wavers
TORN: Final = ((0.0, 0.3), (0.17, 1.0), (0.33, 0.1), (0.5, 0.9), (0.67, 0.0), (0.83, 0.8), (1.0, 0.2))
CIRCLE_STEPS: Final = 80
CIRCLE_POWER: Final = 0.5  # below 1, the circle follows its words like a rounded box

INK_OF: Final = {
    LineMark.HIGHLIGHT: ScreenInk.HIGHLIGHTER,
    LineMark.CHOSEN: ScreenInk.HIGHLIGHTER,
    LineMark.UNDERLINE: ScreenInk.HIGHLIGHTER,
    LineMark.TAPE: ScreenInk.TAPE,
    LineMark.TORN: ScreenInk.WARNING,
    LineMark.RIPPED: ScreenInk.TAPE,
    LineMark.CIRCLE: ScreenInk.PENCIL,
    LineMark.GLASSES: ScreenInk.PENCIL,
    LineMark.REST: ScreenInk.PENCIL,
    LineMark.FORM: ScreenInk.PENCIL,
}
EDGE_OF: Final = {
    LineMark.HIGHLIGHT: ScreenInk.STROKE_EDGE,
    LineMark.CHOSEN: ScreenInk.STROKE_EDGE,
    LineMark.UNDERLINE: ScreenInk.STROKE_EDGE,
    LineMark.TAPE: ScreenInk.TAPE_EDGE,
    LineMark.RIPPED: ScreenInk.TAPE_EDGE,
}
EDGE_SHARE: Final = 0.045  # of a capital: width of the line round a highlighter's stroke or tape

FORM_APART: Final = 2.6  # of its height: the most from one section's stroke to the next
ALONE_WIDE: Final = 10.0  # of its height: a song in one section, seen from afar as one that plays

Points = Sequence[tuple[float, float]]
Box = tuple[float, float, float, float]  # left, top, width, height


class InkEdge(msgspec.Struct, frozen=True):
    """The line round a patch; its width is in px."""

    ink: ScreenInk
    width: int


class InkPatch(msgspec.Struct, frozen=True):
    """A filled polygon; without an edge line, its own edges are smooth."""

    corners: Points
    ink: ScreenInk
    edge: InkEdge | None = None
    is_sharp: bool = False  # neither smooth nor edged


class InkBar(msgspec.Struct, frozen=True):
    """A filled rectangle: left, top, width, height."""

    box: Box
    ink: ScreenInk


class InkLine(msgspec.Struct, frozen=True):
    """A straight horizontal line from one point to the other, ``width`` px high."""

    begin: tuple[float, float]
    end: tuple[float, float]
    ink: ScreenInk
    width: int


class InkRing(msgspec.Struct, frozen=True):
    """A circle's line, ``width`` px wide inside ``radius``."""

    centre: tuple[float, float]
    radius: float
    ink: ScreenInk
    width: int


MarkShape = InkPatch | InkBar | InkLine | InkRing


def mark_shapes(block: ScreenBlock) -> Iterator[MarkShape]:
    """Yield the shapes of a block's mark, the lowest first; the block's words go on top."""
    if block.mark is LineMark.NONE:
        return
    ink, cap, top = INK_OF[block.mark], block.cap_px, block.baseline - (1 + ABOVE) * block.cap_px
    edge = InkEdge(EDGE_OF[block.mark], max(1, round(EDGE_SHARE * cap))) if block.mark in EDGE_OF else None
    match block.mark:
        case LineMark.HIGHLIGHT | LineMark.CHOSEN:
            yield _stroke((block.x, top + 0.03 * cap, block.width - 1, 1.48 * cap), cap, ink, edge)
        case LineMark.UNDERLINE:
            box = (block.x, block.baseline + 0.13 * cap, block.width - 1, 0.18 * cap)
            yield _stroke(box, 0.2 * cap, ink, edge)
        case LineMark.TAPE | LineMark.TORN:
            yield _tape(_strip_of(block), cap, ink, edge)
        case LineMark.RIPPED:
            yield from _ripped(_strip_of(block), cap, ink, edge)
        case LineMark.FORM:
            yield from _form(block)
        case LineMark.CIRCLE:
            yield from _circle((block.x, top, block.width - 1, 1.45 * cap), cap, ink)
        case LineMark.GLASSES:
            yield from _glasses(block, ink)
        case LineMark.REST:
            yield from _rest(block, ink)


def slash_shapes(mark: BeatMark, inked: int | None) -> Iterator[InkPatch]:
    """Yield the slashes of a beat mark, as on a chart's staff; ``inked`` is the current one, from 0."""
    bottom = mark.y + mark.height - 1
    apart = mark.width / (mark.places + 0.5)
    for place in range(mark.places):
        thick = mark.height * (0.26 if place == inked else 0.10)
        foot, lean = mark.x + apart * (place + 0.25), apart * 0.55
        corners = ((foot, bottom), (foot + lean, mark.y), (foot + lean + thick, mark.y), (foot + thick, bottom))
        yield InkPatch(corners, ScreenInk.INK if place == inked else ScreenInk.FAINT, is_sharp=True)


def _strip_of(block: ScreenBlock) -> Box:
    cap = block.cap_px
    return block.x, block.y + 0.03 * cap, block.width - 1, block.height - 0.06 * cap - 1


def _stroke(box: Box, cap: float, ink: ScreenInk, edge: InkEdge | None) -> InkPatch:
    """Return a felt tip's stroke, with slanted ends and edges that are not quite straight."""
    x, y, width, height = box
    slant, wave = cap * 0.14, cap * 0.03
    top = [(x + slant + share * (width - slant), y + wave * bend) for share, bend in EDGE]
    bottom = [(x + share * (width - slant), y + height - wave * bend) for share, bend in reversed(EDGE)]
    return InkPatch([*top, *bottom], ink, edge)


def _tape(box: Box, cap: float, ink: ScreenInk, edge: InkEdge | None) -> InkPatch:
    """Return a strip of tape, torn off at both ends."""
    x, y, width, height = box
    tooth = cap * 0.08
    left = [(x + tooth * bite, y + height - share * height) for share, bite in TORN]
    right = [(x + width - tooth * bite, y + share * height) for share, bite in TORN]
    return InkPatch([*left, *right], ink, edge)


def _ripped(box: Box, cap: float, ink: ScreenInk, edge: InkEdge | None) -> Iterator[MarkShape]:
    """Yield the rest of a strip that was ripped off: a scrap of tape at each end, dashed edges between them."""
    x, y, width, height = box
    tooth = cap * 0.11
    for start, side in ((x, 1), (x + width, -1)):
        outer = [(start, y), (start, y + height)]
        inner = [(start + side * (cap * 0.22 + tooth * 2 * bite), y + height - share * height) for share, bite in TORN]
        yield InkPatch([*outer, *inner], ink, edge)
    if edge is not None:
        dash = cap * 0.5
        for step in range(0, int((width - 1.6 * cap) / dash), 2):
            for at in (y + edge.width, y + height - edge.width):
                left = x + 0.8 * cap + step * dash
                yield InkLine((left, at), (left + dash, at), edge.ink, edge.width)


def _form(block: ScreenBlock) -> Iterator[MarkShape]:
    """Yield the song's form: a pencil line with a stroke for each section; the current one is a bar of ink."""
    form = block.form
    if form is None:
        return
    apart = min(block.width / form.many, block.cap_px * (FORM_APART if form.many > 1 else ALONE_WIDE))
    y, thin = block.y + block.height / 2, max(1, round(block.height * 0.12))
    yield InkLine((block.x, y), (block.x + apart * form.many, y), ScreenInk.FAINT, thin)
    for number in range(form.many):
        left, width = block.x + number * apart, max(1.0, apart * (0.8 if form.many > 1 else 1.0))
        if number == form.at:
            yield InkBar((left, block.y, width, block.height), ScreenInk.INK)
        elif number in form.features:
            upper, high = y - block.height * 0.3, block.height * 0.6
            yield InkBar((left, upper, width, high), ScreenInk.STROKE_EDGE)
            inside = (left + thin, upper + thin, width - 2 * thin, high - 2 * thin)
            yield InkBar(inside, ScreenInk.HIGHLIGHTER)
        else:
            done = number < form.at
            high = block.height * (0.3 if done else 0.5)
            yield InkBar((left, y - high / 2, width, high), ScreenInk.FAINT if done else ScreenInk.PENCIL)


def _circle(box: Box, cap: float, ink: ScreenInk) -> Iterator[InkPatch]:
    """Yield a pencil circle that runs past its beginning, as drawn by hand."""
    x, y, width, height = box
    pen = cap * 0.07
    wide, high = width / 2 - pen, height / 2 - pen
    end = min(wide, high)  # round long words: two rounded ends and two straight lines
    points = []
    for step in range(CIRCLE_STEPS + 1):
        turn = step / CIRCLE_STEPS
        angle = math.radians(215 + 380 * turn)
        across, down = math.cos(angle), math.sin(angle)
        inwards = 1 - 0.05 * (1 - turn)
        points.append(
            (
                x + width / 2 + inwards * math.copysign(wide - end + end * abs(across) ** CIRCLE_POWER, across),
                y + height / 2 + high * inwards * math.copysign(abs(down) ** CIRCLE_POWER, down),
            )
        )
    half = CIRCLE_STEPS // 2
    yield _pencil(points[: half + 1], pen, ink)
    yield _pencil(points[half:], pen, ink)


def _glasses(block: ScreenBlock, ink: ScreenInk) -> Iterator[MarkShape]:
    """Yield the pair of glasses that players pencil in where they must look up."""
    cap = block.cap_px
    pen, radius, y = cap * 0.10, cap * 0.40, block.baseline - cap * 0.42
    left, right = block.left + radius + pen / 2, block.left + 2 * cap - radius - pen / 2
    for x in (left, right):
        yield InkRing((x, y), radius, ink, max(2, round(pen)))
    middle, half = (left + right) / 2, (right - left) / 2 - radius + pen / 2
    steps = [math.radians(180 + 18 * step) for step in range(11)]
    yield _pencil([(middle + half * math.cos(turn), y + 0.18 * cap * math.sin(turn)) for turn in steps], pen, ink)


def _rest(block: ScreenBlock, ink: ScreenInk) -> Iterator[InkBar]:
    """Yield the long rest of an orchestra part: a thick bar between two thin strokes."""
    cap = block.cap_px
    thin, y = max(2, round(cap * 0.09)), round(block.baseline - cap * 0.42)
    yield InkBar((block.x, y - round(0.16 * cap), block.width, round(0.32 * cap)), ink)
    for x in (block.x, block.x + block.width - thin):
        yield InkBar((x, y - round(0.42 * cap), thin, round(0.84 * cap)), ink)


def _pencil(path: Points, pen: float, ink: ScreenInk) -> InkPatch:
    """Return a line ``pen`` px wide along a path."""
    sides: tuple[list[tuple[float, float]], list[tuple[float, float]]] = ([], [])
    for number, (x, y) in enumerate(path):
        before, after = path[max(number - 1, 0)], path[min(number + 1, len(path) - 1)]
        along = math.hypot(after[0] - before[0], after[1] - before[1]) or 1.0
        off_x, off_y = (before[1] - after[1]) / along * pen / 2, (after[0] - before[0]) / along * pen / 2
        sides[0].append((x + off_x, y + off_y))
        sides[1].append((x - off_x, y - off_y))
    return InkPatch([*sides[0], *reversed(sides[1])], ink)
