"""Do our clients run? A server that still takes off the clients of a killed program may list one that never will.

Found by experiment (JACK 1.9.21 without real time, bare C clients): each client with a thread that dies holds the
server up for half a second; one that comes meanwhile is listed and connected, and in about one start of three it is
never called. The others are, so it need not be waited for: another in its place runs.
"""

import time
from collections.abc import Mapping, Sequence
from typing import Any, Final, Protocol

from companion.ports.arrivals import Direction

SONG_SELECT: Final = 0xF3  # any short message will do: nobody but ourselves hears it
LONGEST_NS: Final = 400_000_000  # many periods of a server that was busy a moment ago
AGAIN_S: Final = 0.01
MOST: Final = 128  # numbers that the message has; more clients than that go unasked

Key = tuple[Direction, str]


class Asked(Protocol):
    """A client of ours: ``mine`` is its port's full name, ``hears`` takes what comes there."""

    port: Any
    mine: str
    hears: Any


class Patchbay(Protocol):
    """A server that connects ports."""

    def connect(self, giver: str, taker: str) -> bool:
        """Connect two ports."""

    def disconnect(self, giver: str, taker: str) -> None:
        """Take them apart."""


def asleep(server: Patchbay, clients: Mapping[Key, Asked]) -> set[Key]:
    """Return the clients that the server does not call, asked with a message from each of them to each.

    Nothing else may be connected to them. Needs one for each direction; without, none can be asked.
    """
    ins = [(key, one) for key, one in clients.items() if key[0] is Direction.IN]
    outs = [(key, one) for key, one in clients.items() if key[0] is Direction.OUT][:MOST]
    if not ins or not outs:
        return set()
    awake: set[Key] = set()
    before = [ear.hears for _, ear in ins]
    pairs = [(wire.mine, ear.mine) for _, wire in outs for _, ear in ins]
    for key, ear in ins:
        ear.hears = _noting(awake, key, [key for key, _ in outs])
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


def _noting(awake: set[Key], ear: Key, wires: Sequence[Key]) -> Any:  # noqa: ANN401 - as the client's own ``hears``
    def heard(message: Sequence[int], _at_ns: int) -> None:
        if len(message) == 2 and message[0] == SONG_SELECT and message[1] < len(wires):
            awake.update((ear, wires[message[1]]))

    return heard
