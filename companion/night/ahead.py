"""What takes longest, begun before the night itself is imported: the screen's own process."""

import contextlib
import subprocess
import sys
from collections.abc import Iterator

Screen = subprocess.Popen[bytes]


def start_screen(how: str) -> Screen:
    """Start the screen's process, ``full`` or ``window``. Raises OSError.

    It opens its window when it is told the first line, and ends when its pipe does.
    """
    command = [sys.executable, "-m", "companion.screen", f"--{how}"]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)  # noqa: S603 - our own module


@contextlib.contextmanager
def screen_ahead(how: str) -> Iterator[Screen | None]:
    """Have it come up while the rest is imported and read; None where the night must try again, and tell why."""
    try:
        screen = start_screen(how)
    except OSError:
        yield None
        return
    try:
        yield screen
    finally:
        if screen.poll() is None:  # there was no night; one that is over has ended its screen
            screen.kill()
            screen.wait()
            for pipe in (screen.stdin, screen.stdout):  # the night may have closed one already
                if pipe is not None:
                    with contextlib.suppress(OSError):
                        pipe.close()
