"""Where the night is shown: a window (its own process), a terminal, or nowhere. No display can block the foot."""

import contextlib
import queue
import threading
import time
from collections.abc import Callable
from typing import IO, TYPE_CHECKING, Protocol, TextIO, cast

from companion.clock import now_ns
from companion.errors import UNREADABLE
from companion.night.happenings import WINDOW_CLOSED, KeyReceived, ScreenGone, ScreenReady, Stop
from companion.night.pulse import ASK_EVERY_S, FIRST_PICTURE_AT, Pulse, waits
from companion.view import ChartIs, Eyes, Ping, View, as_line, read_screen_line

if TYPE_CHECKING:
    from companion.night.ahead import ScreenProcess

EventSink = Callable[[KeyReceived | ScreenReady | ScreenGone | ChartIs | Stop], None]

AGAIN_AFTER_S = 0.1  # a screen that dies at once must not restart in a tight loop
DEATHS_AT_START = 2  # this many in a row without a picture, and no picture earlier: there is no display here
DEATHS_ON_STAGE = 20  # a display that was there may return
NO_PICTURE = "it shows no picture"
CLOSING_S = 1.0


class Display(Protocol):
    """Shows the state; never blocks and never raises."""

    def show(self, view: View) -> None:
        """Show this view; only the newest counts."""

    def close(self) -> None:
        """Stop showing."""


class NoDisplay:
    """A display that shows nothing."""

    def show(self, view: View) -> None:
        """Show nothing."""

    def close(self) -> None:
        """Close nothing."""


class LatestView:
    """The newest view, for a thread that shows it; a newer view replaces one that was not fetched."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._view: View | None = None
        self._number = 0
        self._is_asked = False
        self._over = False

    def put(self, view: View) -> None:
        """Store a view, unless it equals the last."""
        with self._changed:
            if view != self._view:
                self._view = view
                self._number += 1
                self._changed.notify_all()

    def ask(self) -> None:
        """Ask the waiting thread for a sign of life, even without a newer view."""
        with self._changed:
            self._is_asked = True
            self._changed.notify_all()

    def end(self) -> None:
        """Release every waiting thread."""
        with self._changed:
            self._over = True
            self._changed.notify_all()

    def after(self, number: int, until: Callable[[], bool] = lambda: False) -> tuple[int, View | None] | None:
        """Wait for a view newer than this number, or a request (no view); None when closed or ``until`` is true."""
        with self._changed:
            self._changed.wait_for(lambda: self._over or until() or self._is_asked or self._number > number)
            if self._over or until():
                return None
            if self._number > number:
                return self._number, self._view
            self._is_asked = False
            return number, None

    def wake(self) -> None:
        """Make waiting threads check their ``until`` again."""
        with self._changed:
            self._changed.notify_all()


class WindowProcess:
    """The stage window, in its own process: it may be killed or hang, and the foot still changes sounds."""

    def __init__(
        self,
        how: str,
        eyes: Eyes,
        tell: EventSink,
        otherwise: Callable[[str], Display],
        ahead: "ScreenProcess | None" = None,
    ) -> None:
        """Start the screen, ``full`` or ``window``. ``tell`` puts its messages into the night's inbox.

        ``otherwise`` returns another display if no window can be opened; its argument is the reason.
        """
        self._how = how
        self._ahead = ahead  # already started, for its first life
        self._eyes = eyes
        self._tell = tell
        self._otherwise = otherwise
        self._instead: Display | None = None
        self._newest = LatestView()
        self._closing = False
        self._process: ScreenProcess | None = None
        self._pulse = Pulse()
        self._drew = False
        self._killed_for = ""
        self._keeper = threading.Thread(target=self._keep, name="screen keeper", daemon=True)
        self._keeper.start()

    def show(self, view: View) -> None:
        """Pass the view to the writer."""
        self._newest.put(view)
        if self._instead is not None:
            self._instead.show(view)

    def close(self) -> None:
        """Close the screen's pipe; its process then ends by itself."""
        self._closing = True
        self._newest.end()
        self._keeper.join(timeout=CLOSING_S)
        if self._process is not None and self._process.poll() is None:
            self._process.kill()
        if self._instead is not None:
            self._instead.close()

    def _keep(self) -> None:
        """Keep a screen running: start it, listen until it ends, start it again."""
        deaths = 0
        ever_drew = False
        while not self._closing:
            drew, why = self._one_life()
            if self._closing:
                return
            ever_drew = ever_drew or drew
            deaths = 0 if drew else deaths + 1
            if deaths >= (DEATHS_ON_STAGE if ever_drew else DEATHS_AT_START):
                self._instead = self._otherwise(why or "it ends at once")
                self._tell(ScreenReady())
                return
            self._tell(ScreenGone(why))
            time.sleep(AGAIN_AFTER_S)

    def _one_life(self) -> tuple[bool, str]:
        """Return whether the screen drew a picture, and its last message."""
        from companion.night.ahead import start_screen

        try:
            process, self._ahead = self._ahead or start_screen(self._how), None
        except OSError as fault:
            return False, str(fault)
        self._process = process
        to, output = cast("IO[bytes]", process.stdin), cast("IO[bytes]", process.stdout)  # both are pipes
        writer = threading.Thread(target=self._write, args=(process, to), name="screen writer", daemon=True)
        writer.start()
        self._drew, self._pulse, self._killed_for = False, Pulse(), ""
        over = threading.Event()
        watcher = threading.Thread(target=self._watch, args=(process, over), name="screen watcher", daemon=True)
        watcher.start()
        drew, why = self._listen(output)
        over.set()
        process.wait()
        _close(output)
        self._newest.wake()
        writer.join()
        watcher.join()
        return drew, why or self._killed_for

    def _watch(self, process: "ScreenProcess", over: threading.Event) -> None:
        """Kill a screen that hangs or never draws, so that it is restarted."""
        rounds = 0
        while not over.wait(ASK_EVERY_S):
            rounds += 1
            if not self._drew and rounds >= FIRST_PICTURE_AT:
                self._killed_for = NO_PICTURE
                process.kill()
                return
            if self._drew and self._pulse.hangs(lambda: waits(process.pid)):
                process.kill()
                return
            if self._drew:
                self._newest.ask()

    def _write(self, process: "ScreenProcess", to: IO[bytes]) -> None:
        number = 0
        try:
            to.write(as_line(self._eyes))
            to.flush()  # its window may open now, the view follows soon
            while (newer := self._newest.after(number, until=lambda: process.poll() is not None)) is not None:
                number, view = newer
                to.write(as_line(Ping() if view is None else view))
                to.flush()
        except OSError:
            pass  # the listener sees the same end, and reports it
        finally:
            _close(to)

    def _listen(self, output: IO[bytes]) -> tuple[bool, str]:
        drew, why = False, ""
        for line in output:
            try:
                word = read_screen_line(line)
            except UNREADABLE:
                continue  # other output of a library on the same pipe
            self._pulse.heard(word)
            if word.ready:
                drew = self._drew = True
                self._tell(ScreenReady())
            if word.problem:
                why = word.problem
            if word.key is not None and word.down is not None:
                self._tell(KeyReceived(word.key, word.down, word.text, word.at))
            if word.chart is not None:
                self._tell(word.chart)
            if word.closed:
                self._tell(Stop(WINDOW_CLOSED))
        return drew, why


