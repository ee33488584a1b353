"""The screen's process that was begun ahead of the night."""

import os
import signal
import subprocess
import sys

import pytest

from companion.night import ahead
from companion.ports.midi_system import ENVIRONMENT, NO_SYSTEM
from companion.stopping import Stopping

HANGS = [sys.executable, "-c", "import time; time.sleep(30)"]


def test_a_screen_that_hangs_after_its_pipe_was_closed_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    def hanging(_how: str) -> ahead.ScreenProcess:
        return subprocess.Popen(HANGS, stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    monkeypatch.setattr(ahead, "start_screen", hanging)
    with ahead.screen_ahead("window") as screen:
        assert screen is not None
        assert screen.stdin is not None
        screen.stdin.close()  # as the night does when it is over
    assert screen.poll() is not None


@pytest.mark.skipif(not hasattr(os, "getpriority"), reason="no niceness there")
def test_the_screen_yields_the_processor_to_the_engine_from_its_first_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ahead, "python", lambda *_words: HANGS)
    screen = ahead.start_screen("window")
    try:
        mine, its = (os.getpriority(os.PRIO_PROCESS, process) for process in (0, screen.pid))
        assert its == min(19, mine + ahead.BEHIND_THE_FOOT)  # 19: setpriority(2), the highest on Linux
    finally:
        screen.kill()
        screen.communicate()


@pytest.mark.skipif(not hasattr(signal, "SIGTSTP"), reason="no ctrl-z there")
def test_ctrl_z_stops_no_show(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(ENVIRONMENT, NO_SYSTEM)
    monkeypatch.setattr(ahead, "handle_signals", Stopping)
    before = signal.getsignal(signal.SIGTSTP)
    with ahead.started_early("none"):
        assert signal.getsignal(signal.SIGTSTP) is signal.SIG_IGN
    assert signal.getsignal(signal.SIGTSTP) is before
