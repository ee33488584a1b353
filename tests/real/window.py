"""A display without a monitor: a window opens on it, keys reach it, and it is photographed."""

import ctypes
import ctypes.util
import mmap
import os
import struct
import subprocess
import tempfile
import time
from pathlib import Path
from typing import Self

from PIL import Image, ImageGrab
from real.program import Program, needs, wait_until


class _ClientMessage(ctypes.Structure):
    """An X client message (Xlib.h: XClientMessageEvent, within the size of an XEvent)."""

    _fields_ = (
        ("type", ctypes.c_int),
        ("serial", ctypes.c_ulong),
        ("send_event", ctypes.c_int),
        ("display", ctypes.c_void_p),
        ("window", ctypes.c_ulong),
        ("message_type", ctypes.c_ulong),
        ("format", ctypes.c_int),
        ("content", ctypes.c_long * 5),
        ("rest", ctypes.c_long * 12),
    )


class Display:
    """An X server in memory (Xvfb) on a number that is free. ``env`` brings a program's window to it."""

    def __init__(self, width: int = 1920, height: int = 1080) -> None:
        needs("Xvfb", "xdotool", "xwininfo")
        self.size = (width, height)
        self._memory = tempfile.TemporaryDirectory()
        self._server = Program(
            ("Xvfb", "-displayfd", "1", "-screen", "0", f"{width}x{height}x24", "-fbdir", self._memory.name, "-noreset")
        )
        number = self._server.wait_for(str.isdigit)
        self.name = f":{self._server.lines[number]}"

    @property
    def env(self) -> dict[str, str]:
        """What a program must find in its environment to open its window here."""
        return {"DISPLAY": self.name, "SDL_VIDEODRIVER": "x11"}

    def wait_for_window(self, title: str, seconds: float = 15) -> int:
        """Wait until a window whose title has this part is there; its number. Keys go to it from then on."""

        def shown() -> int | None:
            for line in self._run("xwininfo", "-root", "-tree").splitlines():
                number, _, name = line.strip().partition(" ")
                if number.startswith("0x") and title in name:
                    return int(number, 16)
            return None

        window = wait_until(shown, f"a window titled {title!r}", seconds)
        # There is no window manager here: keys go where the pointer is, or to the window given the focus.
        self._run("xdotool", "windowfocus", str(window))
        self._run("xdotool", "mousemove", str(self.size[0] // 2), str(self.size[1] // 2))
        return window

    def key(self, *names: str) -> None:
        """Press and release keys, by the names of the X keyboard: Next, Prior, Right, space, Return, F1, a."""
        for name in names:
            self._run("xdotool", "key", name)

    def close_window(self, window: int) -> None:
        """Do what a click on the window's cross does: ask the program to close it."""
        x = ctypes.CDLL(ctypes.util.find_library("X11"))
        x.XOpenDisplay.restype = ctypes.c_void_p
        x.XInternAtom.restype = ctypes.c_ulong
        connection = ctypes.c_void_p(x.XOpenDisplay(self.name.encode()))
        protocols, delete = (x.XInternAtom(connection, name, 0) for name in (b"WM_PROTOCOLS", b"WM_DELETE_WINDOW"))
        request = _ClientMessage(type=33, send_event=1, window=window, message_type=protocols, format=32)
        request.content[0] = delete
        x.XSendEvent(connection, ctypes.c_ulong(window), 0, ctypes.c_long(0), ctypes.byref(request))
        x.XCloseDisplay(connection)

    def photograph(self) -> Image.Image:
        """Take a picture of the whole display."""
        return ImageGrab.grab(xdisplay=self.name).convert("RGB")

    def framebuffer(self) -> memoryview:
        """Return the display's own memory, rows of 4 bytes a pixel: a look at it takes nothing from the server's time.

        X11's XWD format: big-endian numbers, first the header's length, the 20th the number of colours of 12 bytes.
        """
        with (Path(self._memory.name) / "Xvfb_screen0").open("rb") as file:
            memory = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
        (header,) = struct.unpack_from(">I", memory, 0)
        (colours,) = struct.unpack_from(">I", memory, 19 * 4)
        begins = header + colours * 12
        return memoryview(memory)[begins : begins + self.size[0] * self.size[1] * 4]

    def wait_for_change(self, since: Image.Image, seconds: float = 5) -> Image.Image:
        """Wait until the picture is another one and stands still for 50 ms; that picture."""
        before = since.tobytes()

        def changed() -> Image.Image | None:
            picture = self.photograph()
            if picture.tobytes() == before:
                return None
            time.sleep(0.05)
            return picture if self.photograph().tobytes() == picture.tobytes() else None

        return wait_until(changed, "a change on the display", seconds)

    def _run(self, *command: str) -> str:
        env = {**os.environ, **self.env}
        return subprocess.run(command, env=env, capture_output=True, text=True, timeout=10, check=False).stdout

    def close(self) -> None:
        """End it, and with it every window on it."""
        self._server.end()
        self._memory.cleanup()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
