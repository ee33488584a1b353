"""The silent client that watches the server, with JACK's functions replaced by records of their calls."""

import threading

from companion.ports.jack_server import JackServer
from companion.ports.outside import Health


class StandIn(JackServer):
    """A server whose functions are given; ``done`` lists what was called, in order."""

    def __init__(self) -> None:
        self.done: list[str] = []
        self.in_call, self.may_return = threading.Event(), threading.Event()
        self._swapping = threading.Lock()
        self._client, self._left, self._closed = 1, [], None  # type: ignore[assignment]  # no semaphore
        self._last_frames, self._looked_ns, self._health = 0, 0, Health.WELL
        self._open = lambda *_: 2
        self._frame = self.slow_frame
        self._close = self.close_client

    def slow_frame(self, client: int) -> int:
        """Be called by the sending thread, and take a while."""
        self.in_call.set()
        self.may_return.wait(0.1)
        self.done.append(f"asked {client}")
        return 0

    def close_client(self, client: int) -> int:
        self.done.append(f"closed {client}")
        return 0

    def _watch_with(self, client: int) -> None:
        self._take(client)


def test_a_client_is_closed_only_after_the_last_call_on_it() -> None:
    """The sending thread may be between reading the client's number and the call; JACK frees a closed client."""
    server = StandIn()
    sending = threading.Thread(target=server.frames)
    sending.start()
    assert server.in_call.wait(10)
    server.move_last("companion")
    sending.join()
    assert server.done == ["asked 1", "closed 1"]
    assert server.frames() == 0
    assert server.done[-1] == "asked 2"


def test_a_client_that_leaves_is_closed_only_after_the_last_call_on_it() -> None:
    server = StandIn()
    sending = threading.Thread(target=server.frames)
    sending.start()
    assert server.in_call.wait(10)
    server.leave()
    sending.join()
    assert server.done == ["asked 1", "closed 1"]
