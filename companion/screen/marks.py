"""Marks from paper: a highlighter's stroke, a pencil's circle, strips of tape, a pair of glasses, a long rest."""

import math
from collections.abc import Sequence
from typing import Final

import pygame

from .blocks import Block
from .fitting import ABOVE
from .legibility import Rgb
from .palette import Ink, Inks
from .parts import Mark

EDGE: Final = ((0.0, 0.0), (0.15, 0.8), (0.4, 0.2), (0.7, 1.0), (0.88, 0.3), (1.0, 0.6))  # how a hand's edge wavers
TORN: Final = ((0.0, 0.3), (0.17, 1.0), (0.33, 0.1), (0.5, 0.9), (0.67, 0.0), (0.83, 0.8), (1.0, 0.2))
CIRCLE_STEPS: Final = 80
CIRCLE_POWER: Final = 0.5  # below 1 it hugs its words like a rounded box

INK_OF: Final = {
    Mark.HIGHLIGHT: Ink.HIGHLIGHTER,
    Mark.CHOSEN: Ink.HIGHLIGHTER,
    Mark.UNDERLINE: Ink.HIGHLIGHTER,
    Mark.TAPE: Ink.TAPE,
    Mark.TORN: Ink.WARNING,
    Mark.CIRCLE: Ink.PENCIL,
    Mark.GLASSES: Ink.PENCIL,
    Mark.REST: Ink.PENCIL,
}

Points = Sequence[tuple[float, float]]
Box = tuple[float, float, float, float]  # left, top, width, height


def draw_mark(on: pygame.Surface, block: Block, colours: Inks) -> None:
    """Draw what belongs behind the words of a block."""
    if block.mark is Mark.NONE:
        return
    colour = colours[INK_OF[block.mark]]
    cap, top = block.cap_px, block.baseline - (1 + ABOVE) * block.cap_px
    match block.mark:
        case Mark.HIGHLIGHT | Mark.CHOSEN:
            _stroke(on, (block.x, top + 0.03 * cap, block.width - 1, 1.48 * cap), cap, colour)
        case Mark.UNDERLINE:
            _stroke(on, (block.x, block.baseline + 0.13 * cap, block.width - 1, 0.18 * cap), 0.2 * cap, colour)
        case Mark.TAPE | Mark.TORN:
            _tape(on, (block.x, block.y + 0.03 * cap, block.width - 1, block.height - 0.06 * cap - 1), cap, colour)
        case Mark.CIRCLE:
            _circle(on, (block.x, top, block.width - 1, 1.45 * cap), cap, colour)
        case Mark.GLASSES:
            _glasses(on, block, colour)
        case Mark.REST:
            _rest(on, block, colour)


def _stroke(on: pygame.Surface, box: Box, cap: float, colour: Rgb) -> None:
    """Draw a felt tip's stroke: its ends at a slant, its edges not quite straight."""
    x, y, width, height = box
    slant, wave = cap * 0.14, cap * 0.03
    top = [(x + slant + share * (width - slant), y + wave * bend) for share, bend in EDGE]
    bottom = [(x + share * (width - slant), y + height - wave * bend) for share, bend in reversed(EDGE)]
    _filled(on, colour, [*top, *bottom])


def _tape(on: pygame.Surface, box: Box, cap: float, colour: Rgb) -> None:
    """Draw a strip of tape, torn off at both ends."""
    x, y, width, height = box
    tooth = cap * 0.08
    left = [(x + tooth * bite, y + height - share * height) for share, bite in TORN]
    right = [(x + width - tooth * bite, y + share * height) for share, bite in TORN]
    _filled(on, colour, [*left, *right])


def _circle(on: pygame.Surface, box: Box, cap: float, colour: Rgb) -> None:
    """Draw a pencil's circle that runs past its own beginning, as a hand draws it."""
    x, y, width, height = box
    pen = cap * 0.07
    wide, high = width / 2 - pen, height / 2 - pen
    end = min(wide, high)  # long words are ringed by two ends and two straight lines
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


def _glasses(on: pygame.Surface, block: Block, colour: Rgb) -> None:
    """Draw the pair of glasses that players pencil in where they must look up."""
    cap = block.cap_px
    pen, radius, y = cap * 0.10, cap * 0.40, block.baseline - cap * 0.42
    left, right = block.left + radius + pen / 2, block.left + 2 * cap - radius - pen / 2
    for x in (left, right):
        pygame.draw.aacircle(on, colour, (x, y), radius, max(2, round(pen)))
    middle, half = (left + right) / 2, (right - left) / 2 - radius + pen / 2
    steps = [math.radians(180 + 18 * step) for step in range(11)]
    _pencil(on, colour, [(middle + half * math.cos(turn), y + 0.18 * cap * math.sin(turn)) for turn in steps], pen)


def _rest(on: pygame.Surface, block: Block, colour: Rgb) -> None:
    """Draw the long rest of an orchestra part: a thick bar between two thin strokes."""
    cap = block.cap_px
    thin, y = max(2, round(cap * 0.09)), round(block.baseline - cap * 0.42)
    pygame.draw.rect(on, colour, (block.x, y - round(0.16 * cap), block.width, round(0.32 * cap)))
    for x in (block.x, block.x + block.width - thin):
        pygame.draw.rect(on, colour, (x, y - round(0.42 * cap), thin, round(0.84 * cap)))


def _filled(on: pygame.Surface, colour: Rgb, corners: Points) -> None:
    """Fill a polygon, its edges smooth."""
    pygame.draw.polygon(on, colour, corners)
    pygame.draw.aalines(on, colour, closed=True, points=corners)


def _pencil(on: pygame.Surface, colour: Rgb, path: Points, pen: float) -> None:
    """Draw a line of a pencil's width along a path."""
    sides: tuple[list[tuple[float, float]], list[tuple[float, float]]] = ([], [])
    for number, (x, y) in enumerate(path):
        before, after = path[max(number - 1, 0)], path[min(number + 1, len(path) - 1)]
        along = math.hypot(after[0] - before[0], after[1] - before[1]) or 1.0
        off_x, off_y = (before[1] - after[1]) / along * pen / 2, (after[0] - before[0]) / along * pen / 2
        sides[0].append((x + off_x, y + off_y))
        sides[1].append((x - off_x, y - off_y))
    _filled(on, colour, [*sides[0], *reversed(sides[1])])


def slashes(on: pygame.Surface, box: pygame.Rect, places: tuple[int, int | None], colours: tuple[Rgb, Rgb]) -> None:
    """Draw (how many, which is inked) slashes as on a chart's staff."""
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
