"""The outside without a cable: an out that remembers, and a MIDI system whose ports are plugged in by hand."""

from collections.abc import Callable, Sequence

from companion.clock import now_ns
from companion.ports import Direction, Health
from companion.ports.outside import NO_SERVER, OnMessage, PortRefused


class Tape:
    """A wire that remembers what was sent. ``room`` is how many messages it takes before it has none left."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []
        self.room: int | None = None
        self.dead = False
        self.closed = False
        self.abandoned = False
        self.connected: bool | None = True

    def send(self, message: bytes) -> bool:
        if self.dead:
            raise PortRefused("it is dead")
        if self.room is not None and len(self.sent) >= self.room:
            return False
        self.sent.append(message)
        return True

    def holds(self) -> bool | None:
        return self.connected

    def close(self) -> None:
        self.closed = True

    def abandon(self) -> None:
        self.abandoned = True


class TapeSystem:
    """A MIDI system: set ``names`` and ``state``, and look what was opened. A name in ``busy`` cannot be opened."""

    def __init__(self, *, inputs: Sequence[str] = (), outputs: Sequence[str] = (), word: str = "alsa") -> None:
        self.word = word
        self.names = {Direction.IN: tuple(inputs), Direction.OUT: tuple(outputs)}
        self.state = Health.WELL
        self.gone = NO_SERVER
        self.comes_back = False
        self.busy: set[str] = set()
        self.ears: dict[str, tuple[Tape, OnMessage]] = {}
        self.wires: dict[str, Tape] = {}
        self.prepared: list[tuple[Direction, str]] = []
        self.when_opening: Callable[[str], None] = lambda _: None
        self.ended = False

    def begin(self) -> None:
        pass

    def health(self) -> Health:
        return self.state

    def find_again(self) -> bool:
        if self.comes_back:
            self.state = Health.WELL
        return self.comes_back

    def listed(self, direction: Direction) -> tuple[str, ...]:
        return self.names[direction]

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        del sysex, clock
        self.prepared += ports

    def open_ear(self, name: str, label: str, came: OnMessage, *, sysex: bool, clock: bool) -> Tape:
        del label, sysex, clock
        self._open(name)
        ear = Tape()
        self.ears[name] = (ear, came)
        self.when_opening(name)
        return ear

    def open_wire(self, name: str, label: str) -> Tape:
        del label
        self._open(name)
        self.wires[name] = Tape()
        return self.wires[name]

    def play(self, name: str, message: bytes) -> None:
        """Deliver a message at this port, as the driver would."""
        self.ears[name][1](tuple(message), now_ns())

    def end(self) -> None:
        self.ended = True

    def _open(self, name: str) -> None:
        if name in self.busy:
            raise PortRefused("device busy")
