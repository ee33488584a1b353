"""JACK as a MIDI system: RtMidi's clients carry the messages; everything else goes to the server directly.

Closing an RtMidi client on a dead server crashes with a segmentation fault. Even on a healthy one it is risky: RtMidi
frees what its send thread may be reading (RtMidi.cpp, MidiOutJack). So each word of the rig has one client for the
whole night, connected and disconnected by the server; it is closed carefully at the end.
"""

import contextlib
import threading
import time
from collections.abc import Sequence
from typing import Any, Final

from companion.clock import now_ns
from companion.ports.arrivals import Direction
from companion.ports.jack_awake import asleep
from companion.ports.jack_server import JackServer
from companion.ports.outside import NO_SERVER, Health, OnMessage, PortRefused, ReceivePort, SendPort
from companion.ports.port_names import CLIENT, is_ours
from companion.ports.show_clock import NS_PER_MS

_NAME_AT_MOST: Final = 60  # JACK rejects client and port names of more than 320 bytes together
_BEGIN_ANEW: Final = 10  # attempts; measured right after a kill: one start in three needs one, none needs two
_BUSY_NS: Final = 200 * NS_PER_MS  # a server that takes longer over its first client is still removing dead ones
_LAST_TO_COME: Final = 3  # scans, after the first sound: then our silent client moves behind the others
_TOO_LATE_NS: Final = 450 * NS_PER_MS  # a server accepts a client within 30 ms, or gives up after 500 (jackd -t)
_LET_IT_REST_S: Final = 0.3
_LONGEST_SEARCH_S: Final = 1.0  # at the end; a stopped server never answers
_ON_ITS_WAY_S: Final = 0.03  # a few periods: time for a client's own thread to finish
_LONGEST_UNTIL_IT_COUNTS_NS: Final = 300 * NS_PER_MS  # more than the longest period
_LOOK_AGAIN_S: Final = 0.0005
_KEEPS: Final = (
    8_192  # bytes; RtMidi's client buffers 16 KiB, and JACK drops what exceeds about 1,400 messages a period
)
_EVENT: Final = 12  # overhead of each message in JACK's buffer, in bytes


