"""Pictures of every state as files, so that a player can check them at home, from the distance on stage."""

import io
from collections.abc import Callable, Iterator
from pathlib import Path

import pygame

from companion.screen.beat import beat_mark
from companion.screen.layout import lay_out
from companion.screen.page import page_of, sizes_of
from companion.screen.painter import Painter, Ticked
from companion.screen.scenes import Scene, scenes
from companion.screen.screen_fonts import typeface
from companion.stage import Book
from companion.view import Light, Looks, View

FULL_HD = (1920, 1080)


def pictures(
    book: Book,
    directory: Path,
    size_px: tuple[int, int] = FULL_HD,
    looks: Looks | None = None,
    progress: Callable[[int, int], None] = lambda _done, _of: None,
) -> tuple[Path, ...]:
    """Write a PNG of each state in both lights, with words sized for the rig's screen; return the paths.

    ``progress`` is called with the number of pictures done, and of all: before the first, and after each. Needs no
    display. Raises OSError if it cannot write to the directory.
    """
    directory.mkdir(parents=True, exist_ok=True)
    there = tuple(scenes(book, looks))
    pictures_in_all = len(there) * len(Light)
    progress(0, pictures_in_all)
    written: list[Path] = []
    for path in _written(book, directory, size_px, there):
        written.append(path)
        progress(len(written), pictures_in_all)
    return tuple(written)


def _written(book: Book, directory: Path, size_px: tuple[int, int], there: tuple[Scene, ...]) -> Iterator[Path]:
    painting = Painting(book, size_px)
    for number, scene in enumerate(there, 1):
        for light in Light:
            path = directory / f"{number:02} {scene.name}, {light.value}.png"
            _save(painting.paint(scene.view, light), path)
            yield path


def _save(picture: pygame.Surface, path: Path) -> None:
    """Write a picture. Raises OSError if the disk is full.

    Python opens the file: pygame would leave an empty file on a full disk, and cannot open a path that is not UTF-8.
    """
    whole = io.BytesIO()
    pygame.image.save(picture, whole, path.name)
    path.write_bytes(whole.getbuffer())


class Painting:
    """Paints views on a surface without a window."""

    def __init__(self, book: Book, size_px: tuple[int, int]) -> None:
        """Make a surface of this size in px, with words sized for the rig's screen."""
        pygame.font.init()
        self.page = page_of(size_px, size_px, book.rig.screen.width_mm, book.rig.screen.distance_m)
        self._surface = pygame.Surface(size_px)
        self._painter = Painter(typeface())

    def paint(self, view: View, light: Light) -> pygame.Surface:
        """Paint a view and return the surface, which the next call paints over."""
        mark = beat_mark(view, self.page, sizes_of(self.page))
        ticked = Ticked(mark, 2 if mark.counts_off else min(2, mark.places - 1)) if mark else None
        self._painter.forget()
        self._painter.paint(self._surface, lay_out(view, self.page, typeface()), light, ticked)
        return self._surface
