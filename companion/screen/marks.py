"""Marks from paper: a highlighter's stroke, a pencil's circle, strips of tape, a pair of glasses, a long rest."""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

import pygame

from companion.screen.blocks import ScreenBlock
from companion.screen.fitting import ABOVE
from companion.screen.legibility import Rgb
from companion.screen.palette import Inks, ScreenInk
from companion.view.view_lines import LineMark

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


class Edge(NamedTuple):
    """The line round a mark; its width is in px."""

    colour: Rgb
    width: int


Points = Sequence[tuple[float, float]]
Box = tuple[float, float, float, float]  # left, top, width, height


def draw_mark(on: pygame.Surface, block: ScreenBlock, colours: Inks) -> None:
    """Draw a block's mark; call it before drawing the words, which go on top."""
    if block.mark is LineMark.NONE:
        return
    colour = colours[INK_OF[block.mark]]
    edge = (
        Edge(colours[EDGE_OF[block.mark]], max(1, round(EDGE_SHARE * block.cap_px))) if block.mark in EDGE_OF else None
    )
    cap, top = block.cap_px, block.baseline - (1 + ABOVE) * block.cap_px
    match block.mark:
        case LineMark.HIGHLIGHT | LineMark.CHOSEN:
            _stroke(on, (block.x, top + 0.03 * cap, block.width - 1, 1.48 * cap), cap, colour, edge)
        case LineMark.UNDERLINE:
            _stroke(on, (block.x, block.baseline + 0.13 * cap, block.width - 1, 0.18 * cap), 0.2 * cap, colour, edge)
        case LineMark.TAPE | LineMark.TORN:
            _tape(on, _strip_of(block), cap, colour, edge)
        case LineMark.RIPPED:
            _ripped(on, _strip_of(block), cap, colour, edge)
        case LineMark.FORM:
            _form(on, block, colours)
        case LineMark.CIRCLE:
            _circle(on, (block.x, top, block.width - 1, 1.45 * cap), cap, colour)
        case LineMark.GLASSES:
            _glasses(on, block, colour)
        case LineMark.REST:
            _rest(on, block, colour)


def _strip_of(block: ScreenBlock) -> Box:
    cap = block.cap_px
    return block.x, block.y + 0.03 * cap, block.width - 1, block.height - 0.06 * cap - 1


def _stroke(on: pygame.Surface, box: Box, cap: float, colour: Rgb, edge: Edge | None) -> None:
    """Draw a felt tip's stroke, with slanted ends and edges that are not quite straight."""
    x, y, width, height = box
    slant, wave = cap * 0.14, cap * 0.03
    top = [(x + slant + share * (width - slant), y + wave * bend) for share, bend in EDGE]
    bottom = [(x + share * (width - slant), y + height - wave * bend) for share, bend in reversed(EDGE)]
    _filled(on, colour, [*top, *bottom], edge)


def _tape(on: pygame.Surface, box: Box, cap: float, colour: Rgb, edge: Edge | None) -> None:
    """Draw a strip of tape, torn off at both ends."""
    x, y, width, height = box
    tooth = cap * 0.08
    left = [(x + tooth * bite, y + height - share * height) for share, bite in TORN]
    right = [(x + width - tooth * bite, y + share * height) for share, bite in TORN]
    _filled(on, colour, [*left, *right], edge)


def _ripped(on: pygame.Surface, box: Box, cap: float, colour: Rgb, edge: Edge | None) -> None:
    """Draw the rest of a strip that was ripped off: a scrap of tape at each end, dashed edges between them."""
    x, y, width, height = box
    tooth = cap * 0.11
    for start, side in ((x, 1), (x + width, -1)):
        outer = [(start, y), (start, y + height)]
        inner = [(start + side * (cap * 0.22 + tooth * 2 * bite), y + height - share * height) for share, bite in TORN]
        _filled(on, colour, [*outer, *inner], edge)
    if edge is not None:
        dash = cap * 0.5
        for step in range(int((width - 1.6 * cap) / dash)):
            if step % 2 == 0:
                for at in (y + edge.width, y + height - edge.width):
                    left = x + 0.8 * cap + step * dash
                    pygame.draw.line(on, edge.colour, (left, at), (left + dash, at), edge.width)


