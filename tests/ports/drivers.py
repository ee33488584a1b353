"""python-rtmidi on systems that are not here: devices plugged in by hand, and each system's own habits.

Each habit has its source beside it. "RtMidi.cpp" and "_rtmidi.pyx" are those of python-rtmidi 1.5.8; what stands in the
systems' own documentation is from memory, and says so.
"""

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, ClassVar

from companion.ports import Direction, MidiSystem
from companion.ports.rt_system import AlsaSystem, NamedSystem

IN, OUT = Direction.IN, Direction.OUT
Callback = Callable[[tuple[list[int], float], object], None]


class RtMidiError(Exception):
    """_rtmidi.pyx: the root of the binding's own exceptions, which ``_default_error_handler`` raises."""


class Device:
    """A device with one port each way. ``took`` is what was sent to it."""

    def __init__(self, name: str | None, *, gives: bool = True, takes: bool = True) -> None:
        self.name = name
        self.directions = (IN,) * gives + (OUT,) * takes
        self.took: list[str] = []
        self.listeners: list[Port] = []
        self.address = 0  # ALSA's client number

    def play(self, message: str) -> None:
        for port in tuple(self.listeners):
            assert port.callback is not None
            port.callback((list(bytes.fromhex(message)), 0.0), None)


class Port:
    """A ``MidiIn`` or ``MidiOut``."""

    def __init__(self, drivers: "Drivers", direction: Direction) -> None:
        self.drivers, self.direction = drivers, direction
        self.callback: Callback | None = None
        self.device: Device | None = None
        drivers.client_is_made(self)

    def get_port_count(self) -> int:
        self.drivers.listing()
        return len(self.drivers.seen(self.direction))

    def get_port_name(self, place: int, encoding: str = "auto") -> str | None:
        """_rtmidi.pyx: None if the name is empty; without a word on the encoding it is not UTF-8 everywhere."""
        seen = self.drivers.seen(self.direction)
        if place >= len(seen):
            # RtMidi.cpp, getPortName: "... is invalid", or "error looking for port name!"; both are raised
            raise RtMidiError("the 'portNumber' argument is invalid.")
        name = self.drivers.name_of(seen[place], place)
        read_as = self.drivers.auto if encoding == "auto" else encoding
        return name.encode().decode(read_as, "ignore") or None

    def open_port(self, place: int = 0, name: str = "") -> None:
        seen = self.drivers.seen(self.direction)
        if place >= len(seen):
            raise RtMidiError("the 'portNumber' argument is invalid.")
        self.drivers.opens(self, seen[place], name)
        self.device = seen[place]
        if self.direction is IN:
            self.device.listeners.append(self)

    def open_virtual_port(self, name: str) -> None:
        self.drivers.opens_virtual(self, name)

    def set_callback(self, callback: Callback) -> None:
        self.callback = callback

    def ignore_types(self, **_: bool) -> None:
        pass

    def send_message(self, message: bytes) -> None:
        self.drivers.sends(self, message)

    def close_port(self) -> None:
        pass

    def delete(self) -> None:
        device, self.device = self.device, None
        if device is not None and self in device.listeners:
            device.listeners.remove(self)
        self.drivers.deleted(self, device)


