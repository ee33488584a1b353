"""The stage door: start the stage as a process of its own, and then leave the machine to it."""

import os
import re
import subprocess
import time
from contextlib import suppress
from pathlib import Path
from typing import Final

from companion import child
from companion.errors import CompanionError
from companion.night.ahead import CANNOT_OPEN
from companion.pages.earlier_stage import (
    TONIGHT,
    EarlierStage,
    earlier_stage,
    end_stage,
    ending_signal,
    note_stage,
    still_runs,
)
from companion.regular import read_regular
from companion.shown import harmless_line

HOW: Final = {TONIGHT: ("--screen", "full"), "rehearsal": ("--screen", "window", "--fresh")}
LOG_NAME: Final = "stage.log"  # in the room's own folder: the last stage's messages
MAX_LOG: Final = 256 * 1024
LAST_LINES: Final = 4
OPENS_S: Final = 30.0  # by then the window is open, or the stage has reported why not
ENDING: Final = "the stage is still ending; look again in a moment"
ENDS_S: Final = 10.0  # the stage silences the keyboards first
WITHOUT_WINDOW: Final = re.compile(rf"^{re.escape(CANNOT_OPEN)} \((.*)\):", re.MULTILINE)
DETACHED: Final = 0x00000008 | 0x00000200  # Windows: DETACHED_PROCESS, CREATE_NEW_PROCESS_GROUP (processthreadsapi.h)


class StageDoor:
    """At most one stage at a time, started from a page. It goes on when the pages end, and is found again then."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._log = folder / "pages" / LOG_NAME
        self._process: subprocess.Popen[bytes] | None = None
        self._earlier: EarlierStage | None = None
        self._how = TONIGHT
        self._started_s = 0.0
        self._why = ""
        self._was_ended = False

    @property
    def process(self) -> int | None:
        """The number of the last stage's process, or None."""
        return self._process.pid if self._process else None

    @property
    def is_open(self) -> bool:
        """Whether a stage that was started from a page is running."""
        if self._earlier is not None and not still_runs(self._earlier.process):
            self._earlier = None
        return self._earlier is not None or (self._process is not None and self._process.poll() is None)

    @property
    def failed(self) -> tuple[str, ...]:
        """What the last stage reported, if it ended with an error."""
        if self._process is None or self._was_ended or self._process.poll() in (None, 0):
            return ()
        try:
            lines = read_regular(self._log, MAX_LOG).decode(errors="replace").splitlines()
        except (OSError, ValueError):
            return ("the stage ended with an error",)
        return tuple(harmless_line(line) for line in lines[-LAST_LINES:]) or ("the stage ended with an error",)

    @property
    def no_window(self) -> str:
        """Why the running stage has no window; "" if it has one, or nobody knows yet."""
        if (self._process is None and self._earlier is None) or not self.is_open:
            return ""
        if not self._why and self._earlier is None and time.monotonic() - self._started_s < OPENS_S:
            self._why = self._why_no_window()
        return self._why

    def _why_no_window(self) -> str:
        with suppress(OSError, ValueError):
            found = WITHOUT_WINDOW.search(read_regular(self._log, MAX_LOG).decode(errors="replace"))
            return harmless_line(found[1]) if found else ""
        return ""

    @property
    def keeps_place(self) -> bool:
        """Whether the next start for tonight continues where the running stage is."""
        return (self._earlier.how if self._earlier is not None else self._how) == TONIGHT

    def take_up(self, show: Path) -> None:
        """Find a show's stage that was started before these pages, or before they went to another show."""
        self._earlier = earlier_stage(self._folder, show)
        self._why = self._why_no_window() if self._earlier is not None else ""

    def end(self) -> None:
        """End the running stage: keyboards silent, a night's place kept for the next start. Raises CompanionError."""
        if self.is_open and self._earlier is not None:
            if not end_stage(self._earlier, ENDS_S):
                raise CompanionError(ENDING)
            return
        if self._process is None or not self.is_open:
            raise CompanionError("the stage is not running")
        self._was_ended = True
        self._process.send_signal(ending_signal(self._how))
        try:
            self._process.wait(ENDS_S)
        except subprocess.TimeoutExpired:
            self._was_ended = False
            raise CompanionError(ENDING) from None

    def start(self, show: Path, how: str) -> None:
        """Start the stage: ``tonight`` on the whole screen, ``rehearsal`` in a window. Raises CompanionError."""
        if how not in HOW:
            raise CompanionError("tonight, or a rehearsal")
        if self.is_open:
            raise CompanionError("the stage is running already")
        command = child.python("companion.cli", "play", str(show.absolute()), *HOW[how])
        try:
            with self._log.open("wb") as log:
                self._process = subprocess.Popen(  # noqa: S603  our own program, with a path that the player opened
                    command,
                    stdin=subprocess.DEVNULL,
                    stdout=log,
                    stderr=log,
                    cwd=show.absolute().parent,
                    start_new_session=True,
                    creationflags=DETACHED if os.name == "nt" else 0,
                )
            self._started_s, self._why, self._was_ended = time.monotonic(), "", False
            self._how = how
        except OSError as error:
            raise CompanionError(f"the stage cannot start: {error.strerror or error}") from error
        note_stage(self._folder, show, self._process.pid, how)

    def forget(self) -> None:
        """Leave a running stage to itself."""
        self._earlier = None
        if self._process is not None and self._process.poll() is None:
            self._process.returncode = 0  # no warning that it still runs: that is meant