class ConsoleWriter:
    """Writes lines to a stream from its own thread: a paused terminal must not block the show."""

    def __init__(self, out: TextIO) -> None:
        """Write to ``out``, which may block, fail or be closed."""
        self._lines: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._out = out
        self._thread = threading.Thread(target=self._tell, name="console", daemon=True)
        self._thread.start()

    def say(self, line: str) -> None:
        """Queue a line; it is written soon."""
        self._lines.put(line)

    def close(self) -> None:
        """Write the remaining lines, within a time limit."""
        self._lines.put(None)
        self._thread.join(CLOSING_S)

    def _tell(self) -> None:
        code = self._out.encoding or "ascii"
        with contextlib.suppress(OSError, ValueError):  # the terminal is gone
            while (line := self._lines.get()) is not None:
                self._out.write(line.encode(code, "replace").decode(code) + "\n")
                self._out.flush()


class Terminal:
    """The text screen: shows the newest view as lines in a terminal, and reads single keys from it."""

    def __init__(self, out: TextIO, tell: EventSink, *, width: int, read_keys: bool) -> None:
        """Write to ``out``, which may block without delaying the night; read keys if it is a terminal."""
        self._out = out
        self._width = width
        self._newest = LatestView()
        self._tell = tell
        self._terminal = contextlib.ExitStack()
        threading.Thread(target=self._write, name="text screen", daemon=True).start()
        if read_keys:
            from companion.screen.terminal_keys import terminal_restored

            self._terminal.enter_context(terminal_restored())
            threading.Thread(target=self._read_keys, name="terminal keys", daemon=True).start()

    def show(self, view: View) -> None:
        """Pass the view to the writer."""
        self._newest.put(view)

    def close(self) -> None:
        """End the threads; the key reader switched the terminal's echo off and turns it on again."""
        self._newest.end()
        self._terminal.close()

    def _write(self) -> None:
        from companion.view import text_lines

        number = 0
        code = self._out.encoding or "ascii"
        plain = not code.lower().startswith("utf")
        with contextlib.suppress(OSError, ValueError):  # a terminal that is gone shows nothing; the show continues
            while (newer := self._newest.after(number)) is not None:
                number, view = newer
                if view is None:
                    continue
                lines = text_lines(view, self._width, plain=plain)
                page = "\n".join(("", "-" * self._width, *lines, ""))
                self._out.write(page.encode(code, "replace").decode(code))
                self._out.flush()

    def _read_keys(self) -> None:
        from companion.screen.terminal_keys import keys_pressed, with_repeats

        for key, repeats in with_repeats(keys_pressed()):
            if key == "interrupt":
                self._tell(Stop("ctrl-c"))
                return
            at_ns = now_ns()
            self._tell(KeyReceived(key, down=True, at_ns=at_ns, repeats=repeats))
            self._tell(KeyReceived(key, down=False, at_ns=at_ns, repeats=repeats))


def _close(pipe: IO[bytes]) -> None:
    with contextlib.suppress(OSError):  # the remaining lines were for a screen that is gone
        pipe.close()
