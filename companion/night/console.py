"""React when the Windows console is closed or the session ends during a night."""

import contextlib
import sys
import threading
from collections.abc import Callable, Iterator
from typing import Any, Final

CLOSED: Final = {2: "the console was closed", 5: "the session ends", 6: "the computer shuts down"}
"""CTRL_CLOSE_EVENT, CTRL_LOGOFF_EVENT, CTRL_SHUTDOWN_EVENT (consoleapi.h, HandlerRoutine; from memory)."""
FAREWELL_S: Final = 4.5  # Windows ends the process 5 s after the event, or when the handler returns (same)


@contextlib.contextmanager
def console_close_handled(report: Callable[[str], None], system: str = sys.platform) -> Iterator[None]:
    """Call back when Windows is about to end the process, and delay that until the night is over."""
    if system != "win32":
        yield
        return
    import ctypes

    over = threading.Event()

    def handler(event: int) -> bool:
        if event not in CLOSED:
            return False  # ctrl-c and ctrl-break arrive as signals
        report(CLOSED[event])
        over.wait(FAREWELL_S)
        return True

    library: Any = ctypes
    kept = library.WINFUNCTYPE(ctypes.c_int, ctypes.c_uint)(handler)  # Windows keeps no reference to it
    library.windll.kernel32.SetConsoleCtrlHandler(kept, 1)
    try:
        yield
    finally:
        over.set()
        library.windll.kernel32.SetConsoleCtrlHandler(kept, 0)
