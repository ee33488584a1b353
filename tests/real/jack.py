"""JACK for the tests: a server without sound hardware, and a client that plays pedals and listens."""

import contextlib
import itertools
import os
import signal
import sys
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple, Self

from real.program import Program, needs, wait_until

FRAMES_A_SECOND = 48_000
PERIOD_FRAMES = 128  # 2.67 ms, a usual setting for playing live
SAFE_PERIOD_FRAMES = 1024  # 21 ms: a client that the system lets wait still comes in time
PRIORITY = 20  # of 99; below that of the sound cards' interrupts, as is usual

PORTS = 256  # that the server has room for; its own 2,048 cost 64 MiB and a tenth of a second at each start

PLACES = range(1, 6)
LOCKS = Path(tempfile.gettempdir())  # of the whole computer, not of one run alone
SHARED = Path("/dev/shm")  # noqa: S108  # where JACK keeps what it shares
REGISTRY = SHARED / "jack-shm-registry"
_servers = itertools.count(1)


class Heard(NamedTuple):
    """One message that arrived, at nanoseconds of the monotonic clock."""

    at_ns: int
    message: bytes


class Place:
    """One of the eight places that JACK has for servers, ours until ``leave``, and a name that was never used before.

    A name of its own for each server, since a program that outlived its tests comes back to a server of its name. But a
    server that was killed keeps its place until one of its name has ended in order: so the name is written down, and
    whoever takes the place next sees to that.
    """

    def __init__(self) -> None:
        import fcntl  # noqa: PLC0415  # not there on Windows, where these tests skip

        for number in PLACES:
            self._lock = (LOCKS / f"companion-tests-jack-{number}.lock").open("a+")
            try:
                fcntl.flock(self._lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                self._lock.close()
                continue
            self._lock.seek(0)
            self.name = self._lock.read()
            self._free()
            self.name = f"companion-tests-{number}-{os.getpid()}-{next(_servers)}"
            self._lock.truncate(0)
            self._lock.write(self.name)
            self._lock.flush()
            return
        raise RuntimeError(f"{len(PLACES)} JACK servers of the tests are running already")

    def leave(self) -> None:
        """Return the place back."""
        if not self._lock.closed:
            self._free()
            self._lock.close()

    def _free(self) -> None:
        """Have JACK forget the server of this name, and take away what it has left; the name is ours alone."""
        if not self.name:
            return
        for left in SHARED.glob(f"jack*{self.name}_*"):
            left.unlink(missing_ok=True)
        if REGISTRY.exists() and f":{self.name}:".encode() in REGISTRY.read_bytes():
            with alone(), Program(("jackd", "-n", self.name, "-r", "-d", "dummy")):
                wait_until((SHARED / f"jack_{self.name}_0_0").exists, "a JACK server", 5)


@contextlib.contextmanager
def alone() -> Iterator[None]:
    """Start one server at a time, of all processes: they write themselves into one registry."""
    import fcntl  # noqa: PLC0415  # not there on Windows, where these tests skip

    with (LOCKS / "companion-tests-jack-start.lock").open("a+") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def may_be_real_time() -> bool:
    """Return whether this user may ask for real-time scheduling."""
    if not hasattr(os, "sched_setscheduler"):
        return False
    before, its_priority = os.sched_getscheduler(0), os.sched_getparam(0)
    try:
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(PRIORITY))
    except PermissionError:
        return False
    os.sched_setscheduler(0, before, its_priority)
    return True


