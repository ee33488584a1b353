"""Waits that end on time on Windows, whose timer ticks 64 times a second: a MIDI clock would wobble by 15.6 ms.

timeBeginPeriod (timeapi.h, from memory) asks for a tick of 1 ms as long as the process wants it.
"""

import contextlib
import sys
from collections.abc import Iterator
from typing import Any, Final

TICK_MS: Final = 1


@contextlib.contextmanager
def fine_timer(system: str = sys.platform) -> Iterator[None]:
    """Have the system's timer tick finely meanwhile; other systems' timers do."""
    if system != "win32":
        yield
        return
    import ctypes  # noqa: PLC0415 - Windows only

    library: Any = ctypes
    library.windll.winmm.timeBeginPeriod(TICK_MS)
    try:
        yield
    finally:
        library.windll.winmm.timeEndPeriod(TICK_MS)
