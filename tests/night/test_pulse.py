"""A hanging screen is distinguished from one that is slow, starved, dragged, or opening its window."""

import os
import signal
import subprocess
import sys
import time

import pytest

from companion.night.pulse import HANGS_AT, OPENING_AT, STARVED_AT, Pulse, is_waiting, waits
from companion.view import ScreenMessage

WELL, NOTHING = ScreenMessage(alive=True), None
KEY = ScreenMessage(key="right", down=True)


def behind(rounds: int, *, dragged: bool = False, opening: bool = False) -> ScreenMessage:
    return ScreenMessage(alive=True, behind=rounds, dragged=dragged, opening=opening)


def rounds_until_it_hangs(*answers: ScreenMessage | None, waiting: bool = False, at_most: int = 200) -> int | None:
    """Return in which round it was found to hang; its last answer comes again and again."""
    pulse = Pulse()
    for number in range(1, at_most + 1):
        answer = answers[min(number, len(answers)) - 1]
        if answer is not None:
            pulse.heard(answer)
        if pulse.hangs(lambda: waiting):
            return number
    return None


@pytest.mark.parametrize(
    ("answers", "waiting", "found"),
    [
        ((WELL,), False, None),
        ((behind(HANGS_AT - 1),), False, None),  # a slow picture
        ((behind(1), behind(2), behind(HANGS_AT)), False, 3),  # it answers, and its drawing stands still
        ((behind(1000, dragged=True),), False, None),  # for as long as that takes
        ((behind(1000, dragged=True), WELL, behind(HANGS_AT)), False, 3),
        ((WELL, NOTHING), True, 1 + HANGS_AT),  # stopped
        ((WELL, NOTHING), False, 1 + STARVED_AT),  # it wants to run: a busy machine
        ((WELL, NOTHING, NOTHING, WELL), True, None),
        ((behind(0, opening=True), NOTHING), True, 1 + OPENING_AT),
        ((behind(0, opening=True), behind(HANGS_AT, opening=True)), False, None),
        ((WELL, NOTHING, KEY), True, None),  # any line shows that it lives
    ],
)
def test_a_hanging_screen_is_detected(
    answers: tuple[ScreenMessage | None, ...], found: int | None, *, waiting: bool
) -> None:
    assert rounds_until_it_hangs(*answers, waiting=waiting) == found


@pytest.mark.skipif(not hasattr(signal, "SIGSTOP"), reason="no process can be stopped here")
def test_a_stopped_process_is_distinguished_from_a_running_one() -> None:
    with subprocess.Popen((sys.executable, "-c", "while True: pass")) as busy:
        try:
            assert not waits(busy.pid)
            os.kill(busy.pid, signal.SIGSTOP)
            while not waits(busy.pid):
                time.sleep(0.01)  # the test's own limit ends it where that never comes
        finally:
            busy.kill()
    assert not waits(2**22 + 1), "one that is not there"


@pytest.mark.parametrize(
    ("state", "waiting"),
    [("S", True), ("T", True), ("t", True), ("Ss+", True), ("R", False), ("R+", False), ("D", False), ("U", False)],
)
def test_a_process_waiting_for_processor_or_disk_is_busy(state: str, *, waiting: bool) -> None:
    assert is_waiting(state) is waiting  # proc_pid_stat(5); ps(1) of macOS says U for what Linux calls D (from memory)
