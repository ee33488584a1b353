"""A song's own chart on the screen: gets screenfuls from the drawing process and paints them under the strip."""

import contextlib
import json
import subprocess
import threading
from collections.abc import Callable
from typing import IO, Final, NamedTuple, cast

import pygame

from companion.child import python, within_limits
from companion.screen.chart_pages import max_memory
from companion.screen.page import PageSize
from companion.screen.painter import Painter
from companion.screen.palette import ScreenInk, inks
from companion.screen.screen_fonts import Typeface
from companion.screen.strip import strip, strip_px
from companion.view import ChartIs, Light, View

BROKE: Final = "the chart takes too long to draw, or is broken"


class ChartRequest(NamedTuple):
    """What to draw; another size or light is another request."""

    path: str
    width: int
    height: int
    light: Light


class Drawing:
    """The process that draws one chart, and the screenfuls kept: the current one, the next and the one before.

    A thread reads from the process, and calls ``changed`` when there is news. ``turns`` is 0 until it is known.
    """

    def __init__(self, request: ChartRequest, changed: Callable[[], None]) -> None:
        """Start the process; ``problem`` is set if it cannot start."""
        self.request = request
        self.turns, self.problem = 0, ""
        self._changed = changed
        self._wanted: tuple[int, ...] = ()
        self._at_hand: dict[int, pygame.Surface] = {}
        self._ended = False
        command = python("companion.screen.chart_pages", *map(str, request[:3]), request.light.value)
        self._process: subprocess.Popen[bytes] | None = None
        try:
            self._process = subprocess.Popen(  # noqa: S603 - our own module, by the interpreter that runs us
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE
            )
        except OSError:  # the system has no room for another process; the view stays
            self.problem = BROKE
            return
        threading.Thread(target=self._listen, name="chart", daemon=True).start()

    def screenful(self, turn: int) -> pygame.Surface | None:
        """Return a screenful if it is drawn, else None. Asks for it and its neighbours as needed."""
        if not self.turns:
            return None
        wanted = tuple(one for one in (turn, turn + 1, turn - 1) if 0 <= one < self.turns)
        for one in wanted:
            if one not in self._wanted:
                self._ask(one)
        self._wanted = wanted
        for one in tuple(self._at_hand):  # in one step: the listening thread adds to it
            if one not in wanted:
                del self._at_hand[one]
        return self._at_hand.get(turn)

    def _ask(self, turn: int) -> None:
        pipe = cast("IO[bytes]", self._process and self._process.stdin)
        with contextlib.suppress(OSError, ValueError):  # the process has ended; the listener reports that
            pipe.write(f"{turn}\n".encode())
            pipe.flush()

    def _listen(self) -> None:
        pipe = cast("IO[bytes]", self._process and self._process.stdout)
        with (
            self._within_limits(),
            contextlib.suppress(ValueError, KeyError, OSError),
        ):  # reported below, like every early end
            while not self.problem and (line := pipe.readline()):
                answer = json.loads(line)
                if "turn" in answer:
                    wide, high = answer["size"]
                    pixels = pipe.read(wide * high * 4)
                    surface = pygame.image.frombuffer(pixels, (wide, high), "RGBX")
                    if answer["turn"] in self._wanted:
                        self._at_hand[answer["turn"]] = surface
                else:
                    self.turns, self.problem = answer.get("turns", 0), answer.get("problem", "")
                self._changed()
        if not self._ended:
            self.problem = self.problem or BROKE
            self._changed()
        self.end()

    def _within_limits(self) -> contextlib.AbstractContextManager[object]:
        """Limit its memory to what a chart of this width needs, if the system does not."""
        if self._process is None:
            return contextlib.nullcontext()
        return within_limits(self._process, max_memory(self.request.width), None)

    def end(self) -> None:
        """Kill the process and close its pipes. Calling it again is harmless."""
        self._ended = True
        if self._process is None:
            return
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError, ValueError):
                    pipe.close()


class ChartShown:
    """The chart in place of the lines, as soon as it is drawn and for as long as the view asks for it."""

    def __init__(self, face: Typeface, changed: Callable[[], None], report: Callable[[ChartIs], None]) -> None:
        """Start without a chart. A thread calls ``changed`` when the page needs a new layout, ``report`` for news."""
        self._face, self._changed, self._report = face, changed, report
        self._drawing: Drawing | None = None
        self._last_news: ChartIs | None = None
        self._painter = Painter(face)
        self._screenful: pygame.Surface | None = None
        self._painted: pygame.Surface | None = None
        self._view: View | None = None
        self._page: PageSize | None = None

    @property
    def is_up(self) -> bool:
        """Whether a screenful is ready to paint."""
        return self._screenful is not None

    def set_view(self, view: View, page: PageSize) -> None:
        """Set the view to show and its page; request its chart if that is new."""
        if view.chart is None:
            self.put_away()
            return
        top = strip_px(page, self._face)
        request = ChartRequest(view.chart.path, page.width, max(1, page.height - top), view.light)
        if self._drawing is None or self._drawing.request != request:
            self.put_away()
            self._drawing = Drawing(request, self._changed)
        drawing = self._drawing
        news = ChartIs(request.path, drawing.turns, drawing.problem)
        if (news.turns or news.problem) and news != self._last_news:
            self._last_news = news
            self._report(news)
        if drawing.problem:
            self._screenful = None
            return
        self._screenful = drawing.screenful(min(view.chart.turn, max(0, drawing.turns - 1))) or self._screenful
        self._view, self._page = view, page

    def put_away(self) -> None:
        """End the drawing and show the lines again."""
        if self._drawing is not None:
            self._drawing.end()
        self._drawing = self._last_news = self._screenful = None

    def forget(self) -> None:
        """Paint everything at the next ``paint``."""
        self._painted = None
        self._painter.forget()

    def paint(self, surface: pygame.Surface) -> list[pygame.Rect]:
        """Paint what changed and return its rectangles, in px."""
        if self._view is None or self._page is None or self._view.chart is None or self._drawing is None:
            return []
        top = strip_px(self._page, self._face)
        head = surface.subsurface((0, 0, surface.get_width(), min(top, surface.get_height())))
        turn = min(self._view.chart.turn, self._drawing.turns - 1) + 1, self._drawing.turns
        blocks = strip(self._view, turn, self._page, self._face)
        changed = self._painter.paint(head, blocks, self._view.light)
        if self._screenful is not None and self._screenful is not self._painted:
            rest = pygame.Rect(0, top, surface.get_width(), surface.get_height() - top)
            surface.fill(inks(self._view.light)[ScreenInk.PAPER], rest)
            surface.blit(self._screenful, rest)
            self._painted = self._screenful
            changed.append(rest)
        return changed
