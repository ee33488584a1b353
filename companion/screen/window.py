"""The window: reads lines from the engine, draws what changed, and sends keys back."""

import contextlib
import itertools
import math
import os
import sys
import threading
import time
import warnings
from collections.abc import Iterable
from typing import TYPE_CHECKING, BinaryIO, Final

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
os.environ.setdefault("SDL_VIDEO_MINIMIZE_ON_FOCUS_LOSS", "0")  # stay on screen when another window gets the focus
os.environ.setdefault("SDL_VIDEO_X11_WMCLASS", "companion")  # the desktop's name for the window
os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")  # real pixels, not scaled ones

import msgspec
import pygame

from companion.clock import now_ns
from companion.screen.beat import BeatMark, beat_mark, stroke_at
from companion.screen.blocks import ScreenBlock
from companion.screen.dragging import dragged
from companion.screen.keyboard import key_name
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, TypeMeasure, page_of, sizes_of
from companion.screen.painter import Painter, Ticked
from companion.screen.palette import ScreenInk, inks
from companion.screen.screen_fonts import typeface
from companion.view import ChartIs, Eyes, Light, Ping, ScreenMessage, View, as_line
from companion.view.pipe_lines import read_engine_line

if TYPE_CHECKING:
    from companion.screen.chart_shown import ChartShown

LINE_READ: Final = pygame.event.custom_type()
DRAWN: Final = pygame.event.custom_type()  # a chart has news
GONE: Final = pygame.event.custom_type()
WINDOW_SHARE: Final = 0.6  # of the monitor: size of a window that is not full screen
RETRY_S: Final = 0.2  # an unplugged monitor takes a moment to settle
LOOK_AFTER_MS: Final = 1000  # check the monitors this often if nothing else happens
NOBODY_SEES: Final = ("offscreen", "dummy")
TITLE: Final = "companion"
PING: Final = as_line(Ping()).rstrip()
SURFACE_CHANGED: Final = frozenset(
    (pygame.WINDOWSIZECHANGED, pygame.WINDOWDISPLAYCHANGED, pygame.WINDOWEXPOSED, pygame.WINDOWRESTORED)
)


