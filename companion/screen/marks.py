"""Marks from paper: a highlighter's stroke, a pencil's circle, a strip of tape, a pair of glasses."""

import math
from collections.abc import Sequence
from typing import Final

import pygame

from .blocks import Block
from .legibility import Rgb
from .palette import Ink, Inks
from .parts import Mark

EDGE: Final = ((0.0, 0.0), (0.15, 0.8), (0.4, 0.2), (0.7, 1.0), (0.88, 0.3), (1.0, 0.6))  # how a hand's edge wavers
TORN: Final = ((0.0, 0.3), (0.17, 1.0), (0.33, 0.1), (0.5, 0.9), (0.67, 0.0), (0.83, 0.8), (1.0, 0.2))
CIRCLE_STEPS: Final = 40


def draw_mark(surface: pygame.Surface, block: Block, colours: Inks) -> None:
    """Draw what belongs behind or around the words of a block."""
    box = pygame.Rect(block.x, block.y, block.width, block.height)
    match block.mark:
        case Mark.HIGHLIGHT | Mark.CHOSEN:
            stroke(surface, box, block.cap_px, colours[Ink.HIGHLIGHTER])
        case Mark.UNDERLINE:
            underline(surface, block, box, colours[Ink.HIGHLIGHTER])
        case Mark.TAPE:
            tape(surface, box, block.cap_px, colours[Ink.TAPE])
        case Mark.TORN:
            tape(surface, box, block.cap_px, colours[Ink.WARNING])
        case Mark.CIRCLE:
            circle(surface, box, block.cap_px, colours[Ink.PENCIL])
        case Mark.GLASSES:
            glasses(surface, block, colours[Ink.PENCIL])
        case Mark.STRUCK:
            struck(surface, block, box, colours[Ink.PENCIL])
        case Mark.NONE:
            pass


def stroke(surface: pygame.Surface, box: pygame.Rect, cap_px: float, colour: Rgb) -> None:
    """Draw a felt tip's stroke: its ends at a slant, its edges not quite straight."""
    slant, wave = cap_px * 0.14, max(1.0, cap_px * 0.025)
    top = [(box.x + slant + share * (box.width - slant), box.y + wave * bend) for share, bend in EDGE]
    bottom = [(box.x + share * (box.width - slant), box.bottom - 1 - wave * bend) for share, bend in reversed(EDGE)]
    pygame.draw.polygon(surface, colour, [*top, *bottom])


def tape(surface: pygame.Surface, box: pygame.Rect, cap_px: float, colour: Rgb) -> None:
    """Draw a strip of tape, torn off at both ends."""
    tooth = cap_px * 0.10
    left = [(box.x + tooth * bite, box.bottom - 1 - share * (box.height - 1)) for share, bite in TORN]
    right = [(box.right - 1 - tooth * bite, box.y + share * (box.height - 1)) for share, bite in TORN]
    pygame.draw.polygon(surface, colour, [*left, *right])


def circle(surface: pygame.Surface, box: pygame.Rect, cap_px: float, colour: Rgb) -> None:
    """Draw a pencil's circle that does not quite close on itself, as a hand draws it."""
    pen = max(2, round(cap_px * 0.075))
    wide, high = box.width / 2 - pen, box.height / 2 - pen
    points = []
    for step in range(CIRCLE_STEPS + 1):
        turn = step / CIRCLE_STEPS
        angle = math.radians(200 + 385 * turn)  # it runs on past its beginning
        inwards = 0.06 * (1 - turn)
        points.append(
            (
                box.centerx + wide * (1 - inwards) * math.cos(angle),
                box.centery + high * (1 - 1.5 * inwards) * math.sin(angle),
            )
        )
    _pencil(surface, colour, points, pen)


def glasses(surface: pygame.Surface, block: Block, colour: Rgb) -> None:
    """Draw the pair of glasses that players pencil in where they must look up."""
    cap = block.cap_px
    pen, radius = max(2, round(cap * 0.10)), cap * 0.40
    y = block.baseline - cap * 0.42
    left, right = block.left + radius + pen / 2, block.left + 2 * cap - radius - pen / 2
    for x in (left, right):
        pygame.draw.circle(surface, colour, (x, y), radius, pen)
    bridge = pygame.Rect(left + radius - pen, y - cap * 0.2, right - left - 2 * radius + 2 * pen, cap * 0.3)
    pygame.draw.arc(surface, colour, bridge, 0, math.pi, pen)


def struck(surface: pygame.Surface, block: Block, box: pygame.Rect, colour: Rgb) -> None:
    """Strike the words through: not to be played."""
    pen = max(2, round(block.cap_px * 0.10))
    y = block.baseline - block.cap_px * 0.36
    points = [(box.x + share * box.width, y + pen * 0.6 * bend - pen * share) for share, bend in EDGE]
    _pencil(surface, colour, points, pen)


def underline(surface: pygame.Surface, block: Block, box: pygame.Rect, colour: Rgb) -> None:
    """Draw the highlighter along the foot of the words."""
    high = max(3, round(block.cap_px * 0.20))
    stroke(surface, pygame.Rect(box.x, block.baseline + round(block.cap_px * 0.12), box.width, high), high, colour)


def slashes(
    surface: pygame.Surface, box: pygame.Rect, places: tuple[int, int | None], colours: tuple[Rgb, Rgb]
) -> None:
    """Draw (how many, which is inked) slashes as on a chart's staff."""
    many, inked = places
    apart = box.width / (many + 0.5)
    for place in range(many):
        now = place == inked
        pen = max(2, round(box.height * (0.26 if now else 0.12)))
        foot = box.x + apart * (place + 0.25)
        start, end = (foot, box.bottom - 2), (foot + apart * 0.6, box.y + 1)
        pygame.draw.line(surface, colours[1] if now else colours[0], start, end, pen)


def _pencil(surface: pygame.Surface, colour: Rgb, points: Sequence[tuple[float, float]], pen: int) -> None:
    pygame.draw.lines(surface, colour, closed=False, points=points, width=pen)
    for point in points:
        pygame.draw.circle(surface, colour, point, pen / 2)
