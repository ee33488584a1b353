"""What starts slowly, begun before the night itself is imported: the screen's process, and the search for MIDI."""

import contextlib
import os
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from companion.late import put_off

with put_off("locale"):
    import subprocess

from companion.child import python
from companion.errors import CompanionError
from companion.stopping import ON_ITS_OWN, Stopping, handle_signals, not_suspended

if TYPE_CHECKING:
    from companion.ports import MidiSystem

ScreenProcess = subprocess.Popen[bytes]


IN_A_WINDOW = ("full", "window")
BEHIND_THE_FOOT = 5  # niceness of the screen: the engine gets the processor first, also while both start
CANNOT_OPEN = "cannot open a window here"
"""Begins the message that the night continues without a window; the reason follows, and a page reads both."""


class EarlyStart(NamedTuple):
    """What starts while the rest is imported and read. Without a MIDI system the night is a dry run."""

    system: "MidiSystem | None"
    screen: ScreenProcess | None
    stopping: Stopping  # never released, so that nothing cuts the farewell short


@contextlib.contextmanager
def started_early(screen: str) -> Iterator[EarlyStart]:
    """Begin a night with this display: ``full``, ``window``, ``text``, ``none``."""
    stopping = handle_signals()
    with not_suspended(), contextlib.ExitStack() as stack:
        process = stack.enter_context(screen_ahead(screen)) if screen in IN_A_WINDOW else None
        yield EarlyStart(stack.enter_context(_system_ahead()), process, stopping)


@contextlib.contextmanager
def _system_ahead() -> Iterator["MidiSystem | None"]:
    """Start looking for the MIDI system; leave it properly if the night never begins."""
    import companion.lean  # noqa: F401 - before all that brings msgspec in
    from companion.ports import open_system

    system = open_system()
    try:
        yield system
    except (CompanionError, ImportError, KeyboardInterrupt):
        if system is not None:
            system.end()
        raise


def start_screen(how: str) -> ScreenProcess:
    """Start the screen's process, ``full`` or ``window``. Raises OSError.

    The process opens its window at the first line it receives, and ends when its pipe closes.
    """
    command = python("companion.screen", f"--{how}")
    pipe = subprocess.PIPE
    screen = subprocess.Popen(command, stdin=pipe, stdout=pipe, **ON_ITS_OWN)  # noqa: S603 - our own module
    with contextlib.suppress(AttributeError, OSError):  # not on Windows; it may have ended already
        os.setpriority(os.PRIO_PROCESS, screen.pid, os.getpriority(os.PRIO_PROCESS, 0) + BEHIND_THE_FOOT)
    return screen


@contextlib.contextmanager
def screen_ahead(how: str) -> Iterator[ScreenProcess | None]:
    """Start the screen in advance; None if that fails: the night then tries again and reports why."""
    try:
        screen = start_screen(how)
    except OSError:
        yield None
        return
    try:
        yield screen
    finally:
        if screen.poll() is None:  # the night never began; one that is over has ended its screen
            screen.kill()
            screen.wait()
            for pipe in (screen.stdin, screen.stdout):  # the night may already have closed it
                if pipe is not None:
                    with contextlib.suppress(OSError):
                        pipe.close()
