"""The window: lines from the engine in, pictures out, keys back. It draws only what changed."""

import contextlib
import os
import sys
import threading
import time
from typing import BinaryIO, Final

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
os.environ.setdefault("SDL_VIDEO_MINIMIZE_ON_FOCUS_LOSS", "0")  # another window must not send ours away
os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")  # real pixels, not stretched ones

import msgspec
import pygame

from .keyboard import key_name
from .layout import lay_out
from .page import page_of
from .painter import Painter
from .parts import Light, View
from .typeface import typeface
from .wire import Eyes, Said, as_line, read_told

TOLD: Final = pygame.event.custom_type()
GONE: Final = pygame.event.custom_type()
WINDOW_SHARE: Final = 0.6  # of the monitor, for a window that is not full screen
RETRY_MS: Final = 500
TITLE: Final = "companion"


class Window:
    """One window on one monitor."""

    def __init__(self, said: BinaryIO, *, full: bool, monitor: int = 0, light: Light | None = None) -> None:
        """Open it. Raises pygame.error where there is no display."""
        self._said = said
        self._full, self._monitor, self._light = full, monitor, light
        self._eyes = Eyes()
        self._view: View | None = None
        self._ready = False
        pygame.display.init()
        pygame.font.init()
        if pygame.display.get_driver() == "x11":
            # Measured with software drawing: a frame of 1.8 ms for 9.3, and the other core is left alone.
            os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
        self._face = typeface()
        self._painter = Painter(self._face)
        self._surface = self._open()
        pygame.display.set_caption(TITLE)
        pygame.display.set_allow_screensaver(False)

    def _open(self) -> pygame.Surface:
        sizes = pygame.display.get_desktop_sizes()
        monitor = self._monitor if self._monitor < len(sizes) else 0
        self._screen_px = sizes[monitor]
        if self._full:
            pygame.mouse.set_visible(False)
            return pygame.display.set_mode(sizes[monitor], pygame.FULLSCREEN, display=monitor)
        size = tuple(round(side * WINDOW_SHARE) for side in sizes[monitor])
        return pygame.display.set_mode(size, pygame.RESIZABLE, display=monitor)

    def say(self, said: Said) -> None:
        """Tell the engine."""
        self._said.write(as_line(said))
        self._said.flush()

    def run(self) -> None:
        """Until the engine has gone or the window is closed."""
        while True:
            for event in (pygame.event.wait(), *pygame.event.get()):
                if event.type == GONE:
                    return
                if event.type == pygame.QUIT:
                    self.say(Said(closed=True))
                    return
                self._take(event)
            self._show()

    def _take(self, event: pygame.event.Event) -> None:
        if event.type == TOLD:
            self._told(event.line)
        elif event.type in (pygame.KEYDOWN, pygame.KEYUP):
            at = time.monotonic_ns()
            name = key_name(event.key, event.unicode)
            text = event.unicode if event.unicode.isprintable() else ""
            if name or text:
                self.say(Said(key=name or text, down=event.type == pygame.KEYDOWN, at=at, text=text or None))
        elif event.type in (pygame.WINDOWSIZECHANGED, pygame.WINDOWEXPOSED, pygame.WINDOWDISPLAYCHANGED):
            self._surface = pygame.display.get_surface() or self._surface
            self._painter.forget()

    def _told(self, line: bytes) -> None:
        try:
            told = read_told(line)
        except msgspec.DecodeError as fault:
            self.say(Said(problem=f"a line that is no view: {fault}"))
            return
        if isinstance(told, Eyes):
            self._eyes = told
            self._painter.forget()
        else:
            self._view = told

    def _show(self) -> None:
        if self._view is None:
            return
        page = page_of(self._surface.get_size(), self._screen_px, self._eyes.width_mm, self._eyes.distance_m)
        light = self._light or self._view.light
        changed = self._painter.paint(self._surface, lay_out(self._view, page, self._face), light)
        if changed:
            pygame.display.update(changed)
        if not self._ready:
            self._ready = True
            self.say(Said(ready=True))


def listen(heard: BinaryIO) -> None:
    """Pass the engine's lines on to the window, from a thread: no system lets one wait for a pipe and a window."""
    for line in heard:
        if line.strip():
            pygame.event.post(pygame.event.Event(TOLD, line=line))
    pygame.event.post(pygame.event.Event(GONE))


def main_window(*, full: bool, monitor: int, light: Light | None) -> int:
    """Run the screen's process on standard input and output; 1 where no window could be opened."""
    said = sys.stdout.buffer
    try:
        window = Window(said, full=full, monitor=monitor, light=light)
    except pygame.error as fault:
        said.write(as_line(Said(problem=f"no window: {fault}")))
        said.flush()
        return 1
    threading.Thread(target=listen, args=(sys.stdin.buffer,), daemon=True).start()
    with contextlib.suppress(BrokenPipeError):  # the engine has gone
        window.run()
    return 0
