"""Signals that end the program, handled from its first line to its last: only the first one counts."""

import atexit
import contextlib
import signal
import sys
from collections.abc import Callable, Iterator
from types import FrameType
from typing import Any, Final

ASKS_TO_END: Final = tuple(
    signal.Signals[name] for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if name in signal.Signals.__members__
)
"""Ctrl-C, a shutdown, a closed terminal, and ctrl-break on Windows (which has no SIGHUP)."""

ON_ITS_OWN: Final[dict[str, Any]] = {"creationflags": 0x200} if sys.platform == "win32" else {"process_group": 0}
"""Options for a process that we end ourselves, out of reach of ctrl-c (0x200 is CREATE_NEW_PROCESS_GROUP)."""


class Stopping:
    """The request to end. Code that can end the program registers with ``on_stop`` and also gets an earlier request.

    Before that, a second ctrl-c ends a start that hangs.
    """

    def __init__(self) -> None:
        self.because: str | None = None
        """The name of the first signal; None before any."""
        self._call: Callable[[str], None] | None = None

    def handle(self, number: int, _frame: FrameType | None = None) -> None:
        """Handle a signal; later ones change nothing, so that none interrupts the shutdown.

        Raises KeyboardInterrupt at the second ctrl-c if nobody has registered yet.
        """
        if self.because is None:
            self.because = signal.Signals(number).name
            if self._call is not None:
                self._call(self.because)
        elif self._call is None and number == signal.SIGINT and self.because == "SIGINT":
            raise KeyboardInterrupt

    def on_stop(self, call: Callable[[str], None]) -> None:
        """Call ``call`` with the first signal's name: now, or later between any two lines of the main thread."""
        self._call = call
        if self.because is not None:
            call(self.because)


def handle_signals() -> Stopping:
    """Handle these signals until the process ends. Call it in the main thread; an ignored SIGHUP stays ignored."""
    stopping = Stopping()
    for number in ASKS_TO_END:
        if number.name != "SIGHUP" or signal.getsignal(number) is not signal.SIG_IGN:  # nohup(1)
            signal.signal(number, stopping.handle)
    atexit.register(_ignore_signals)
    return stopping


@contextlib.contextmanager
def not_suspended() -> Iterator[None]:
    """Ignore ctrl-z: a suspended engine plays no press, and a habit of undoing must not stop a show."""
    number = getattr(signal, "SIGTSTP", None)  # Windows has none
    before = signal.signal(number, signal.SIG_IGN) if number is not None else None
    try:
        yield
    finally:
        if number is not None and before is not None:
            signal.signal(number, before)


def _ignore_signals() -> None:
    """Ignore them while the interpreter shuts down: it restores the system's handling, except of ignored signals."""
    for number in ASKS_TO_END:
        signal.signal(number, signal.SIG_IGN)
