"""The window's process as the engine sees it: whatever stands on its pipe, it is kept running."""

import io
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable

import pytest

from companion.night import ahead, displays
from companion.night.displays import NoDisplay, Terminal, WindowProcess
from companion.night.happenings import ScreenGone, ScreenReady
from companion.view import Eyes, LineRole, Picture, View, ViewLine

SCREEN = r"""
import sys
sys.stdout.buffer.write(b'{"key": "\xff"}\n{"ready": true}\n')
sys.stdout.buffer.flush()
sys.stdin.buffer.readline()
"""


def test_library_output_that_is_not_utf_8_does_not_end_the_screen_watch(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def start(_how: str) -> subprocess.Popen[bytes]:
        words = [sys.executable, "-c", SCREEN]
        return subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    monkeypatch.setattr(ahead, "start_screen", start)
    told: queue.SimpleQueue[object] = queue.SimpleQueue()
    window = WindowProcess("window", Eyes(300, 1.0, 0), told.put, lambda _why: NoDisplay())
    assert [type(told.get(timeout=30)) for _ in range(3)] == [ScreenReady, ScreenGone, ScreenReady]
    window.close()


def wait_until(true: Callable[[], bool]) -> None:
    deadline = time.monotonic() + 30
    while not true():
        assert time.monotonic() < deadline
        time.sleep(0.01)


class Narrow(io.StringIO):
    """A terminal that has only the letters of its own encoding."""

    encoding = "cp1252"

    def write(self, text: str) -> int:
        text.encode(self.encoding)
        return super().write(text)


def test_a_letter_missing_from_the_terminal_does_not_end_the_text_screen() -> None:
    out = Narrow()
    terminal = Terminal(out, lambda _told: None, width=40, read_keys=False)
    terminal.show(View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, "Пирс"),)))
    wait_until(lambda: bool(out.getvalue()))
    terminal.show(View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, "Moth"),)))
    wait_until(lambda: "moth" in out.getvalue().casefold())
    terminal.close()


def test_a_window_that_never_shows_a_picture_gives_way_to_the_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """A display server that hangs: the process waits inside it, and neither draws nor ends."""

    def start(_how: str) -> subprocess.Popen[bytes]:
        words = [sys.executable, "-S", "-c", "import time; time.sleep(60)"]
        return subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    monkeypatch.setattr(ahead, "start_screen", start)
    monkeypatch.setattr(displays, "ASK_EVERY_S", 0.0005)
    whys: queue.SimpleQueue[str] = queue.SimpleQueue()

    def instead(why: str) -> NoDisplay:
        whys.put(why)
        return NoDisplay()

    window = WindowProcess("window", Eyes(300, 1.0, 0), lambda _told: None, instead)
    assert whys.get(timeout=30) == "it shows no picture"
    window.close()


def test_a_closed_terminal_ends_only_the_text_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    ended: list[object] = []
    monkeypatch.setattr(threading, "excepthook", ended.append)
    out = io.StringIO()
    terminal = Terminal(out, lambda _told: None, width=40, read_keys=False)
    out.close()
    before = threading.active_count()
    terminal.show(View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, "Moth"),)))
    wait_until(lambda: threading.active_count() < before)
    assert ended == []
