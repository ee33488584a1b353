"""Signals that end a program: the first one counts, whenever it comes, and no other does harm."""

import os
import signal
import subprocess
import sys

import pytest

from companion.stopping import ASKS_TO_END, ON_ITS_OWN, Stopping


def test_two_requests_to_stop_count_as_one() -> None:
    stopping, told = Stopping(), list[str]()
    stopping.on_stop(told.append)
    stopping.handle(signal.SIGINT)
    stopping.handle(signal.SIGTERM)
    assert (told, stopping.because) == (["SIGINT"], "SIGINT")


def test_an_early_request_to_stop_is_passed_on_later() -> None:
    stopping, told = Stopping(), list[str]()
    stopping.handle(signal.SIGTERM)
    stopping.on_stop(told.append)
    assert told == ["SIGTERM"]


def test_a_second_ctrl_c_ends_a_start_that_hangs() -> None:
    stopping = Stopping()
    stopping.handle(signal.SIGINT)
    with pytest.raises(KeyboardInterrupt):
        stopping.handle(signal.SIGINT)
    stopping.on_stop(lambda _because: None)
    stopping.handle(signal.SIGINT)  # the night ends in its own order now


def test_ctrl_c_and_the_systems_stop_signal_work_on_every_system() -> None:
    assert {signal.SIGINT, signal.SIGTERM} <= set(ASKS_TO_END)


HEEDS = """
import os, signal, sys
from companion.stopping import ASKS_TO_END, handle_signals
stopping = handle_signals()
stopping.on_stop(lambda because: None)
for number in (*ASKS_TO_END, *ASKS_TO_END):
    os.kill(os.getpid(), number)
print(stopping.because)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="os.kill ends the process there, whatever it heeds")
def test_a_program_that_handles_them_survives_repeated_requests() -> None:
    done = subprocess.run((sys.executable, "-c", HEEDS), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "SIGINT\n", "")


AFTER_ITS_LAST_LINE = HEEDS.replace(
    "print(stopping.because)",
    """
class Last:
    def __del__(self, kill=os.kill, process=os.getpid(), again=tuple(ASKS_TO_END)):
        for number in again:
            kill(process, number)
last = Last()  # destroyed when the interpreter shuts down, after it has given up the handlers
print(stopping.because)""",
)


@pytest.mark.skipif(sys.platform == "win32", reason="os.kill ends the process there, whatever it heeds")
def test_a_signal_while_the_interpreter_shuts_down_changes_nothing() -> None:
    done = subprocess.run((sys.executable, "-c", AFTER_ITS_LAST_LINE), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "SIGINT\n", "")


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="no such signal there")
def test_an_ignored_hangup_stays_ignored() -> None:
    quiet = "import signal; signal.signal(signal.SIGHUP, signal.SIG_IGN)\n" + HEEDS.replace(
        "(*ASKS_TO_END, *ASKS_TO_END)", "(signal.SIGHUP,)"
    )
    done = subprocess.run((sys.executable, "-c", quiet), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "None\n", "")


@pytest.mark.skipif(not hasattr(os, "getpgid"), reason="no process groups there")
def test_ctrl_c_in_the_terminal_does_not_reach_a_detached_process() -> None:
    group = "import os; print(os.getpgrp())"
    done = subprocess.run((sys.executable, "-c", group), capture_output=True, text=True, check=True, **ON_ITS_OWN)
    assert int(done.stdout) != os.getpgrp()
