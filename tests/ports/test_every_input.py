"""Listening to every input there is, also to those that are plugged in later."""

import queue
from collections.abc import Callable, Sequence

from companion.ports import Arrival, Direction, Health, MidiReceived, PortFound, PortLost, PortWatch
from companion.ports.outside import OnMessage, ReceivePort, SendPort


class Holding:
    """A port that is open."""

    def holds(self) -> bool:
        return True

    def close(self) -> None:
        pass

    def abandon(self) -> None:
        pass


class Plugs:
    """A MIDI system whose inputs are plugged in by hand."""

    word = "alsa"
    gone = "it is gone"

    def __init__(self, *names: str) -> None:
        self.names = names
        self.came: dict[str, OnMessage] = {}

    def begin(self) -> None:
        pass

    def health(self) -> Health:
        return Health.WELL

    def find_again(self) -> bool:
        return True

    def listed(self, direction: Direction) -> tuple[str, ...]:
        return self.names if direction is Direction.IN else ()

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        pass

    def open_ear(self, name: str, label: str, came: OnMessage, *, sysex: bool, clock: bool) -> ReceivePort:
        del label, sysex, clock
        self.came[name] = came
        return Holding()

    def open_wire(self, name: str, label: str) -> SendPort:
        raise NotImplementedError

    def end(self) -> None:
        pass


def arrivals(inbox: "queue.SimpleQueue[Arrival]") -> list[Arrival]:
    return [inbox.get() for _ in range(inbox.qsize())]


def listening(system: Plugs, *inputs: str) -> tuple[Callable[[], list[Arrival]], PortWatch]:
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    watch = PortWatch(system, inbox, inputs=inputs, outputs=(), every_input=True)
    return lambda: arrivals(inbox), watch


def test_every_input_is_received_under_its_full_name_even_if_plugged_in_later() -> None:
    system = Plugs("Foot Box:Foot Box MIDI 1 20:0")
    new, watch = listening(system)
    watch.look()
    assert [one.port for one in new() if isinstance(one, PortFound)] == ["Foot Box:Foot Box MIDI 1 20:0"]
    system.names += ("Stage Piano:MIDI 1 24:0",)
    watch.look()
    system.came["Stage Piano:MIDI 1 24:0"]((0xB0, 64, 127), 0)
    found, came = new()
    assert isinstance(found, PortFound)
    assert isinstance(came, MidiReceived)
    assert (came.port, came.message) == ("Stage Piano:MIDI 1 24:0", b"\xb0\x40\x7f")


def test_our_own_ports_and_loops_are_left_alone() -> None:
    new, watch = listening(Plugs("companion:to Stage Piano 128:0", "Midi Through:Midi Through Port-0 14:0"))
    watch.look()
    assert new() == []


def test_an_unplugged_input_is_reported() -> None:
    system = Plugs("Foot Box:1 20:0")
    new, watch = listening(system)
    watch.look()
    system.names = ()
    watch.look()
    assert [type(one) for one in new()] == [PortFound, PortLost]


def test_a_rigs_word_for_the_same_port_receives_its_messages_too() -> None:
    system = Plugs("Foot Box:1 20:0")
    new, watch = listening(system, "foot box")
    watch.look()
    system.came["Foot Box:1 20:0"]((0xB0, 64, 127), 0)
    assert {one.port for one in new() if isinstance(one, MidiReceived)} == {"foot box", "Foot Box:1 20:0"}