def _form(on: pygame.Surface, block: ScreenBlock, colours: Inks) -> None:
    """Draw the song's form: a pencil line with a stroke for each section; the current one is a bar of ink."""
    form = block.form
    if form is None:
        return
    apart = min(block.width / form.many, block.cap_px * FORM_APART)
    y, thin = block.y + block.height / 2, max(1, round(block.height * 0.12))
    pygame.draw.line(on, colours[ScreenInk.FAINT], (block.x, y), (block.x + apart * form.many, y), thin)
    for number in range(form.many):
        left, width = block.x + number * apart, max(1.0, apart * 0.8)
        if number == form.at:
            pygame.draw.rect(on, colours[ScreenInk.INK], (left, block.y, width, block.height))
        elif number in form.features:
            pygame.draw.rect(
                on, colours[ScreenInk.STROKE_EDGE], (left, y - block.height * 0.3, width, block.height * 0.6)
            )
            inside = (left + thin, y - block.height * 0.3 + thin, width - 2 * thin, block.height * 0.6 - 2 * thin)
            pygame.draw.rect(on, colours[ScreenInk.HIGHLIGHTER], inside)
        else:
            done = number < form.at
            high = block.height * (0.3 if done else 0.5)
            pygame.draw.rect(
                on, colours[ScreenInk.FAINT if done else ScreenInk.PENCIL], (left, y - high / 2, width, high)
            )


def _circle(on: pygame.Surface, box: Box, cap: float, colour: Rgb) -> None:
    """Draw a pencil circle that runs past its beginning, as drawn by hand."""
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
    _pencil(on, colour, points[: half + 1], pen)
    _pencil(on, colour, points[half:], pen)


def _glasses(on: pygame.Surface, block: ScreenBlock, colour: Rgb) -> None:
    """Draw the pair of glasses that players pencil in where they must look up."""
    cap = block.cap_px
    pen, radius, y = cap * 0.10, cap * 0.40, block.baseline - cap * 0.42
    left, right = block.left + radius + pen / 2, block.left + 2 * cap - radius - pen / 2
    for x in (left, right):
        pygame.draw.aacircle(on, colour, (x, y), radius, max(2, round(pen)))
    middle, half = (left + right) / 2, (right - left) / 2 - radius + pen / 2
    steps = [math.radians(180 + 18 * step) for step in range(11)]
    _pencil(on, colour, [(middle + half * math.cos(turn), y + 0.18 * cap * math.sin(turn)) for turn in steps], pen)


def _rest(on: pygame.Surface, block: ScreenBlock, colour: Rgb) -> None:
    """Draw the long rest of an orchestra part: a thick bar between two thin strokes."""
    cap = block.cap_px
    thin, y = max(2, round(cap * 0.09)), round(block.baseline - cap * 0.42)
    pygame.draw.rect(on, colour, (block.x, y - round(0.16 * cap), block.width, round(0.32 * cap)))
    for x in (block.x, block.x + block.width - thin):
        pygame.draw.rect(on, colour, (x, y - round(0.42 * cap), thin, round(0.84 * cap)))


def _filled(on: pygame.Surface, colour: Rgb, corners: Points, edge: Edge | None = None) -> None:
    """Fill a polygon, with smooth edges or with an edge line."""
    pygame.draw.polygon(on, colour, corners)
    if edge is None:
        pygame.draw.aalines(on, colour, closed=True, points=corners)
        return
    pygame.draw.lines(on, edge.colour, closed=True, points=corners, width=edge.width)
    pygame.draw.aalines(on, edge.colour, closed=True, points=corners)


def _pencil(on: pygame.Surface, colour: Rgb, path: Points, pen: float) -> None:
    """Draw a line ``pen`` px wide along a path."""
    sides: tuple[list[tuple[float, float]], list[tuple[float, float]]] = ([], [])
    for number, (x, y) in enumerate(path):
        before, after = path[max(number - 1, 0)], path[min(number + 1, len(path) - 1)]
        along = math.hypot(after[0] - before[0], after[1] - before[1]) or 1.0
        off_x, off_y = (before[1] - after[1]) / along * pen / 2, (after[0] - before[0]) / along * pen / 2
        sides[0].append((x + off_x, y + off_y))
        sides[1].append((x - off_x, y - off_y))
    _filled(on, colour, [*sides[0], *reversed(sides[1])])


def slashes(on: pygame.Surface, box: pygame.Rect, places: tuple[int, int | None], colours: tuple[Rgb, Rgb]) -> None:
    """Draw slashes as on a chart's staff. ``places`` is (how many, which is inked); ``colours`` is (others, inked)."""
    many, inked = places
    apart = box.width / (many + 0.5)
    for place in range(many):
        now = place == inked
        thick = box.height * (0.26 if now else 0.10)
        foot = box.x + apart * (place + 0.25)
        lean = apart * 0.55
        corners = (
            (foot, box.bottom - 1),
            (foot + lean, box.y),
            (foot + lean + thick, box.y),
            (foot + thick, box.bottom - 1),
        )
        pygame.draw.polygon(on, colours[1] if now else colours[0], corners)
