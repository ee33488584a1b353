"""Marks from paper: a highlighter's stroke, a pencil's circle, a strip of tape, a pair of glasses."""

import math

import pygame

from .layout import Block
from .palette import Ink, Inks
from .parts import Mark


def draw_mark(surface: pygame.Surface, block: Block, colours: Inks) -> None:
    """Draw what belongs behind or around the words of a block."""
    box = pygame.Rect(block.x, block.y, block.width, block.height)
    match block.mark:
        case Mark.HIGHLIGHT | Mark.CHOSEN:
            stroke(surface, box, block.cap_px, colours[Ink.HIGHLIGHTER])
        case Mark.UNDERLINE:
            thick = max(2, round(block.cap_px * 0.16))
            pygame.draw.rect(surface, colours[Ink.HIGHLIGHTER], (box.x, block.baseline + thick // 2, box.width, thick))
        case Mark.TAPE:
            stroke(surface, box, block.cap_px, colours[Ink.TAPE])
        case Mark.TORN:
            stroke(surface, box, block.cap_px, colours[Ink.WARNING])
        case Mark.CIRCLE:
            circle(surface, box, block.cap_px, colours[Ink.PENCIL])
        case Mark.GLASSES:
            glasses(surface, block, colours[Ink.PENCIL])
        case Mark.STRUCK:
            pen = max(2, round(block.cap_px * 0.08))
            y = block.baseline - round(block.cap_px * 0.4)
            pygame.draw.line(surface, colours[Ink.PENCIL], (box.x, y), (box.right, y - pen), pen)
        case Mark.NONE:
            pass


def stroke(surface: pygame.Surface, box: pygame.Rect, cap_px: float, colour: tuple[int, int, int]) -> None:
    """Draw a filled stroke, its ends cut at a slant as a felt tip leaves them."""
    slant = cap_px * 0.12
    corners = (
        (box.x + slant, box.y),
        (box.right - 1, box.y),
        (box.right - 1 - slant, box.bottom - 1),
        (box.x, box.bottom - 1),
    )
    pygame.draw.polygon(surface, colour, corners)


def circle(surface: pygame.Surface, box: pygame.Rect, cap_px: float, colour: tuple[int, int, int]) -> None:
    """Draw a pencil's circle round the box."""
    pygame.draw.ellipse(surface, colour, box, max(2, round(cap_px * 0.07)))


def glasses(surface: pygame.Surface, block: Block, colour: tuple[int, int, int]) -> None:
    """Draw the pair of glasses that players pencil in where they must look up."""
    cap = block.cap_px
    pen, radius = max(2, round(cap * 0.09)), cap * 0.42
    y = block.baseline - cap * 0.45
    left, right = block.left + radius + pen, block.left + 3 * radius + cap * 0.25
    for x in (left, right):
        pygame.draw.circle(surface, colour, (x, y), radius, pen)
    arc = pygame.Rect(0, 0, right - left - 2 * radius + 2 * pen, cap * 0.3)
    arc.center = (round((left + right) / 2), round(y))
    pygame.draw.arc(surface, colour, arc, 0, math.pi, pen)