class JackServer:
    """A JACK server on the dummy driver, under its own name; start, stop, kill, restart it at will."""

    def __init__(self, *, real_time: bool | None = None, waits: bool = True) -> None:
        """Take whether JACK's threads go before all others, as on a player's machine; None: if it is allowed.

        Without that right a server at 2.7 ms loses messages on a busy machine, whoever sends them; so its period is
        longer then, unless False asks for just that.

        ``waits`` is JACK's synchronous mode. Without it a server whose client is late begins its next cycle all the
        same, the late one clears its buffer before the next has read it, and a message is lost: a bare C++ client
        loses about one in a thousand beside eight busy programs, none if the server waits.
        """
        needs("jackd")
        self.real_time = may_be_real_time() if real_time is None else real_time
        self.period_frames = PERIOD_FRAMES if self.real_time or real_time is False else SAFE_PERIOD_FRAMES
        self.waits = waits
        self._place = Place()
        self.name = self._place.name
        self._server: Program | None = None
        self._patchbay: Program | None = None

    @property
    def env(self) -> dict[str, str]:
        """What a client must find in its environment to come to this server and start no other."""
        return {
            "JACK_DEFAULT_SERVER": self.name,
            "JACK_NO_START_SERVER": "1",
            "JACK_NO_AUDIO_RESERVATION": "1",
        }

    def start(self) -> None:
        """Start it and wait until it answers."""
        rights = ("-R", "-P", str(PRIORITY)) if self.real_time else ("-r",)
        mode = ("-p", str(PORTS), *(("-S",) if self.waits else ()))
        driver = ("-d", "dummy", "-r", str(FRAMES_A_SECOND), "-p", str(self.period_frames))
        with alone():
            self._server = Program(("jackd", "-n", self.name, *rights, *mode, *driver))
            self._patchbay = Program((sys.executable, str(Path(__file__).with_name("patchbay.py"))), env=self.env)
            try:
                self._patchbay.wait_for(lambda line: line == "ready")
            except TimeoutError:
                printed = "\n".join(self._server.lines)
                self.close()
                raise RuntimeError(f"the JACK server does not answer; it printed:\n{printed}") from None

    def answers(self) -> bool:
        """Return whether the server is there and has its ports."""
        return self._server is not None and self._server.runs() and bool(self.ports())

    def stop(self) -> None:
        """End it cleanly."""
        if self._patchbay is not None:
            self._patchbay.hang_up(seconds=1)
        if self._server is not None:
            self._server.end()

    def kill(self) -> None:
        """End it as a crash would."""
        for program in (self._server, self._patchbay):
            if program is not None:
                program.kill()

    def stand_still(self) -> None:
        """Let it do nothing any more, as one that hangs."""
        if self._server is not None:
            self._server.process.send_signal(signal.SIGSTOP)

    def go_on(self) -> None:
        """Let it go on after it stood still."""
        if self._server is not None:
            self._server.process.send_signal(signal.SIGCONT)

    def restart(self) -> None:
        """Stop it and start it again under the same name."""
        self.stop()
        self.start()

    def ports(self) -> tuple[str, ...]:
        """Return the full names of all ports, ``client:port``."""
        return tuple(self._ask("ports"))

    def connections(self) -> set[tuple[str, str]]:
        """Return every pair of connected ports; each pair stands in both orders."""
        pairs = (line.split("\t") for line in self._ask("connections"))
        return {(one, other) for one, other in pairs}

    def wait_for_port(self, part: str, seconds: float = 10) -> str:
        """Wait until a port whose name has this part is there; its full name."""

        def found() -> str | None:
            return next((port for port in self.ports() if part in port), None)

        return wait_until(found, f"a port named {part!r}", seconds)

    def wait_for_connections(self, part: str, number: int, seconds: float = 15) -> None:
        """Wait until the ports whose name has this part have so many connections together."""

        def come() -> bool:
            return sum(part in mine for mine, _ in self.connections()) >= number

        wait_until(come, f"{number} connections of {part!r}", seconds)

    def connect(self, source: str, target: str) -> None:
        """Connect two ports by their full names; nothing happens if they are connected."""
        self._ask("connect", source, target)
        if (source, target) not in self.connections():
            raise RuntimeError(f"cannot connect {source} to {target}")

    def _ask(self, *request: str) -> list[str]:
        if self._patchbay is None:
            raise RuntimeError("the server has not been started")
        before = len(self._patchbay.lines)
        self._patchbay.tell("\t".join(request))
        end = self._patchbay.wait_for(lambda line: line == "done", after=before)
        return self._patchbay.lines[before:end]

    def close(self) -> None:
        """Stop it and release its place."""
        self.stop()
        self._place.leave()

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


class JackTap:
    """A client with one port each way: a foot box that sends presses, an instrument that hears its messages."""

    def __init__(self, server: JackServer, name: str) -> None:
        self.name = name
        self._server = server
        self._program = Program((sys.executable, "-u", str(Path(__file__).with_name("tap.py")), name), env=server.env)
        self._program.wait_for(lambda line: line == "ready")
        self._forgotten = 0
        # RtMidi opens two JACK clients of one name; JACK numbers the second: "Foot Box" and "Foot Box-01".
        mine = [port for port in server.ports() if port.startswith((f"{name}:", f"{name}-"))]
        self.input = next(port for port in mine if port.endswith(":in"))
        self.output = next(port for port in mine if port.endswith(":out"))

    def send(self, message: bytes) -> int:
        """Send one message; the nanoseconds of the monotonic clock at which it was handed over."""
        before = len(self._program.lines)
        self._program.tell(message.hex())
        line = self._program.wait_for(lambda line: line.startswith("sent "), after=before)
        return int(self._program.lines[line].split()[1])

    def press(self, control: int = 64, channel: int = 1) -> None:
        """Press and release a pedal."""
        self.send(bytes((0xB0 + channel - 1, control, 127)))
        self.send(bytes((0xB0 + channel - 1, control, 0)))

    def heard(self) -> tuple[Heard, ...]:
        """Return all that has arrived since the last ``forget``, oldest first."""
        return tuple(self._heard())

    def _heard(self) -> Iterator[Heard]:
        for line in self._program.lines[self._forgotten :]:
            at, _, message = line.partition(" ")
            if at.isdigit():
                yield Heard(int(at), bytes.fromhex(message))

    def forget(self) -> None:
        """Start listening again."""
        self._forgotten = len(self._program.lines)

    def wait_for(self, wanted: Iterable[bytes], seconds: float = 5) -> None:
        """Wait until these messages have arrived, in this order, whatever else came between."""
        expected = tuple(wanted)

        def come() -> bool:
            arrived = (message for _, message in self._heard())
            return all(any(one == message for message in arrived) for one in expected)

        try:
            wait_until(come, "the messages", seconds)
        except TimeoutError:
            got = " | ".join(message.hex(" ") for _, message in self._heard()) or "nothing"
            raise TimeoutError(f"waited for {' | '.join(one.hex(' ') for one in expected)}; heard {got}") from None

    def kill(self) -> None:
        """Take the cable out: the client is gone at once."""
        self._program.kill()

    def close(self) -> None:
        """Leave the server cleanly."""
        self._program.hang_up(seconds=2)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
