"""Our clients on JACK, with a server of paper: never fed more than they can keep, never touched when they are dead."""

import threading
from collections.abc import Callable
from typing import cast

import pytest

from companion.ports import Direction, jack_awake, jack_system
from companion.ports.jack_server import JackServer
from companion.ports.jack_system import Client, JackReceivePort, JackSendPort, JackSystem
from companion.ports.outside import Health, PortRefused

PERIOD = 128
BYTES_KEPT = 16_384  # RtMidi.cpp, JACK_RINGBUFFER_SIZE
PRESS = b"\xb0\x40\x7f"


class Paper:
    """A server that moves on command, and lists our ports as RtMidi opens them."""

    def __init__(self) -> None:
        self.period_frames = PERIOD
        self.now = 0
        self.ports: dict[Direction, list[str]] = {Direction.IN: ["Box:out"], Direction.OUT: ["Piano:in"]}
        self.pairs: list[tuple[str, str]] = []
        self.refuses = False
        self.left = False
        self.came_last = 0
        self.opened: list[Port] = []
        self.calls_nobody: list[int] = []

    def find(self, _: str) -> bool:
        return True

    def health(self) -> Health:
        return Health.WELL

    def frames(self) -> int:
        return self.now % 2**32

    def listed(self, direction: Direction) -> tuple[str, ...]:
        return tuple(self.ports[direction])

    def connect(self, giver: str, taker: str) -> bool:
        self.pairs.append((giver, taker))
        return not self.refuses

    def connected(self, one: str, other: str) -> bool:
        return (one, other) in self.pairs or (other, one) in self.pairs

    def disconnect(self, giver: str, taker: str) -> None:
        self.pairs.remove((giver, taker))

    def leave(self) -> None:
        self.left = True

    def move_last(self, _: str) -> None:
        self.came_last += 1

    def pass_on(self, giver: "Port", message: bytes) -> None:
        """Do what a period does: call those that it calls, in the order in which they were opened."""
        called = [one for at, one in enumerate(self.opened) if at not in self.calls_nobody]
        for one in called if giver in called else ():
            if (giver.mine, one.mine) in self.pairs:
                one.callback((list(message), 0.0), None)


class Port:
    """RtMidi's object for one client."""

    made: list["Port"]

    def __init__(self, paper: Paper, direction: Direction) -> None:
        self._paper = paper
        self._direction = direction
        self.kept = 0
        self.done: list[str] = []
        self.mine = ""
        self.callback: Callable[[object, object], None] = lambda _event, _data: None

    def ignore_types(self, **_: bool) -> None:
        pass

    def set_callback(self, callback: Callable[[object, object], None]) -> None:
        self.callback = callback

    def open_virtual_port(self, label: str) -> None:
        other = Direction.OUT if self._direction is Direction.IN else Direction.IN
        self.mine = f"companion-{len(self._paper.opened)}:{label}"
        self._paper.ports[other].append(self.mine)
        self._paper.opened.append(self)

    def send_message(self, message: bytes) -> None:
        self.kept += 4 + len(message)
        assert self.kept <= BYTES_KEPT, "RtMidi would spin for ever"
        self._paper.pass_on(self, message)

    def close_port(self) -> None:
        self.done.append("close")

    def delete(self) -> None:
        self.done.append("delete")


class Rt:
    """RtMidi's module."""

    API_UNIX_JACK = 3
    RtMidiError = RuntimeError

    def __init__(self, paper: Paper) -> None:
        self._paper = paper
        self.made: list[Port] = []

    def MidiIn(self, _: int, name: str) -> Port:  # noqa: N802 - RtMidi's own word
        return self._make(Direction.IN, name)

    def MidiOut(self, _: int, name: str) -> Port:  # noqa: N802 - same
        return self._make(Direction.OUT, name)

    def _make(self, direction: Direction, name: str) -> Port:
        assert name == "companion"
        self.made.append(Port(self._paper, direction))
        return self.made[-1]


def scene() -> tuple[Paper, Rt, JackSystem]:
    paper = Paper()
    rt = Rt(paper)
    return paper, rt, JackSystem(rt, cast("JackServer", paper))


def wire_of(paper: Paper) -> tuple[Port, JackSendPort]:
    port = Port(paper, Direction.OUT)
    return port, JackSendPort(Client(port), cast("JackServer", paper), "Piano:in")


def test_a_stalled_server_never_gets_more_than_its_client_can_hold() -> None:
    paper = Paper()
    port, wire = wire_of(paper)
    taken = sum(wire.send(PRESS) for _ in range(10_000))
    assert 96 < taken < BYTES_KEPT // 7  # all off on sixteen channels goes in at once: 96 messages
    assert not wire.send(PRESS)
    assert port.kept == taken * 7


def test_a_running_server_takes_everything() -> None:
    paper = Paper()
    port, wire = wire_of(paper)
    for _ in range(20_000):
        while not wire.send(PRESS):
            paper.now += 3 * PERIOD
            port.kept = 0
    assert paper.now > 0


def test_a_frame_counter_that_wraps_at_2_to_the_32_stops_nothing() -> None:
    paper = Paper()
    paper.now = 2**32 - PERIOD
    port, wire = wire_of(paper)
    while wire.send(PRESS):
        pass
    for _ in range(2):
        paper.now += 4 * PERIOD
        port.kept = 0
        taken = wire.send(PRESS)
    assert taken