class StageWindow:
    """One window on one monitor."""

    def __init__(self, lines_out: BinaryIO, *, full: bool, monitor: int = 0, light: Light = Light.DARK) -> None:
        """Open the window with an empty page. Raises pygame.error if there is no display."""
        self._lines_out = lines_out
        self._saying = threading.Lock()
        self._full, self._monitor = full, monitor
        self._eyes = Eyes()
        self._view: View | None = None
        self._blocks: tuple[ScreenBlock, ...] = ()
        self._em_sizes: set[int] = set()
        self._mark: BeatMark | None = None
        self._until_ms = math.inf  # when the beat mark changes next, in the show's time
        self._ready = False
        self._chart: ChartShown | None = None
        self.pinged = 0
        """How many of the engine's pings the drawing thread has reached."""
        self.opening = True
        find_display()
        self._painter = Painter(typeface())
        self._surface = self._open()
        self._surface.fill(inks(light)[ScreenInk.PAPER])
        pygame.display.flip()

    def _open(self) -> pygame.Surface:
        self._sizes = self._monitors()
        if not self._sizes:
            raise pygame.error("no monitor is connected")
        monitor = self._monitor if 0 <= self._monitor < len(self._sizes) else 0
        self._screen_px = wide, high = self._sizes[monitor]
        pygame.display.set_caption(TITLE)
        pygame.display.set_allow_screensaver(False)
        pygame.mouse.set_visible(False)
        if self._full:
            surface = pygame.display.set_mode((wide, high), pygame.FULLSCREEN, display=monitor)
        else:
            size = (round(wide * WINDOW_SHARE), round(high * WINDOW_SHARE))
            surface = pygame.display.set_mode(size, pygame.RESIZABLE, display=monitor)
        if sys.platform == "darwin":
            to_the_front()
        return surface

    def _monitors(self) -> list[tuple[int, int]]:
        """Return each monitor's size in px. pygame has no event for a monitor that appears or disappears."""
        return pygame.display.get_desktop_sizes()

    def say(self, message: ScreenMessage) -> None:
        """Send a message to the engine, from any thread."""
        with self._saying:  # the listening thread writes too
            self._lines_out.write(as_line(message))
            self._lines_out.flush()

    def run(self) -> None:
        """Run until the engine's pipe closes or the player closes the window. Raises OSError if the engine has gone."""
        while True:
            for event in self._came():
                if event.type == GONE:
                    return
                if event.type == pygame.QUIT:
                    self.say(ScreenMessage(closed=True))
                    return
                self._take(event)
            if self._full and self._monitors() != self._sizes:
                self._recover("the monitors have changed")
            try:
                self._show()
            except pygame.error as fault:
                self._recover(str(fault))

    def _came(self) -> list[pygame.event.Event]:
        """Wait for events, at most until the beat mark changes or the monitors need a check."""
        wait_ms = float(LOOK_AFTER_MS)
        if self._mark is not None:
            wait_ms = min(wait_ms, self._until_ms - self._now_ms())  # infinite after a count-off
        if wait_ms <= 0:
            return pygame.event.get()
        return [pygame.event.wait(math.ceil(wait_ms)), *pygame.event.get()]

    def _now_ms(self) -> float:
        return (now_ns() - (self._eyes.zero_ns or 0)) / 1_000_000

    def _take(self, event: pygame.event.Event) -> None:
        if event.type == LINE_READ:
            self._take_line(event.line)
        elif event.type == DRAWN:
            self._arrange()
        elif event.type in (pygame.KEYDOWN, pygame.KEYUP):
            self._key(event)
        elif event.type in SURFACE_CHANGED:
            self._surface = pygame.display.get_surface() or self._surface
            self._forget()
            self._arrange()

    def _forget(self) -> None:
        """Paint everything next time: the surface is new, or shows something else."""
        self._painter.forget()
        if self._chart is not None:
            self._chart.forget()

    def _key(self, event: pygame.event.Event) -> None:
        at = now_ns()
        text = event.unicode if event.unicode.isprintable() else ""
        name = key_name(event.key, text) or text
        if name:
            self.say(ScreenMessage(key=name, down=event.type == pygame.KEYDOWN, at=at, text=text or None))

    def _take_line(self, line: bytes) -> None:
        try:
            message = read_engine_line(line)
        except (msgspec.DecodeError, UnicodeDecodeError) as fault:
            self.say(ScreenMessage(problem=f"a line that is no view: {fault}"))
            return
        if isinstance(message, Ping):
            self.pinged += 1
            return
        if isinstance(message, Eyes):
            self._eyes = message
        else:
            self._view = message
        self._arrange()

    def _arrange(self) -> None:
        """Lay out the view on the surface's present size."""
        if self._view is None:
            return
        # A window shows the stage screen scaled down, for a desk: the rig file's width is that of the whole monitor.
        size = self._surface.get_size()
        screen_px = self._screen_px if self._full else size
        page = page_of(size, screen_px, self._eyes.width_mm, self._eyes.distance_m)
        pen, sizes = TypeMeasure(page, typeface()), sizes_of(page)
        self._em_sizes = {pen.em_px(arcmin) for arcmin in (sizes.large, sizes.title, sizes.cue, sizes.least)}
        self._blocks = lay_out(self._view, page, typeface())
        self._mark = beat_mark(self._view, page, sizes) if self._eyes.zero_ns is not None else None
        if self._view.chart is not None or self._chart is not None:
            self._set_chart_view(self._view, page)

    def _set_chart_view(self, view: View, page: PageSize) -> None:
        """Show or hide the song's own chart; the code for charts is imported for the first one of the night."""
        if self._chart is None:
            from companion.screen.chart_shown import ChartShown

            def changed() -> None:
                with contextlib.suppress(pygame.error):  # the window was closed meanwhile
                    pygame.event.post(pygame.event.Event(DRAWN))

            def report(news: ChartIs) -> None:
                self.say(ScreenMessage(chart=news))

            self._chart = ChartShown(typeface(), changed, report)
        was_up = self._chart.is_up
        self._chart.set_view(view, page)
        if self._chart.is_up:
            self._mark = None  # no beat over a chart
        if self._chart.is_up is not was_up:
            self._forget()

    def _show(self) -> None:
        if self._view is None:
            return
        ticked = None
        if self._mark is not None and self._view.beat is not None:
            stroke = stroke_at(self._view.beat, self._now_ms())
            self._until_ms = stroke.until_ms
            ticked = Ticked(self._mark, stroke.place)
        if self._chart is not None and self._chart.is_up:
            changed = self._chart.paint(self._surface)
        else:
            changed = self._painter.paint(self._surface, self._blocks, self._view.light, ticked)
        if changed:
            pygame.display.update(changed)
        if not self._ready:
            self._ready = True
            self.say(ScreenMessage(ready=True))
            self._painter.warm(self._em_sizes)
            self.opening = False

    def _recover(self, why: str) -> None:
        """Reopen the window after its monitor disappeared or its surface failed."""
        self.opening = True
        self.say(ScreenMessage(problem=f"reopening the window: {why}", alive=True, opening=True))
        time.sleep(RETRY_S)
        with contextlib.suppress(pygame.error):  # retried when the next view arrives
            self._surface = self._open()
            self._forget()
            self._arrange()
        self.opening = False


