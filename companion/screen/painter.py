"""The painter: blocks onto a surface, and only where something changed. The one module that draws."""

from collections import OrderedDict
from typing import Final

import pygame

from .beat import BeatMark
from .blocks import Block
from .legibility import Rgb
from .marks import INK_OF, mark_picture, slashes
from .palette import Ink, Inks, inks
from .parts import Light, Mark
from .typeface import Typeface

MOST_CACHED: Final = 160  # painted words that are kept: a few songs' worth
NUMBER_SHARE: Final = 0.9  # of the count-off's box
SPILL_PX: Final = 2  # a glyph's own edge may leave its box by so much


class Painter:
    """Remembers what is on the surface and paints the difference."""

    def __init__(self, face: Typeface) -> None:
        """Need ``pygame.font`` to be up."""
        self.face = face
        self._fonts: dict[tuple[int, int], pygame.font.Font] = {}
        self._words: OrderedDict[tuple[str, int, Rgb], pygame.Surface] = OrderedDict()
        self._marks: OrderedDict[tuple[str, int, int, Rgb], pygame.Surface | None] = OrderedDict()
        self._shown: tuple[Block, ...] = ()
        self._light: Light | None = None

    def forget(self) -> None:
        """Paint everything next time: the surface is a new one."""
        self._light = None

    def paint(self, surface: pygame.Surface, blocks: tuple[Block, ...], light: Light) -> list[pygame.Rect]:
        """Bring the surface to these blocks; the rectangles that changed."""
        if light is not self._light:
            changed = [surface.get_rect()]
        elif blocks == self._shown:
            return []
        else:
            differ = set(blocks) ^ set(self._shown)
            changed = [box_of(block).clip(surface.get_rect()) for block in differ]
        colours = inks(light)
        for box in changed:
            surface.fill(colours[Ink.PAPER], box)
        for block in blocks:
            touched = [box for box in changed if box.colliderect(box_of(block))]
            for box in touched:
                surface.set_clip(box)
                self._block(surface, block, colours)
        surface.set_clip(None)
        self._shown, self._light = blocks, light
        return changed

    def paint_beat(self, surface: pygame.Surface, mark: BeatMark, place: int | None, light: Light) -> pygame.Rect:
        """Bring the beat mark to this place; the rectangle that changed."""
        colours = inks(light)
        box = pygame.Rect(mark.x, mark.y, mark.width, mark.height)
        surface.fill(colours[Ink.PAPER], box)
        if mark.counts_off:
            if place is not None:
                number = self._painted(str(place + 1), round(mark.height * NUMBER_SHARE), colours[Ink.INK])
                surface.blit(number, number.get_rect(center=box.center))
        else:
            slashes(surface, box, (mark.places, place), (colours[Ink.FAINT], colours[Ink.INK]))
        return box

    def _block(self, surface: pygame.Surface, block: Block, colours: Inks) -> None:
        mark = self._mark(block, colours)
        if mark is not None:
            surface.blit(mark, (block.x, block.y))
        if block.text:
            words = self._painted(block.text, block.em_px, colours[block.ink])
            surface.blit(words, (block.left, block.baseline - self._font(0, block.em_px).get_ascent()))

    def _mark(self, block: Block, colours: Inks) -> pygame.Surface | None:
        if block.mark is Mark.NONE:
            return None
        known = (block.mark.value, block.width, block.height, colours[INK_OF[block.mark]])
        if known not in self._marks:
            self._marks[known] = mark_picture(block, colours)
            if len(self._marks) > MOST_CACHED:
                self._marks.popitem(last=False)
        return self._marks[known]

    def _painted(self, text: str, em_px: int, colour: Rgb) -> pygame.Surface:
        known = (text, em_px, colour)
        if known in self._words:
            self._words.move_to_end(known)
            return self._words[known]
        pieces = [
            (self._font(number, em_px), round(self.face.faces[number].raised * em_px), run)
            for number, run in self.face.runs(text)
        ]
        painted = [(font, raised, font.render(run, True, colour)) for font, raised, run in pieces]
        first = self._font(0, em_px).get_ascent()
        whole = pygame.Surface(
            (
                sum(one.get_width() for _, _, one in painted),
                max(first - font.get_ascent() + one.get_height() for font, raised, one in painted),
            ),
            pygame.SRCALPHA,
        )
        x = 0
        for font, raised, one in painted:
            whole.blit(one, (x, first - font.get_ascent() - raised))
            x += one.get_width()
        self._words[known] = whole
        if len(self._words) > MOST_CACHED:
            self._words.popitem(last=False)
        return whole

    def _font(self, number: int, em_px: int) -> pygame.font.Font:
        if (number, em_px) not in self._fonts:
            self._fonts[number, em_px] = pygame.font.Font(self.face.faces[number].path, em_px)
        return self._fonts[number, em_px]


def box_of(block: Block) -> pygame.Rect:
    """Give everything that painting this block may touch."""
    return pygame.Rect(block.x, block.y, block.width, block.height).inflate(2 * SPILL_PX, 2 * SPILL_PX)
