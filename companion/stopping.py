"""What the system sends to end a program, from its first line to its last: asked twice is asked once."""

import signal
import sys
from collections.abc import Callable
from types import FrameType
from typing import Any, Final

ASKS_TO_END: Final = tuple(
    signal.Signals[name] for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if name in signal.Signals.__members__
)
"""Ctrl-C, the system's own wish, a terminal that closes, and ctrl-break on Windows (which has no SIGHUP)."""

ON_ITS_OWN: Final[dict[str, Any]] = {"creationflags": 0x200} if sys.platform == "win32" else {"process_group": 0}
"""How to start a process that the terminal's ctrl-c does not reach: we end it (0x200: CREATE_NEW_PROCESS_GROUP)."""


class Stopping:
    """The wish to end. Whoever can end in order says so with ``tell``, and hears of a wish that came before as well."""

    def __init__(self) -> None:
        self.because: str | None = None
        """The name of the first signal; None while nobody has asked."""
        self._tell: Callable[[str], None] | None = None

    def asked(self, number: int, _frame: FrameType | None = None) -> None:
        """Take a signal; all but the first change nothing, so that none cuts a farewell short."""
        if self.because is None:
            self.because = signal.Signals(number).name
            if self._tell is not None:
                self._tell(self.because)

    def tell(self, tell: Callable[[str], None]) -> None:
        """Have the wish told, once it is there. ``tell`` may be called between any two lines of the main thread."""
        self._tell = tell
        if self.because is not None:
            tell(self.because)


def heed() -> Stopping:
    """Take these signals over until the process ends. Call it in the main thread; a terminal's end stays ignored."""
    stopping = Stopping()
    for number in ASKS_TO_END:
        if number.name != "SIGHUP" or signal.getsignal(number) is not signal.SIG_IGN:  # nohup(1)
            signal.signal(number, stopping.asked)
    return stopping
