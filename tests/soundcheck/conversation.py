"""A conversation without a machine: a clock moved by hand, events typed in, effects remembered."""

from collections.abc import Callable, Iterable
from typing import Generic, TypeVar

from companion.night.happenings import KeyReceived, Stop
from companion.ports import Direction, MidiReceived, PortFound, PortLost
from companion.rig import Pause
from companion.soundcheck.talk import LineTyped, Say, Send, TalkEffect, TalkInput

S = TypeVar("S")


class Talking(Generic[S]):
    """One conversation played by hand. ``effects`` is all that it gave out, ``said`` the lines among it."""

    def __init__(self, step: Callable[[S, TalkInput, int], tuple[S, tuple[TalkEffect, ...]]], state: S) -> None:
        self._step = step
        self.state = state
        self.now_ms = 0
        self.effects: list[TalkEffect] = []

    def take(self, happened: TalkInput) -> None:
        self.state, effects = self._step(self.state, happened, self.now_ms)
        self.effects += effects

    def wait(self, ms: int, every: int = 50) -> None:
        """Let time pass as the terminal does: looked at now and then."""
        for _ in range(0, ms, every):
            self.now_ms += every
            self.take(None)

    def key(self, *names: str) -> None:
        """Press keys, a second apart."""
        for name in names:
            self.now_ms += 1000
            self.take(KeyReceived(name, down=True))
            self.take(KeyReceived(name, down=False))

    def midi(self, port: str, *messages: str, apart_ms: int = 0) -> None:
        for message in messages:
            self.now_ms += apart_ms
            self.take(MidiReceived(port, bytes.fromhex(message), 0))

    def press(self, port: str, control: int, channel: int = 1) -> None:
        """Press a pedal and let it go, a second after what was before."""
        self.now_ms += 1000
        self.midi(port, f"{0xAF + channel:02X} {control:02X} 7F")
        self.now_ms += 100
        self.midi(port, f"{0xAF + channel:02X} {control:02X} 00")

    def found(self, port: str, direction: Direction = Direction.IN, *, was_there: bool = True) -> None:
        self.take(PortFound(port, direction, port, 0, was_there))

    def lost(self, port: str, direction: Direction = Direction.IN) -> None:
        self.take(PortLost(port, direction, f'"{port}" is gone', 0))

    def line(self, text: str) -> None:
        self.take(LineTyped(text))

    def stop(self) -> None:
        self.take(Stop("interrupted"))

    def new(self) -> list[TalkEffect]:
        """Return the effects since this was last asked."""
        effects, self.effects = self.effects, []
        return effects

    def sent(self) -> list[str]:
        """Return the bytes among the new effects, each with its port."""
        return list(bytes_of(self.new()))

    def said(self) -> list[str]:
        """Return the lines among the new effects."""
        return [one.line for one in self.new() if isinstance(one, Say)]


def bytes_of(effects: Iterable[TalkEffect]) -> Iterable[str]:
    for effect in effects:
        if isinstance(effect, Send):
            for message in effect.parcel:
                yield f"{effect.port}: {'pause' if isinstance(message, Pause) else message.hex(' ').upper()}"
