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

OVER: Final = 2  # drawn twice as large and halved, for smooth edges; by other numbers the colour is a shade off
EDGE: Final = ((0.0, 0.0), (0.15, 0.8), (0.4, 0.2), (0.7, 1.0), (0.88, 0.3), (1.0, 0.6))  # how a hand's edge wavers
TORN: Final = ((0.0, 0.3), (0.17, 1.0), (0.33, 0.1), (0.5, 0.9), (0.67, 0.0), (0.83, 0.8), (1.0, 0.2))
CIRCLE_STEPS: Final = 60
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


def mark_picture(block: Block, colours: Inks) -> pygame.Surface:
    """Give what belongs behind the words of a block that has a mark, of the size of its box."""
    colour = colours[INK_OF[block.mark]]
    large = pygame.Surface((block.width * OVER, block.height * OVER), pygame.SRCALPHA)
    large.fill((*colour, 0))  # its own colour at the edges too, so that shrinking leaves no fringe
    cap = block.cap_px * OVER
    baseline = (1 + ABOVE) * cap
    box = large.get_rect()
    match block.mark:
        case Mark.HIGHLIGHT | Mark.CHOSEN:
            _stroke(large, pygame.Rect(0, baseline - 1.17 * cap, box.width, 1.48 * cap), cap, colour)
        case Mark.UNDERLINE:
            _stroke(large, pygame.Rect(0, baseline + 0.13 * cap, box.width, 0.18 * cap), 0.2 * cap, colour)
        case Mark.TAPE | Mark.TORN:
            _tape(large, box.inflate(0, -0.05 * cap), cap, colour)
        case Mark.CIRCLE:
            _circle(large, pygame.Rect(0, 0, box.width, 1.45 * cap), cap, colour)
        case Mark.GLASSES:
            _glasses(large, cap, baseline, colour)
        case Mark.REST:
            _rest(large, box, cap, baseline, colour)
    return pygame.transform.smoothscale(large, (block.width, block.height))


def _stroke(on: pygame.Surface, box: pygame.Rect, cap: float, colour: Rgb) -> None:
    """Draw a felt tip's stroke: its ends at a slant, its edges not quite straight."""
    slant, wave = cap * 0.14, cap * 0.03
    top = [(box.x + slant + share * (box.width - slant), box.y + wave * bend) for share, bend in EDGE]
    bottom = [(box.x + share * (box.width - slant), box.bottom - wave * bend) for share, bend in reversed(EDGE)]
    pygame.draw.polygon(on, colour, [*top, *bottom])


def _tape(on: pygame.Surface, box: pygame.Rect, cap: float, colour: Rgb) -> None:
    """Draw a strip of tape, torn off at both ends."""
    tooth = cap * 0.08
    left = [(box.x + tooth * bite, box.bottom - share * box.height) for share, bite in TORN]
    right = [(box.right - tooth * bite, box.y + share * box.height) for share, bite in TORN]
    pygame.draw.polygon(on, colour, [*left, *right])


def _circle(on: pygame.Surface, box: pygame.Rect, cap: float, colour: Rgb) -> None:
    """Draw a pencil's circle that runs past its own beginning, as a hand draws it."""
    pen = cap * 0.07
    wide, high = box.width / 2 - pen, box.height / 2 - pen
    points = []
    for step in range(CIRCLE_STEPS + 1):
        turn = step / CIRCLE_STEPS
        angle = math.radians(215 + 380 * turn)
        across, down = math.cos(angle), math.sin(angle)
        inwards = 1 - 0.05 * (1 - turn)
        points.append(
            (
                box.centerx + wide * inwards * math.copysign(abs(across) ** CIRCLE_POWER, across),
                box.centery + high * inwards * math.copysign(abs(down) ** CIRCLE_POWER, down),
            )
        )
    _pencil(on, colour, points, pen)


def _glasses(on: pygame.Surface, cap: float, baseline: float, colour: Rgb) -> None:
    """Draw the pair of glasses that players pencil in where they must look up."""
    pen, radius, y = cap * 0.10, cap * 0.40, baseline - cap * 0.42
    left, right = radius + pen / 2, 2 * cap - radius - pen / 2
    for x in (left, right):
        pygame.draw.circle(on, colour, (x, y), radius, round(pen))
    middle, half = (left + right) / 2, (right - left) / 2 - radius + pen / 2
    steps = [math.radians(180 + 18 * step) for step in range(11)]
    _pencil(on, colour, [(middle + half * math.cos(turn), y + 0.18 * cap * math.sin(turn)) for turn in steps], pen)


def _rest(on: pygame.Surface, box: pygame.Rect, cap: float, baseline: float, colour: Rgb) -> None:
    """Draw the long rest of an orchestra part: a thick bar between two thin strokes."""
    thin, y = cap * 0.09, baseline - cap * 0.42
    pygame.draw.rect(on, colour, pygame.Rect(0, y - 0.16 * cap, box.width, 0.32 * cap))
    for x in (0.0, box.width - thin):
        pygame.draw.rect(on, colour, pygame.Rect(x, y - 0.42 * cap, thin, 0.84 * cap))


def _pencil(on: pygame.Surface, colour: Rgb, points: Points, pen: float) -> None:
    pygame.draw.lines(on, colour, closed=False, points=points, width=max(1, round(pen)))
    for point in points:
        pygame.draw.circle(on, colour, point, pen / 2)


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
