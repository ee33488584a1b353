"""Find JACK clients that never run: a server busy removing dead clients may list a new one that it never calls.

Found by experiment (JACK 1.9.21 without real time, bare C clients): each client with a thread that dies blocks the
server for half a second. A client that is opened meanwhile is listed and connected, but in about one start of three the
server never calls it. A second client opened in its place runs, so there is no need to wait.
"""

import time
from collections.abc import Mapping, Sequence
from typing import Any, Final, Protocol

from companion.ports.arrivals import Direction

SONG_SELECT: Final = 0xF3  # any short message will do: only our own clients receive it
LONGEST_NS: Final = 400_000_000  # many periods of a server that was busy until now
AGAIN_S: Final = 0.01
MOST: Final = 128  # client numbers that fit in the message; further clients are not tested

PortKey = tuple[Direction, str]


class OwnClient(Protocol):
    """A client of ours: ``mine`` is its port's full name; ``hears`` receives its messages."""

    port: Any
    mine: str
    hears: Any


class Patchbay(Protocol):
    """A server that connects ports."""

    def connect(self, giver: str, taker: str) -> bool:
        """Connect two ports."""

    def disconnect(self, giver: str, taker: str) -> None:
        """Disconnect two ports."""


def asleep(server: Patchbay, clients: Mapping[PortKey, OwnClient]) -> set[PortKey]:
    """Return the clients that the server does not call, tested with a message from each sender to each receiver.

    Nothing else may be connected to them. The test needs at least one client for each direction; otherwise none is
    tested.
    """
    ins = [(key, one) for key, one in clients.items() if key[0] is Direction.IN]
    outs = [(key, one) for key, one in clients.items() if key[0] is Direction.OUT][:MOST]
    if not ins or not outs:
        return set()
    awake: set[PortKey] = set()
    before = [ear.hears for _, ear in ins]
    pairs = [(wire.mine, ear.mine) for _, wire in outs for _, ear in ins]
    for key, ear in ins:
        ear.hears = _note_arrivals(awake, key, [key for key, _ in outs])
    for giver, taker in pairs:
        server.connect(giver, taker)
    until_ns = time.monotonic_ns() + LONGEST_NS
    while True:
        for number, (_, wire) in enumerate(outs):
            wire.port.send_message(bytes((SONG_SELECT, number)))
        if len(awake) == len(ins) + len(outs) or time.monotonic_ns() >= until_ns:
            break
        time.sleep(AGAIN_S)
    for giver, taker in pairs:
        server.disconnect(giver, taker)
    for (_, ear), hears in zip(ins, before, strict=True):
        ear.hears = hears
    return {key for key, _ in (*ins, *outs)} - awake


def _note_arrivals(awake: set[PortKey], ear: PortKey, wires: Sequence[PortKey]) -> Any:  # noqa: ANN401 - as the client's own ``hears``
    def heard(message: Sequence[int], _at_ns: int) -> None:
        if len(message) == 2 and message[0] == SONG_SELECT and message[1] < len(wires):
            awake.update((ear, wires[message[1]]))

    return heard
