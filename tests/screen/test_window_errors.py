"""Errors of the window's process itself."""

import subprocess
import sys

import pytest

BROKEN = r"""
import runpy, sys, threading
from companion.screen import window

def broken(**_):
    threading.Thread(target=sys.stdin.buffer.readline, daemon=True).start()  # as the window listens to the engine
    raise RuntimeError("the page is torn")

window.main_window = broken
sys.argv = ["companion.screen"]
runpy.run_module("companion.screen", run_name="__main__")
"""


@pytest.mark.long
def test_an_error_in_the_window_ends_its_process_without_a_core_dump() -> None:
    """Python aborts if it shuts down while a thread reads; the engine then restarts the window, again and again."""
    with subprocess.Popen(
        [sys.executable, "-c", BROKEN], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stderr is not None
        said = process.stderr.read().decode()
        assert process.wait(30) == 1
    assert "the page is torn" in said
