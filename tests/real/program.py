"""A real program beside the tests: started, read line by line, sent lines, and always ended."""

import atexit
import contextlib
import os
import shutil
import signal
import subprocess
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from typing import Self, TypeVar

T = TypeVar("T")


class NotThere(Exception):  # noqa: N818  # a reason to skip, not a fault
    """A program that these tests need is not installed here."""


def needs(*programs: str) -> None:
    """Raise NotThere, naming the programs that are missing."""
    missing = [program for program in programs if shutil.which(program) is None]
    if missing:
        raise NotThere(f"not installed here: {', '.join(missing)}")


class Program:
    """One running program. ``lines`` is what it has printed so far, standard error included, oldest first."""

    def __init__(
        self, command: Sequence[str], env: Mapping[str, str] | None = None, *, stdin: int = subprocess.PIPE
    ) -> None:
        """Start it. ``stdin``: an open file, such as a terminal, where ``tell`` is not to write."""
        self.command = tuple(command)
        self.lines: list[str] = []
        self._news = threading.Condition()
        self._silent = False
        # Where it is there, setpriv has the kernel end the program when the tests die without a word.
        guard = ("setpriv", "--pdeathsig", "KILL") if shutil.which("setpriv") else ()
        self.process = subprocess.Popen(
            (*guard, *command),
            stdin=stdin,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            bufsize=1,
            errors="replace",
            env={**os.environ, **(env or {})},
        )
        atexit.register(self.end)
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        out = self.process.stdout
        if out is not None:
            for line in out:
                with self._news:
                    self.lines.append(line.rstrip("\n"))
                    self._news.notify_all()
        with self._news:
            self._silent = True
            self._news.notify_all()

    def tell(self, line: str) -> None:
        """Write one line to its standard input."""
        stdin = self.process.stdin
        if stdin is None:
            raise BrokenPipeError("the program has no standard input")
        stdin.write(line + "\n")
        stdin.flush()

    def wait_for(self, wanted: Callable[[str], bool], seconds: float = 10, after: int = 0) -> int:
        """Wait for a line, from the ``after``-th on; its number. TimeoutError holds what was printed instead."""
        until = time.monotonic() + seconds
        at = after
        with self._news:
            while True:
                while at < len(self.lines):
                    if wanted(self.lines[at]):
                        return at
                    at += 1
                left = until - time.monotonic()
                if self._silent or left <= 0:
                    break
                self._news.wait(left)
        if self._silent:
            self.wait(1)
        printed = "\n".join(self.lines[after:])
        ended = f"ended with {self.process.poll()}" if self._silent else f"said nothing such in {seconds} s"
        raise TimeoutError(f"{' '.join(self.command)} {ended}; it printed:\n{printed}")

    def runs(self) -> bool:
        """Return whether it is still there."""
        return self.process.poll() is None

    def wait(self, seconds: float) -> int | None:
        """Wait for it to end by itself; its exit code, or None if it runs on."""
        with contextlib.suppress(subprocess.TimeoutExpired):
            return self.process.wait(seconds)
        return None

    def hang_up(self, seconds: float = 5) -> int:
        """End its standard input, which ends a program that reads it to the end; its exit code."""
        with contextlib.suppress(OSError):
            if self.process.stdin:
                self.process.stdin.close()
        self.wait(seconds)
        return self.end()

    def kill(self) -> None:
        """End it as a crash would: at once, with no chance to tidy up."""
        self.process.kill()
        self.end()

    def interrupt(self) -> None:
        """Send what Ctrl-C sends."""
        self.process.send_signal(signal.SIGINT)

    def end(self, seconds: float = 5) -> int:
        """End it in order, or by force where that does not help within ``seconds``; its exit code."""
        atexit.unregister(self.end)
        if self.process.poll() is None:
            self.process.terminate()
        try:
            code = self.process.wait(seconds)
        except subprocess.TimeoutExpired:
            self.process.kill()
            code = self.process.wait()
        self._reader.join(seconds)
        with contextlib.suppress(OSError):  # a line not yet flushed, to a program that is gone
            if self.process.stdin:
                self.process.stdin.close()
        if self.process.stdout and not self._reader.is_alive():
            self.process.stdout.close()
        return code

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.end()


def wait_until(found: Callable[[], T | None], what: str, seconds: float) -> T:
    """Ask again and again until the answer is neither None nor False; the answer."""
    until = time.monotonic() + seconds
    while True:
        answer = found()
        if answer:
            return answer
        if time.monotonic() > until:
            raise TimeoutError(f"waited {seconds} s for {what}")
        time.sleep(0.01)