class Drivers:
    """One system and what is plugged into it. ``module`` stands for ``rtmidi``."""

    word: ClassVar[str]
    auto: ClassVar[str] = "utf-8"  # _rtmidi.pyx, MidiBase._decode_string

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.devices: list[Device] = list(self.always_there())
        self.ports: list[Port] = []
        self.troubled: Exception | None = None  # raised at the next listing
        self.module: Any = SimpleNamespace(
            MidiIn=lambda *_, **__: Port(self, IN),
            MidiOut=lambda *_, **__: Port(self, OUT),
            RtMidiError=RtMidiError,
            API_UNIX_JACK=2,
        )

    def system(self) -> MidiSystem:
        return NamedSystem(self.module, 0, self.word)

    def always_there(self) -> Iterator[Device]:
        yield from ()

    def plug(self, device: Device, place: int | None = None) -> None:
        self.devices.insert(len(self.devices) if place is None else place, device)

    def pull(self, device: Device) -> None:
        self.devices.remove(device)
        device.listeners.clear()

    def replug(self, device: Device) -> Device:
        """Pull a device and plug it in again at once: the system's object for it is a new one, at the same place."""
        place = self.devices.index(device)
        self.pull(device)
        again = Device(device.name)
        self.plug(again, place)
        return again

    def there(self, direction: Direction) -> list[Device]:
        return [device for device in self.devices if direction in device.directions]

    def seen(self, direction: Direction) -> list[Device]:
        """Return what RtMidi is shown in this thread."""
        return self.there(direction)

    def listing(self) -> None:
        trouble, self.troubled = self.troubled, None
        if trouble is not None:
            raise trouble

    def name_of(self, device: Device, place: int) -> str:
        del place
        return device.name or ""

    def client_is_made(self, port: Port) -> None:
        pass

    def opens(self, port: Port, device: Device, label: str) -> None:
        del device, label
        self.ports.append(port)

    def opens_virtual(self, port: Port, name: str) -> None:
        raise NotImplementedError

    def sends(self, port: Port, message: bytes) -> None:
        raise NotImplementedError

    def deleted(self, port: Port, device: Device | None) -> None:
        del device
        if port in self.ports:
            self.ports.remove(port)


class Windows(Drivers):
    """WinMM."""

    word = "winmm"
    auto = "latin1"  # _rtmidi.pyx, _decode_string; RtMidi.cpp gives UTF-8 (ConvertToUTF8): python-rtmidi issue 180

    def always_there(self) -> Iterator[Device]:
        yield Device("Microsoft GS Wavetable Synth", gives=False)  # Windows lists it always, first (from memory)

    def name_of(self, device: Device, place: int) -> str:
        """RtMidi.cpp, MidiInWinMM::getPortName: name, space, place. MAXPNAMELEN is 32 with its end (from memory)."""
        return f"{(device.name or '')[:31]} {place}"

    def opens(self, port: Port, device: Device, label: str) -> None:
        """midiInOpen, midiOutOpen: MMSYSERR_ALLOCATED if it is open already (from memory)."""
        if any(one.device is device and one.direction is port.direction for one in self.ports):
            raise RtMidiError("MidiInWinMM::openPort: error creating Windows MM MIDI input port.")
        super().opens(port, device, label)

    def sends(self, port: Port, message: bytes) -> None:
        """RtMidi.cpp, MidiOutWinMM::sendMessage: DRIVER_ERROR, which the binding raises."""
        if port.device is None or port.device not in self.devices:
            raise RtMidiError("MidiOutWinMM::sendMessage: error sending MIDI message.")
        port.device.took.append(message.hex())

    def deleted(self, port: Port, device: Device | None) -> None:
        """RtMidi.cpp, MidiInWinMM::closePort: an unplugged input cannot be closed cleanly.

        The error comes out of the destructor, so what reaches the caller is Python's own SystemError ("returned a
        result with an exception set"), not the binding's.
        """
        super().deleted(port, device)
        if port.direction is IN and device is not None and device not in self.devices:
            raise SystemError("<method 'delete'> returned a result with an exception set")


