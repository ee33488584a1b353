"""Detect a screen that hangs: its process reports several times a second, on request, whether it still draws.

The screen answers from a thread beside the one that draws, and reports how many questions the drawing thread has not
reached. This tells a screen that gets no processor, and so answers late or not at all, from one that hangs. A stopped
process, or one that waits inside the system with Python's lock held, answers nothing; the system reports that it waits.
Rounds are counted, not time: the computer may have slept.
"""

import contextlib
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from companion.view import ScreenMessage

ASK_EVERY_S: Final = 0.15
HANGS_AT: Final = 3  # rounds: half a second; a slow picture takes tens of milliseconds
OPENING_AT: Final = 20  # rounds: three seconds, for a window opening on a monitor just connected or removed
FIRST_PICTURE_AT: Final = 200  # rounds: half a minute; later, the display server hangs
STARVED_AT: Final = 12  # rounds without an answer from a process that is ready to run but gets no processor
_BUSY: Final = ("R", "D", "U")  # proc_pid_stat(5), ps(1): running, or ready once it gets a processor or its memory


class Pulse:
    """One screen's answers, round by round."""

    def __init__(self) -> None:
        self._answer = ScreenMessage(alive=True)
        self._answered = False
        self._silent = 0

    def heard(self, message: ScreenMessage) -> None:
        """Handle a line from the screen; any line shows that it is alive."""
        self._answered = True
        if message.alive:
            self._answer = message

    def hangs(self, waits: Callable[[], bool]) -> bool:
        """Count a round; return whether the screen hangs. ``waits`` returns whether its process is stopped or waits."""
        answered, self._answered = self._answered, False
        patience = OPENING_AT if self._answer.opening else HANGS_AT
        if answered:
            self._silent = 0
            return not self._answer.dragged and self._answer.behind >= patience
        self._silent += 1
        return self._silent >= max(patience, STARVED_AT) or (self._silent >= patience and waits())


def waits(pid: int) -> bool:
    """Return whether a process is stopped or waits; False if it runs, is ready to, or that is unknown."""
    state = ""
    with contextlib.suppress(OSError, IndexError):
        state = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()[0]
    if not state and sys.platform != "win32":
        with contextlib.suppress(OSError, subprocess.TimeoutExpired):
            command = ("ps", "-o", "state=", "-p", str(pid))
            answer = subprocess.run(command, capture_output=True, text=True, timeout=1, check=False)  # noqa: S603 - our words
            state = answer.stdout.strip()
    return is_waiting(state)


def is_waiting(state: str) -> bool:
    """Return whether the system's state letter means stopped or waiting; "" stands for a process that is gone.

    >>> is_waiting("T"), is_waiting("R"), is_waiting("")
    (True, False, False)
    """
    return state != "" and not state.startswith(_BUSY)
