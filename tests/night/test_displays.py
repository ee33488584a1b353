"""The window's process as the engine sees it: whatever stands on its pipe, it is kept running."""

import queue
import subprocess
import sys

import pytest

from companion.night import ahead
from companion.night.displays import NoDisplay, WindowProcess
from companion.night.happenings import ScreenGone, ScreenReady
from companion.view import Eyes

SCREEN = r"""
import sys
sys.stdout.buffer.write(b'{"key": "\xff"}\n{"ready": true}\n')
sys.stdout.buffer.flush()
sys.stdin.buffer.readline()
"""


def test_a_line_of_a_library_that_is_no_utf_8_does_not_end_the_watch_over_the_screen(
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