class Mac(Drivers):
    """Core MIDI."""

    word = "core"
    auto = "macroman"  # _rtmidi.pyx, _decode_string; RtMidi.cpp gives UTF-8 (kCFStringEncodingUTF8)

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.told: dict[Direction, list[Device]] | None = None
        self.thread: int | None = None

    def always_there(self) -> Iterator[Device]:
        yield Device("IAC-Treiber Bus 1")  # if it is switched on, in the player's language (from memory)

    def seen(self, direction: Direction) -> list[Device]:
        """MIDIClientCreate: news of devices come to the run loop of the thread that called it first (its docs)."""
        if self.told is None or threading.get_ident() == self.thread:
            self.told = {one: self.there(one) for one in Direction}
        return self.told[direction]

    def client_is_made(self, port: Port) -> None:
        """RtMidi.cpp, getCoreMidiClientSingleton: one client for the process, made with the first port."""
        del port
        if self.thread is None:
            self.thread = threading.get_ident()

    def opens(self, port: Port, device: Device, label: str) -> None:
        """RtMidi.cpp, MidiInCore::openPort: CFRelease of what was made of the label, which is read as ASCII."""
        assert label.isascii(), "the process ends here: CFRelease(NULL)"
        super().opens(port, device, label)

    def sends(self, port: Port, message: bytes) -> None:
        """RtMidi.cpp, MidiOutCore::sendMessage: a warning, of which _default_error_handler makes an exception."""
        if port.device is None or port.device not in self.devices:
            raise RtMidiError("MidiOutCore::sendMessage: error sending MIDI message to port.")
        port.device.took.append(message.hex())


class Alsa(Drivers):
    """ALSA's sequencer, with the table that the kernel shows (sound/core/seq/seq_clientmgr.c)."""

    word = "alsa"

    def __init__(self, folder: Path) -> None:
        self.next = 20
        super().__init__(folder)
        self.clients: dict[Port, int] = {}
        self.next_client = 128  # the first number of a program's own client (asequencer.h)
        self.table()

    def system(self) -> MidiSystem:
        return AlsaSystem(self.module, 0, self.folder / "clients")

    def always_there(self) -> Iterator[Device]:
        through = Device("Midi Through:Midi Through Port-0")
        through.address = 14
        yield through

    def plug(self, device: Device, place: int | None = None) -> None:
        if not device.address:
            self.next += 4
            device.address = self.next  # the lowest that is free, from memory; a new card has a new number here
        super().plug(device, place)
        self.table()

    def pull(self, device: Device) -> None:
        super().pull(device)
        self.table()

    def replug(self, device: Device) -> Device:
        """Seen on a machine with this kernel: back within half a second it had its number again."""
        place = self.devices.index(device)
        self.pull(device)
        again = Device(device.name)
        again.address = device.address
        self.plug(again, place)
        return again

    def name_of(self, device: Device, place: int) -> str:
        """RtMidi.cpp, MidiInAlsa::getPortName: client's name, port's name, and both numbers."""
        del place
        if device.name is None:
            return ""
        name = device.name if ":" in device.name else f"{device.name}:{device.name} MIDI 1"
        return f"{name} {device.address}:0"

    def client_is_made(self, port: Port) -> None:
        self.clients[port] = self.next_client
        self.next_client += 1
        self.table()

    def opens(self, port: Port, device: Device, label: str) -> None:
        super().opens(port, device, label)
        port.device = device
        self.table()

    def sends(self, port: Port, message: bytes) -> None:
        """An event to subscribers goes nowhere, without an error, if there are none (seq_clientmgr.c)."""
        if port.device in self.devices:
            assert port.device is not None
            port.device.took.append(message.hex())

    def deleted(self, port: Port, device: Device | None) -> None:
        super().deleted(port, device)
        self.clients.pop(port, None)
        self.table()

    def table(self) -> None:
        """Write what the kernel would show: clients, their ports, and who is connected to whom."""
        lines = ["Client info", f"  cur  clients : {len(self.devices)}", ""]
        for device in self.devices:
            lines += [f'Client {device.address:3} : "{device.name}" [Kernel Legacy]', '  Port   0 : "MIDI 1" (RWeX)']
        for port, number in getattr(self, "clients", {}).items():
            lines += [f'Client {number:3} : "companion" [User Legacy]']
            if port.device is not None:
                way = "Connected From" if port.direction is IN else "Connecting To"
                lines += ['  Port   0 : "a port" (-We-)']
                lines += [f"    {way}: {port.device.address}:0"] if port.device in self.devices else []
        (self.folder / "clients").write_text("\n".join(lines) + "\n", encoding="utf-8")
