"""The painter: draws blocks on a surface, only where something changed. Only this module and ``marks`` draw."""

import string
from collections import OrderedDict
from collections.abc import Collection, Iterable
from typing import Final

import msgspec
import pygame

from companion.right_to_left import as_drawn
from companion.screen.beat import BeatMark
from companion.screen.blocks import ScreenBlock
from companion.screen.legibility import Rgb
from companion.screen.mark_shapes import mark_shapes, slash_shapes
from companion.screen.marks import paint_shapes
from companion.screen.palette import Inks, ScreenInk, inks
from companion.screen.screen_fonts import Typeface
from companion.shown import harmless_line
from companion.view import Light

MAX_KEPT: Final = 0.4  # of the page's area: painted words kept for reuse
USUAL_LETTERS: Final = string.ascii_letters + string.digits + " .,:/&()“…”"
WARM_SHARE: Final = 0.6  # of the largest size: larger ones are not warmed
NUMBER_SHARE: Final = 0.9  # of the count-off's box
SPILL: Final = 0.10  # of the type size: how far the hook of an f or an accent on a capital may leave the box


class Ticked(msgspec.Struct, frozen=True):
    """The beat mark and its inked place; None: no place."""

    mark: BeatMark
    place: int | None


class Painter:
    """Remembers what is on the surface and paints only the difference."""

    def __init__(self, face: Typeface) -> None:
        """``pygame.font`` must be initialized before the painter paints."""
        self.face = face
        self._fonts: dict[tuple[int, int], pygame.font.Font] = {}
        self._kept: OrderedDict[tuple[str, int, Rgb], pygame.Surface] = OrderedDict()
        self._kept_px, self._most_px = 0, 0.0
        self._shown: frozenset[ScreenBlock] = frozenset()
        self._ticked: Ticked | None = None
        self._light: Light | None = None

    def forget(self) -> None:
        """Paint everything at the next ``paint``, for a new surface."""
        self._light = None

    def warm(self, em_sizes: Collection[int]) -> None:
        """Draw the usual letters once at the smaller of these sizes, so that no page waits for them later.

        The largest sizes are left out: few words need them, and all letters at such a size take 4 MiB all night.
        """
        for em_px in em_sizes:
            if em_px <= max(em_sizes) * WARM_SHARE:
                self._font(0, em_px).render(USUAL_LETTERS, True, "white")

    def paint(
        self, surface: pygame.Surface, blocks: tuple[ScreenBlock, ...], light: Light, ticked: Ticked | None = None
    ) -> list[pygame.Rect]:
        """Paint these blocks and this beat; return the rectangles that changed, in px."""
        whole = surface.get_rect()
        self._most_px = MAX_KEPT * whole.width * whole.height
        wanted = frozenset(blocks)
        changed = merged(self._differing(wanted, ticked), whole) if light is self._light else [whole]
        if not changed:
            return []
        colours = inks(light)
        for box in changed:
            surface.fill(colours[ScreenInk.PAPER], box)
        for block in blocks:
            around = box_of(block)
            for box in changed:
                if box.colliderect(around):
                    surface.set_clip(box)
                    self._block(surface, block, colours)
        surface.set_clip(None)
        if ticked is not None:
            self._beat(surface, ticked, colours)
        self._shown, self._ticked, self._light = wanted, ticked, light
        return changed

    def _differing(self, wanted: frozenset[ScreenBlock], ticked: Ticked | None) -> list[pygame.Rect]:
        boxes = [] if wanted == self._shown else [box_of(block) for block in wanted ^ self._shown]
        if ticked != self._ticked:
            boxes += [_beat_box(one.mark) for one in (self._ticked, ticked) if one is not None]
        return boxes

    def _beat(self, surface: pygame.Surface, ticked: Ticked, colours: Inks) -> None:
        mark, box = ticked.mark, _beat_box(ticked.mark)
        if not mark.counts_off:
            paint_shapes(surface, slash_shapes(mark, ticked.place), colours)
        elif ticked.place is not None:
            number = self._words(str(ticked.place + 1), round(mark.height * NUMBER_SHARE), colours[ScreenInk.INK])
            surface.blit(number, number.get_rect(center=box.center))

    def _block(self, surface: pygame.Surface, block: ScreenBlock, colours: Inks) -> None:
        paint_shapes(surface, mark_shapes(block), colours)
        if block.text:
            words = self._words(block.text, block.em_px, colours[block.ink])
            surface.blit(words, (block.left, block.baseline - self._font(0, block.em_px).get_ascent()))

    def _words(self, text: str, em_px: int, colour: Rgb) -> pygame.Surface:
        known = (text, em_px, colour)
        if known in self._kept:
            self._kept.move_to_end(known)
            return self._kept[known]
        ascent = self._font(0, em_px).get_ascent()
        painted: list[tuple[pygame.Surface, int]] = []
        for number, run in self.face.runs(as_drawn(harmless_line(text) or " ")):
            font = self._font(number, em_px)
            if not font.size(run)[0]:
                continue  # signs without a width, which pygame refuses to draw alone
            top = ascent - font.get_ascent() - round(self.face.faces[number].raised * em_px)
            painted.append((font.render(run, True, colour), top))
        if len(painted) == 1 and painted[0][1] == 0:
            return self._keep(known, painted[0][0])
        width = sum(one.get_width() for one, _ in painted)
        size = width, max((top + one.get_height() for one, top in painted), default=0)
        whole = pygame.Surface(size, pygame.SRCALPHA)
        x = 0
        for one, top in painted:
            whole.blit(one, (x, top))
            x += one.get_width()
        return self._keep(known, whole)

    def _keep(self, known: tuple[str, int, Rgb], picture: pygame.Surface) -> pygame.Surface:
        self._kept[known] = picture
        self._kept_px += picture.get_width() * picture.get_height()
        while self._kept_px > self._most_px and len(self._kept) > 1:
            _, oldest = self._kept.popitem(last=False)
            self._kept_px -= oldest.get_width() * oldest.get_height()
        return picture

    def _font(self, number: int, em_px: int) -> pygame.font.Font:
        if (number, em_px) not in self._fonts:
            self._fonts[number, em_px] = pygame.font.Font(self.face.faces[number].path, em_px)
        return self._fonts[number, em_px]


def box_of(block: ScreenBlock) -> pygame.Rect:
    """Return the area that painting this block may touch."""
    spill = 2 * round(SPILL * block.em_px + 1)
    return pygame.Rect(block.x, block.y, block.width, block.height).inflate(spill, spill)


def merged(boxes: Iterable[pygame.Rect], within: pygame.Rect) -> list[pygame.Rect]:
    """Return the boxes, clipped, with overlapping ones joined: a letter painted twice would have darker edges."""
    apart: list[pygame.Rect] = []
    for box in boxes:
        joined = box.clip(within)
        if not joined:
            continue
        while (touching := joined.collidelist(apart)) >= 0:
            joined = joined.union(apart.pop(touching))
        apart.append(joined)
    return apart


def _beat_box(mark: BeatMark) -> pygame.Rect:
    return pygame.Rect(mark.x, mark.y, mark.width, mark.height)
