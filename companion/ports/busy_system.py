"""Report to the player that the MIDI system keeps us waiting, and when it no longer does."""

import contextlib
import threading
from collections.abc import Iterator
from typing import Final

from companion.clock import now_ns
from companion.ports.arrivals import ArrivalInbox, PortsAwaited

BUSY: Final = "waiting for the MIDI server, which is busy"
LONG_S: Final = 0.5  # a healthy server accepts us within a tenth of that


@contextlib.contextmanager
def waiting_reported(inbox: ArrivalInbox) -> Iterator[None]:
    """Report that the system is busy if what is done meanwhile takes long; then report the end of it."""
    done = threading.Event()

    def report() -> None:
        if not done.wait(LONG_S):
            inbox.put(PortsAwaited(BUSY, now_ns()))
            done.wait()
            inbox.put(PortsAwaited("", now_ns()))

    reporter = threading.Thread(target=report, name="port waiting", daemon=True)
    reporter.start()
    try:
        yield
    finally:
        done.set()
        reporter.join()
