"""Keep the computer awake during a night without a window; a window does that itself."""

import contextlib
import os
import subprocess
import sys
from collections.abc import Iterator
from typing import Any, Final

from companion.child import program

_CONTINUOUS, _SYSTEM, _DISPLAY = 0x80000000, 0x1, 0x2  # winbase.h, SetThreadExecutionState (from memory)
_HELPERS: Final = {
    # systemd-inhibit(1): for as long as the command runs, and this one runs as long as our end of its pipe
    "linux": ("systemd-inhibit", "--what=idle:sleep", "--who=companion", "--why=a show is played", "cat"),
    "darwin": ("caffeinate", "-di"),  # caffeinate(8), from memory; -w is added below
}


@contextlib.contextmanager
def awake(system: str = sys.platform) -> Iterator[None]:
    """Keep the system from sleeping, if it supports that. Never raises."""
    if system == "win32":
        with _kept_awake_by_windows():
            yield
        return
    helper = _helper(system)
    try:
        yield
    finally:
        if helper is not None:
            with contextlib.suppress(OSError):
                helper.kill()
            helper.communicate()


def _helper(system: str) -> "subprocess.Popen[bytes] | None":
    words: tuple[str, ...] = _HELPERS.get(system, ())
    helper = program(words[0]) if words else None
    if helper is None:
        return None
    words = (helper, *words[1:])
    if system == "darwin":
        words = (*words, "-w", str(os.getpid()))  # it ends with us, however we end
    nowhere = subprocess.DEVNULL
    try:
        return subprocess.Popen(words, stdin=subprocess.PIPE, stdout=nowhere, stderr=nowhere)  # noqa: S603 - our words
    except OSError:
        return None


@contextlib.contextmanager
def _kept_awake_by_windows() -> Iterator[None]:
    """Make the request in the thread that plays: it lapses when that thread ends."""
    import ctypes

    kernel: Any = getattr(ctypes, "windll").kernel32  # noqa: B009 - other systems' ctypes has none
    kernel.SetThreadExecutionState(_CONTINUOUS | _SYSTEM | _DISPLAY)
    try:
        yield
    finally:
        kernel.SetThreadExecutionState(_CONTINUOUS)