class JackSystem:
    """The server, and our clients on it."""

    word = "jack"

    def __init__(self, rtmidi: Any, server: JackServer, gone: str = NO_SERVER) -> None:  # noqa: ANN401 - untyped
        """Start looking for the server: it takes 16 ms to accept a client; show and rig can be read meanwhile.

        ``gone`` is the message for the player while there is no server.
        """
        self.gone = gone
        self._rtmidi = rtmidi
        self._server = server
        self._clients: dict[tuple[Direction, str], Client] = {}
        self._left_alone: list[tuple[Direction, Client]] = []
        self._is_busy = False
        self._looks = 0
        self._search = threading.Thread(target=self._find, name="server search", daemon=True)
        self._search.start()

    def _find(self) -> bool:
        """Look for the server; once more, because a server that runs refuses a client now and then.

        Seen once in some hundred clients of four programs, right after others had been opened (JACK 1.9.21).
        """
        begun_ns = now_ns()
        found = self._server.find(CLIENT)
        if not found and now_ns() - begun_ns < _TOO_LATE_NS:
            found = self._server.find(CLIENT)
        self._is_busy = now_ns() - begun_ns > _BUSY_NS
        self._looks = 0
        return found

    def begin(self) -> None:
        """Wait until the search for the server is done."""
        self._search.join()

    def health(self) -> Health:
        """Return the server's health."""
        health = self._server.health()
        self._looks += 1
        if health is Health.WELL and self._looks == _LAST_TO_COME:
            self._server.move_last(CLIENT)
        return health

    def find_again(self) -> bool:
        """Look for the server again; everything opened on the old one is dead."""
        self._clients.clear()
        self._left_alone.clear()
        return self._find()

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Return the names of the MIDI ports."""
        return self._server.listed(direction)

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        """Create a client for each label before any of them receives messages.

        RtMidi holds the interpreter's lock while the server accepts a client (16 ms). The server waits for our other
        clients, and a client with a message to deliver waits for the lock: everything would stop for a second.

        A server still busy with the clients of a killed program may accept a client that never runs. Such a client is
        abandoned and replaced. If none seems to run, the sender may be at fault and is replaced; if that does not help,
        one client blocks all others, and all are closed and created again.
        """
        for attempt in range(_BEGIN_ANEW):
            took_ns = self._make(ports, sysex=sysex, clock=clock)
            if took_ns <= _TOO_LATE_NS and not self._is_busy:
                return
            missing = set(Direction) - {direction for direction, _ in ports}
            self._make([(one, "nothing") for one in missing], sysex=sysex, clock=clock)  # one client tests another
            sleepers = asleep(self._server, self._clients)
            if not sleepers:
                self._is_busy = False
                return
            if attempt == 0 or sleepers != self._clients.keys():
                self._leave_alone(sleepers)
                continue
            self._close_all()
            time.sleep(_LET_IT_REST_S)
            if not self._find():
                return

    def _leave_alone(self, sleepers: set[tuple[Direction, str]]) -> None:
        """Abandon each of these clients so that it is created again; if that is all of them, only the senders."""
        all_sleep = sleepers == self._clients.keys()
        for key in sleepers:
            if not all_sleep or key[0] is Direction.OUT:
                self._left_alone.append((key[0], self._clients.pop(key)))

    def _make(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> int:
        """Create the missing clients; return the ns that the slowest took."""
        slowest_ns = 0
        with contextlib.suppress(PortRefused):  # reported when it is connected
            for direction, label in ports:
                begun_ns = now_ns()
                self._client(direction, label, sysex=sysex, clock=clock)
                slowest_ns = max(slowest_ns, now_ns() - begun_ns)
        return slowest_ns

    def open_ear(self, name: str, label: str, on_message: OnMessage, *, sysex: bool, clock: bool) -> ReceivePort:
        """Connect a port to the client of this label."""
        client = self._client(Direction.IN, label, sysex=sysex, clock=clock)
        return JackReceivePort(client, self._server, name, on_message)

    def open_wire(self, name: str, label: str) -> SendPort:
        """Connect the client of this label to a port."""
        return JackSendPort(self._client(Direction.OUT, label), self._server, name)

    def end(self) -> None:
        """Close the connection to a healthy server. A client that just vanished would block it for half a second."""
        self._search.join(_LONGEST_SEARCH_S)
        if not self._search.is_alive() and self._server.health() is Health.WELL:
            self._close_all()

    def _close_all(self) -> None:
        """Close all our clients on a healthy server; nothing is connected to them any more."""
        time.sleep(_ON_ITS_WAY_S)
        all_of_them = [*self._left_alone, *((key[0], client) for key, client in self._clients.items())]
        alive = [client for direction, client in all_of_them if self._is_alive(direction, client)]
        for client in alive:
            client.port.close_port()
        time.sleep(_ON_ITS_WAY_S)  # a client's own thread may be reading what is freed next
        for client in alive:
            client.port.delete()
        self._clients.clear()
        self._left_alone.clear()
        self._server.leave()

    def _is_alive(self, direction: Direction, client: "Client") -> bool:
        """Return whether the server still knows a client; it removes clients that were late too long."""
        return client.mine in self._server.listed(_other(direction))

    def _client(self, direction: Direction, label: str, *, sysex: bool = False, clock: bool = False) -> "Client":
        key = (direction, label)
        if key in self._clients and not self._is_alive(direction, self._clients[key]):
            del self._clients[key]  # and leave it untouched
        if key not in self._clients:
            before = set(self._server.listed(_other(direction)))
            client = self._new_client(direction, label, sysex=sysex, clock=clock)
            mine = [name for name in self._server.listed(_other(direction)) if name not in before and is_ours(name)]
            if len(mine) != 1:
                raise PortRefused("JACK does not list our own port")
            client.mine = mine[0]
            self._clients[key] = client
        return self._clients[key]

    def _new_client(self, direction: Direction, label: str, *, sysex: bool, clock: bool) -> "Client":
        make = self._rtmidi.MidiIn if direction is Direction.IN else self._rtmidi.MidiOut
        api = self._rtmidi.API_UNIX_JACK
        try:
            try:
                port = make(api, name=CLIENT)
            except self._rtmidi.RtMidiError:
                port = make(api, name=CLIENT)  # once more, as in _find
            keep_until_exit(port)
            client = Client(port)
            if direction is Direction.IN:
                port.ignore_types(sysex=not sysex, timing=not clock, active_sense=True)
                port.set_callback(client.receive)
            port.open_virtual_port(label.replace(":", " ")[:_NAME_AT_MOST])
        except self._rtmidi.RtMidiError as refusal:
            raise PortRefused(str(refusal)) from refusal
        return client


class Client:
    """One client of the server, with one port: ``mine`` is its full name."""

    def __init__(self, port: Any) -> None:  # noqa: ANN401 - untyped
        self.port = port
        self.mine = ""
        self.hears: OnMessage = _discard

    def receive(self, event: tuple[Sequence[int], float], _: object) -> None:
        """Pass on the bytes of one message, without the time since the last one, which RtMidi adds."""
        self.hears(event[0], now_ns())


class JackReceivePort:
    """A port connected to one of our clients."""

    def __init__(self, client: Client, server: JackServer, name: str, on_message: OnMessage) -> None:
        self._client = client
        self._server = server
        self._name = name
        client.hears = on_message
        if not server.connect(name, client.mine):
            client.hears = _discard
            raise PortRefused("JACK does not connect it")

    def holds(self) -> bool:
        """Return whether they are still connected."""
        return self._server.connected(self._client.mine, self._name)

    def close(self) -> None:
        """Disconnect them."""
        self._client.hears = _discard
        self._server.disconnect(self._name, self._client.mine)

    def abandon(self) -> None:
        """Stop listening to a client of a dead server."""
        self._client.hears = _discard


class JackSendPort:
    """One of our clients, connected to a port. It never gets more than it can buffer if the server has stopped."""

    def __init__(self, client: Client, server: JackServer, name: str) -> None:
        self._client = client
        self._server = server
        self._name = name
        self._send = client.port.send_message
        self._mark = server.frames()
        self._before_mark = 0  # bytes; sent once the server has moved on by two periods since the mark
        self._since_mark = 0
        if not server.connect(client.mine, name):
            raise PortRefused("JACK does not connect it")
        _wait_until_connected(server, client.mine, name)

    def send(self, message: bytes) -> bool:
        """Send it only if it is certain to fit; RtMidi would spin for ever, with the interpreter's lock held."""
        size = _EVENT + len(message)
        if self._since_mark + size > _KEEPS // 4 or self._before_mark + self._since_mark + size > _KEEPS:
            frames = self._server.frames()
            if (frames - self._mark) % 2**32 > 2 * self._server.period_frames:
                self._before_mark, self._since_mark, self._mark = self._since_mark, 0, frames
            if self._before_mark + self._since_mark + size > _KEEPS:
                return False
        self._send(message)
        self._since_mark += size
        return True

    def holds(self) -> bool:
        """Return whether they are still connected."""
        return self._server.connected(self._client.mine, self._name)

    def close(self) -> None:
        """Disconnect them."""
        self._server.disconnect(self._client.mine, self._name)

    def abandon(self) -> None:
        """Leave a client of a dead server untouched."""


def _wait_until_connected(server: JackServer, giver: str, taker: str) -> None:
    """Wait until the server's current period knows the connection: a message sent earlier reaches nobody.

    Seen once in some thousand connections: JACK reports it done before its current period knows of it.
    """
    until_ns = now_ns() + _LONGEST_UNTIL_IT_COUNTS_NS
    while not server.connected(giver, taker) and now_ns() < until_ns:
        time.sleep(_LOOK_AGAIN_S)


def _other(direction: Direction) -> Direction:
    """Return the list that contains our own port for this direction: an input of ours is a port to send to."""
    return Direction.OUT if direction is Direction.IN else Direction.IN


def keep_until_exit(thing: object) -> None:
    """Keep an object until the process ends, even while the interpreter shuts down."""
    import ctypes

    ctypes.pythonapi.Py_IncRef(ctypes.py_object(thing))


def _discard(_some: Sequence[int], _at_ns: int) -> None:
    """Discard the message."""