def to_the_front() -> None:
    """Bring the window in front of the terminal it was started from; macOS does not do so by itself (from memory)."""
    with warnings.catch_warnings(), contextlib.suppress(AttributeError, pygame.error):
        warnings.simplefilter("ignore")  # pygame warns about this call
        pygame.Window.from_display_module().focus()


def find_display() -> None:
    """Initialize the display and fonts without a window. Raises pygame.error if there is no display."""
    pygame.display.init()
    driver = pygame.display.get_driver()
    if driver in NOBODY_SEES and os.environ.get("SDL_VIDEODRIVER") != driver:
        # SDL falls back to these drivers if there is no display; accept them only if SDL_VIDEODRIVER names them.
        raise pygame.error("there is no display")
    pygame.font.init()
    if driver == "x11":
        # Measured with software rendering: a frame takes 1.8 ms instead of 9.3, and the other core stays free.
        os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")


def listen(window: StageWindow, first: bytes, heard: Iterable[bytes]) -> None:
    """Post the engine's lines to the window. Runs in a thread, since no system can wait for pipe and window at once.

    Pings are answered here too, so that an answer reports on the drawing without waiting for it. However the engine
    ends, the window hears of it.
    """
    pings, drawing = 0, threading.main_thread().native_id
    with contextlib.suppress(OSError):  # the engine died before the answer reached it
        for line in itertools.chain((first,), heard):
            if line.startswith(PING):
                window.say(
                    ScreenMessage(
                        alive=True, behind=pings - window.pinged, dragged=dragged(drawing), opening=window.opening
                    )
                )
                pings += 1
            if line.strip():
                pygame.event.post(pygame.event.Event(LINE_READ, line=line))
    pygame.event.post(pygame.event.Event(GONE))


def monitor_of(first: bytes) -> int:
    """Return the monitor that the engine's first line asks for, else 0; the window reports an unreadable line later."""
    with contextlib.suppress(msgspec.DecodeError, UnicodeDecodeError):
        message = read_engine_line(first)
        return message.monitor if isinstance(message, Eyes) else 0
    return 0


def main_window(*, full: bool, monitor: int, light: Light) -> int:
    """Run the screen's process on standard input and output. Returns 0, or 1 if no window could be opened.

    The engine starts this process before it knows whether there is a show, so no window opens before the first line.
    """
    output, heard = sys.stdout.buffer, sys.stdin.buffer
    try:
        find_display()
        typeface()
        first = heard.readline()
        if not first:
            return 0
        window = StageWindow(output, full=full, monitor=monitor_of(first) or monitor, light=light)
    except pygame.error as fault:
        output.write(as_line(ScreenMessage(problem=f"no window: {fault}")))
        output.flush()
        return 1
    threading.Thread(target=listen, args=(window, first, heard), daemon=True).start()
    with contextlib.suppress(OSError):  # the engine is gone
        window.run()
    return 0
