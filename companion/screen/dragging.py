"""Whether the window is being dragged: Windows blocks the drawing thread for as long as that takes."""

import sys
from typing import Final

_DRAGGED: Final = 0x2 | 0x4 | 0x8  # winuser.h, GUI_INMOVESIZE, GUI_INMENUMODE, GUI_SYSTEMMENUMODE (from memory)


def dragged(thread: int | None) -> bool:
    """Return whether the player moves or resizes a window of this thread, or its menu is open; only on Windows."""
    if sys.platform != "win32" or thread is None:
        return False
    import ctypes
    from ctypes import wintypes

    class Threads(ctypes.Structure):
        """winuser.h, GUITHREADINFO (from memory)."""

        _fields_ = (
            ("cbSize", wintypes.DWORD),
            ("flags", wintypes.DWORD),
            *((name, wintypes.HWND) for name in ("active", "focus", "capture", "menuOwner", "moveSize", "caret")),
            ("rcCaret", wintypes.RECT),
        )

    threads = Threads(cbSize=ctypes.sizeof(Threads))
    return bool(ctypes.windll.user32.GetGUIThreadInfo(thread, ctypes.byref(threads)) and threads.flags & _DRAGGED)
