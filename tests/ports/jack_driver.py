"""A JACK server that is not here, beside the other imitated systems; and all four of them."""

from pathlib import Path

from ports.drivers import IN, OUT, Alsa, Device, Drivers, Mac, Port, Windows

from companion.ports import Direction, MidiSystem
from companion.ports.jack_system import JackSystem
from companion.ports.outside import Health


class Jack(Drivers):
    """A JACK server; the same object stands for ``companion.ports.jack_server.JackServer``."""

    word = "jack"
    period_frames = 64

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.mine: dict[str, Port] = {}
        self.joined: set[tuple[str, str, Device]] = set()
        self.now = 0

    def system(self) -> MidiSystem:
        return JackSystem(self.module, self)  # type: ignore[arg-type]  # it has all that is called

    def name_of(self, device: Device, place: int = 0) -> str:
        """JACK has no nameless ports: client, colon, port (jack/jack.h)."""
        del place
        return f"{device.name or 'system'}:midi"

    def opens_virtual(self, port: Port, name: str) -> None:
        """RtMidi.cpp, MidiInJack::initialize: JACK numbers clients of one name ("companion-01")."""
        number = f"-{len(self.mine):02}" if self.mine else ""
        self.mine[f"companion{number}:{name}"] = port

    def sends(self, port: Port, message: bytes) -> None:
        for mine, _, device in self.joined:
            if self.mine[mine] is port and device in self.devices:
                device.took.append(message.hex())

    def find(self, name: str) -> bool:
        del name
        return True

    def forget(self) -> None:
        pass

    def move_last(self, name: str) -> None:
        """Nothing waits for it here, wherever our silent client stands."""
        del name

    def health(self) -> Health:
        self.listing()
        return Health.WELL

    def frames(self) -> int:
        self.now += 64
        return self.now

    def listed(self, direction: Direction) -> tuple[str, ...]:
        ours = [name for name, port in self.mine.items() if port.direction is not direction]
        return (*(self.name_of(device) for device in self.there(direction)), *ours)

    def connect(self, giver: str, taker: str) -> bool:
        mine, theirs = (giver, taker) if giver in self.mine else (taker, giver)
        way = OUT if mine == giver else IN
        device = next((one for one in self.there(way) if self.name_of(one) == theirs), None)
        if device is None:
            return False
        self.joined.add((mine, theirs, device))
        if way is IN:
            device.listeners.append(self.mine[mine])
        return True

    def disconnect(self, giver: str, taker: str) -> None:
        mine, theirs = (giver, taker) if giver in self.mine else (taker, giver)
        self.joined = {one for one in self.joined if one[:2] != (mine, theirs)}

    def connected(self, one: str, other: str) -> bool:
        return any((mine, theirs) == (one, other) and device in self.devices for mine, theirs, device in self.joined)

    def leave(self) -> None:
        pass


ALL = (Alsa, Jack, Mac, Windows)
