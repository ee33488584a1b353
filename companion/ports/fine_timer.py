"""Accurate waits on Windows, whose timer ticks 64 times a second: a MIDI clock would be off by up to 15.6 ms.

timeBeginPeriod (timeapi.h, from memory) sets a tick of 1 ms for as long as the process asks for it.
"""

import contextlib
import sys
from collections.abc import Iterator
from typing import Any, Final

TICK_MS: Final = 1


@contextlib.contextmanager
def fine_timer(system: str = sys.platform) -> Iterator[None]:
    """Run the system's timer at 1 ms in this context; does nothing on systems whose timer is fine already."""
    if system != "win32":
        yield
        return
    import ctypes

    library: Any = ctypes
    library.windll.winmm.timeBeginPeriod(TICK_MS)
    try:
        yield
    finally:
        library.windll.winmm.timeEndPeriod(TICK_MS)
