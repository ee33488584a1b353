"""Child processes: none runs code from the current folder; those that read strangers' files have limits."""

import contextlib
import enum
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Final, NamedTuple, cast

MAX_MEMORY: Final = 256 << 20  # bytes; Python with the libraries that read lists needs 40 MiB
MAX_CPU_S: Final = 5  # processor seconds; an ordinary set list takes a quarter of one
MAX_S: Final = 20.0  # seconds by the clock: generous, because a busy machine is not the file's fault
MAX_ANSWER: Final = 32 << 20  # bytes of a child's answer; the largest set list accepted has 10 MiB
OUT_OF_MEMORY: Final = 77  # exit code of a child that ran out of memory
ORPHANED: Final = 78  # exit code of a child whose parent ended first
OUT_OF_TIME: Final = tuple(
    -number for number in (getattr(signal, "SIGXCPU", 0), getattr(signal, "SIGKILL", 0)) if number
)
LOOK_EVERY_S: Final = 0.01
UNTIL_INPUT_ENDS: Final = "--until-input-ends"  # last argument of a child that is to end with its parent
OWN_MODULE: Final = "--own-module"  # first argument of a packaged program that is to run one of its own modules


class Ended(enum.Enum):
    """How a child process ended."""

    WELL = "well"
    TOO_LONG = "too long"
    TOO_MUCH = "too much memory"
    BROKEN = "broken"


class ChildOutput(NamedTuple):
    """A child's standard output: complete if it ended well, else empty."""

    ended: Ended
    out: bytes


def python(module: str, *words: str) -> list[str]:
    """Return the command that runs one of the package's own modules.

    ``-P`` keeps the current folder off Python's path, so that a ``companion`` folder or a ``msgspec.py`` that came with
    a show never runs. A packaged program runs its modules itself (``companion/frozen.py``).
    """
    if is_frozen():
        return [sys.executable, OWN_MODULE, module, *words]
    return [sys.executable, "-P", "-m", module, *words]


def is_frozen() -> bool:
    """Whether this program was packaged with its own Python; PyInstaller sets the mark (its manual, "Run-time")."""
    return bool(getattr(sys, "frozen", False))


def program(name: str) -> str | None:
    """Return the absolute path of an installed program, or None.

    It searches only absolute folders of PATH, never the current one, which may hold a stranger's files.
    """
    import shutil  # noqa: PLC0415  few nights need another program

    for folder in map(Path, os.get_exec_path()):
        if folder.is_absolute():
            found = shutil.which(name, path=str(folder))
            if found is not None and Path(found).parent == folder:
                return found
    return None


def system_has_limits() -> bool:
    """Whether the system can limit a process's memory and processor time. macOS cannot limit its memory."""
    return sys.platform not in ("win32", "darwin")


def limit_this_process(max_bytes: int = MAX_MEMORY, max_cpu_s: int | None = MAX_CPU_S) -> None:
    """Limit this process's memory and processor time if the system can; elsewhere the parent watches it."""
    if not system_has_limits():
        return
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource  # noqa: PLC0415  not on every system

        resource.setrlimit(resource.RLIMIT_AS, (max_bytes, max_bytes))
        if max_cpu_s is not None:
            resource.setrlimit(resource.RLIMIT_CPU, (max_cpu_s, max_cpu_s))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def end_with_parent() -> None:
    """End this process as soon as its standard input ends: a pipe that the parent holds, and never writes to.

    A parent that is killed can stop nothing itself, but every system closes its pipes.
    """

    def watch() -> None:
        with contextlib.suppress(OSError):
            while os.read(0, 1024):  # not sys.stdin, whose lock would be held when the interpreter ends
                pass
        os._exit(ORPHANED)

    threading.Thread(target=watch, name="parent watch", daemon=True).start()


@contextlib.contextmanager
def watched(
    process: "subprocess.Popen[bytes]", max_bytes: int = MAX_MEMORY, max_cpu_s: float | None = MAX_CPU_S
) -> Iterator[threading.Event]:
    """Kill a child that exceeds its memory or processor time; the event is set if memory was the reason."""
    import psutil  # noqa: PLC0415  only systems without their own limits need it

    killed, over = threading.Event(), threading.Event()

    def watch() -> None:
        with contextlib.suppress(psutil.Error):
            looked_at = psutil.Process(process.pid)
            while not over.wait(LOOK_EVERY_S) and process.returncode is None:
                used = looked_at.cpu_times()
                if looked_at.memory_info().rss > max_bytes:
                    killed.set()
                elif max_cpu_s is None or used.user + used.system <= max_cpu_s:
                    continue
                process.kill()
                return

    thread = threading.Thread(target=watch, name="memory watch", daemon=True)
    thread.start()
    try:
        yield killed
    finally:
        over.set()
        thread.join()


def within_limits(
    process: "subprocess.Popen[bytes]", max_bytes: int = MAX_MEMORY, max_cpu_s: float | None = MAX_CPU_S
) -> contextlib.AbstractContextManager[threading.Event]:
    """Watch a child if the system cannot limit it; the event is set if memory was the reason to kill it."""
    if system_has_limits():
        return contextlib.nullcontext(threading.Event())
    return watched(process, max_bytes, max_cpu_s)


def ask(
    command: list[str],
    given: bytes,
    *,
    max_s: float | None = None,
    max_memory: int = MAX_MEMORY,
    max_cpu_s: float | None = MAX_CPU_S,
) -> ChildOutput:
    """Run a child, write ``given`` to its standard input, and return its answer within the limits.

    The child calls ``limit_this_process`` itself. Raises OSError if the process cannot start.
    """
    process = subprocess.Popen(  # noqa: S603 - our own module, run by our own interpreter
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    out: list[bytes] = []

    def talk() -> None:
        giving = threading.Thread(target=_give, args=(process, given), name="to the reader", daemon=True)
        giving.start()
        with contextlib.suppress(OSError, ValueError):
            out.append(cast("IO[bytes]", process.stdout).read(MAX_ANSWER + 1))
        giving.join()

    with process, within_limits(process, max_memory, max_cpu_s) as too_much:
        talking = threading.Thread(target=talk, name="from the reader", daemon=True)
        talking.start()
        talking.join(MAX_S if max_s is None else max_s)
        too_long = talking.is_alive()
        answer = b"".join(out)
        if too_long or len(answer) > MAX_ANSWER:
            process.kill()
        code = process.wait()
        talking.join()
    if too_much.is_set() or code == OUT_OF_MEMORY or len(answer) > MAX_ANSWER:
        return ChildOutput(Ended.TOO_MUCH, b"")
    if too_long or code in OUT_OF_TIME:
        return ChildOutput(Ended.TOO_LONG, b"")
    return ChildOutput(Ended.WELL, answer) if code == 0 else ChildOutput(Ended.BROKEN, b"")


def _give(process: "subprocess.Popen[bytes]", data: bytes) -> None:
    """Write to a child that may exit before it has read everything."""
    pipe = cast("IO[bytes]", process.stdin)
    with contextlib.suppress(OSError, ValueError):
        pipe.write(data)
    with contextlib.suppress(OSError, ValueError):
        pipe.close()
