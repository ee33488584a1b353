"""Paint the shapes of marks on a surface, with smooth edges where a hand would leave them."""

from collections.abc import Iterable

import pygame

from companion.screen.mark_shapes import InkBar, InkLine, InkPatch, InkRing, MarkShape
from companion.screen.palette import Inks


def paint_shapes(on: pygame.Surface, shapes: Iterable[MarkShape], colours: Inks) -> None:
    """Paint shapes in their order."""
    for shape in shapes:
        match shape:
            case InkPatch():
                _patch(on, shape, colours)
            case InkBar():
                pygame.draw.rect(on, colours[shape.ink], shape.box)
            case InkLine():
                pygame.draw.line(on, colours[shape.ink], shape.begin, shape.end, shape.width)
            case InkRing():
                pygame.draw.aacircle(on, colours[shape.ink], shape.centre, shape.radius, shape.width)


def _patch(on: pygame.Surface, patch: InkPatch, colours: Inks) -> None:
    pygame.draw.polygon(on, colours[patch.ink], patch.corners)
    if patch.edge is not None:
        colour = colours[patch.edge.ink]
        pygame.draw.lines(on, colour, closed=True, points=patch.corners, width=patch.edge.width)
        pygame.draw.aalines(on, colour, closed=True, points=patch.corners)
    elif not patch.is_sharp:
        pygame.draw.aalines(on, colours[patch.ink], closed=True, points=patch.corners)