def test_each_label_has_one_client_for_the_whole_night() -> None:
    paper, rt, system = scene()
    system.prepare([(Direction.IN, "from Box"), (Direction.OUT, "to Piano")], sysex=False, clock=False)
    for _ in range(3):
        ear = system.open_ear("Box:out", "from Box", lambda _some, _at_ns: None, sysex=False, clock=False)
        wire = system.open_wire("Piano:in", "to Piano")
        assert ear.holds()
        assert wire.holds()
        ear.close()
        wire.close()
    assert len(rt.made) == 2
    assert not paper.pairs


def test_a_client_that_the_server_removed_is_replaced_and_not_touched() -> None:
    paper, rt, system = scene()
    system.open_wire("Piano:in", "to Piano").close()
    paper.ports[Direction.IN] = ["Box:out"]
    assert system.open_wire("Piano:in", "to Piano").holds()
    system.end()
    assert [port.done for port in rt.made] == [[], ["close", "delete"]]
    assert paper.left


def test_a_removed_client_is_not_touched_at_the_end() -> None:
    paper, rt, system = scene()
    system.open_wire("Piano:in", "to Piano").close()
    paper.ports[Direction.IN] = ["Box:out"]
    system.end()
    assert [port.done for port in rt.made] == [[]]


def test_a_port_that_jack_does_not_connect_is_refused() -> None:
    paper = Paper()
    paper.refuses = True
    client = Client(Port(paper, Direction.IN))
    heard: list[object] = []
    with pytest.raises(PortRefused):
        JackReceivePort(client, cast("JackServer", paper), "Box:out", lambda some, _at_ns: heard.append(some))
    client.receive(([0xB0, 64, 127], 0.0), None)
    assert heard == []


def test_a_server_that_refuses_the_first_client_is_found_at_once() -> None:
    """Seen on JACK 1.9.21: "Cannot open client", and the next one is accepted."""

    class Refuses(Paper):
        asked = 0

        def find(self, _: str) -> bool:
            self.asked += 1
            return self.asked > 1

    paper = Refuses()
    system = JackSystem(object(), cast("JackServer", paper))
    system.begin()
    assert paper.asked == 2


def test_a_port_whose_first_client_the_server_refuses_is_opened_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    paper, rt, system = scene()
    refusals = [RuntimeError("JACK server not running?")]
    make = rt.MidiIn

    def refuse_once(api: int, name: str) -> Port:
        if refusals:
            raise refusals.pop()
        return make(api, name)

    monkeypatch.setattr(rt, "MidiIn", refuse_once)
    assert system.open_ear("Box:out", "from Box", lambda _some, _at_ns: None, sysex=False, clock=False).holds()
    assert paper.pairs == [("Box:out", rt.made[0].mine)]


def test_an_unresponsive_server_does_not_delay_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jack_system, "_LONGEST_SEARCH_S", 0.01)
    answers = threading.Event()

    class Silent(Paper):
        def find(self, _: str) -> bool:
            return answers.wait(5)

    paper = Silent()
    system = JackSystem(object(), cast("JackServer", paper))
    ended = threading.Thread(target=system.end, daemon=True)
    ended.start()
    ended.join(1)
    was_over = not ended.is_alive()
    answers.set()
    assert was_over
    assert not paper.left, "the search may still be at work in there"


BOX, PIANO, ORGAN = (Direction.IN, "from Box"), (Direction.OUT, "to Piano"), (Direction.OUT, "to Organ")


@pytest.mark.parametrize(
    ("ports", "never_called", "made"),
    [
        ([BOX, PIANO, ORGAN], [], 3),
        ([BOX, PIANO, ORGAN], [1], 4),
        ([BOX, PIANO, ORGAN], [2, 3], 5),
        ([BOX, PIANO, ORGAN], [0], 8),  # nobody hears of the others either: the senders first, then all of them again
        ([BOX, PIANO, ORGAN], [0, 1, 2], 8),
        ([BOX, PIANO], [1], 3),
        ([PIANO], [0], 3),  # with one that hears it made for that
        ([BOX], [], 2),
    ],
)
def test_a_client_that_a_busy_server_never_calls_is_replaced(
    monkeypatch: pytest.MonkeyPatch, ports: list[tuple[Direction, str]], never_called: list[int], made: int
) -> None:
    monkeypatch.setattr(jack_system, "_BUSY_NS", -1)
    monkeypatch.setattr(jack_system, "_LET_IT_REST_S", 0)
    monkeypatch.setattr(jack_awake, "LONGEST_NS", 1)
    paper, rt, system = scene()
    paper.calls_nobody = never_called
    system.begin()
    system.prepare(ports, sysex=False, clock=False)
    assert not paper.pairs
    assert len(rt.made) == made
    for direction, label in ports:
        if direction is Direction.OUT:
            assert system.open_wire("Piano:in", label).holds()
    assert len(rt.made) == made


def test_a_message_to_ourselves_reaches_nobody_else(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jack_system, "_BUSY_NS", -1)
    paper, _, system = scene()
    system.begin()
    system.prepare([BOX, PIANO], sysex=False, clock=False)
    heard: list[object] = []
    system.open_ear("Box:out", "from Box", lambda some, _at_ns: heard.append(some), sysex=False, clock=False)
    paper.opened[0].callback(([0xB0, 64, 127], 0.0), None)
    assert heard == [[0xB0, 64, 127]]


def test_our_silent_client_moves_behind_the_others_once() -> None:
    paper, _, system = scene()
    for _ in range(50):
        assert system.health() is Health.WELL
    assert paper.came_last == 1
