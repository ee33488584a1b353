"""Systems that RtMidi alone can serve: ALSA's sequencer, Core MIDI, Windows. Their lists, and ports opened on them.

Call everything except ``SendPort.send`` in one thread, the one that called ``begin``: macOS reports new devices
only there.
"""

import contextlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from companion.ports.alsa_links import CLIENTS, Address, Links, address_in, links
from companion.ports.arrivals import Direction
from companion.ports.listing import bare_names, bare_of, in_another_order, known_as, places_of
from companion.ports.outside import Health, OnMessage, PortRefused, ReceivePort, SendPort
from companion.ports.port_names import CLIENT
from companion.ports.wires import RtReceivePort, RtSendPort

# RtMidi's encoding everywhere; python-rtmidi's "auto" decodes as latin-1 on Windows and as MacRoman on macOS.
_UTF8: Final = "utf-8"


class RtMidiSystem:
    """What the three have in common."""

    gone = "this computer's MIDI cannot be used"

    def __init__(self, rtmidi: Any, api: int, word: str) -> None:  # noqa: ANN401 - untyped
        """Needs python-rtmidi's module, its number for the system, and the system's short name."""
        self.word = word
        self._rtmidi = rtmidi
        self._api = api
        self._listers: dict[Direction, Any] = {}

    def begin(self) -> None:
        """Make this thread's run loop the one that macOS reports new devices to."""
        for direction in Direction:
            self.listed(direction)

    def health(self) -> Health:
        """Return WELL: the system does not go away."""
        return Health.WELL

    def find_again(self) -> bool:
        """Return True: the system is always there."""
        return True

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Return the names by which its ports are known."""
        return tuple(name for name in self._raw(direction) if name)

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        """Do nothing: opening a port is fast here."""

    def open_ear(self, name: str, label: str, on_message: OnMessage, *, sysex: bool, clock: bool) -> ReceivePort:
        """Open a port for input. Active sensing is always ignored, other message types unless requested."""
        with self._refusals():
            before = self._before()
            port = self._rtmidi.MidiIn(self._api, name=CLIENT)
            port.ignore_types(sysex=not sysex, timing=not clock, active_sense=True)
            ear = RtReceivePort(port, on_message)
            self._connect(port, Direction.IN, name, label)
        self._opened(ear, Direction.IN, name, before)
        return ear

    def open_wire(self, name: str, label: str) -> SendPort:
        """Open a port for output."""
        with self._refusals():
            before = self._before()
            port = self._rtmidi.MidiOut(self._api, name=CLIENT)
            self._connect(port, Direction.OUT, name, label)
        wire = RtSendPort(port)
        self._opened(wire, Direction.OUT, name, before)
        return wire

    def end(self) -> None:
        """Close the clients used for listing."""
        for lister in self._listers.values():
            lister.delete()
        self._listers.clear()

    def _raw(self, direction: Direction) -> list[str]:
        """Return the names as RtMidi lists them, by place."""
        try:
            if direction not in self._listers:
                kind = self._rtmidi.MidiIn if direction is Direction.IN else self._rtmidi.MidiOut
                self._listers[direction] = kind(self._api, name=CLIENT)
            return _names_of(self._listers[direction], self._rtmidi.RtMidiError)
        except self._rtmidi.RtMidiError:
            return []

    def _before(self) -> Links | None:
        """Record what must be known before a port is opened."""
        return None

    def _opened(self, port: RtReceivePort | RtSendPort, direction: Direction, name: str, before: Links | None) -> None:
        """Record a port that was opened."""

    @contextlib.contextmanager
    def _refusals(self) -> Iterator[None]:
        try:
            yield
        except self._rtmidi.RtMidiError as refusal:
            raise PortRefused(str(refusal)) from refusal

    def _connect(self, port: Any, direction: Direction, name: str, label: str) -> None:  # noqa: ANN401 - untyped
        """Open by name; RtMidi opens by place in the list, which may have moved in between."""
        try:
            self._try_places(port, direction, name, label)
        except Exception:
            port.delete()
            raise

    def _try_places(self, port: Any, direction: Direction, name: str, label: str) -> None:  # noqa: ANN401 - untyped
        error, refusal = self._rtmidi.RtMidiError, "it has just disappeared"
        before = _names_of(port, error)
        for place in self._places(direction, name, before):
            try:
                port.open_port(place, name=self._label(label))
            except error as busy:
                refusal = str(busy)
                continue
            if _names_of(port, error)[place : place + 1] == before[place : place + 1]:
                return
            break
        raise PortRefused(refusal)

    def _places(self, direction: Direction, name: str, raw: Sequence[str]) -> tuple[int, ...]:
        """Return the places where the port of this name may be, likeliest first."""
        del direction
        return tuple(place for place, one in enumerate(raw) if one == name)[:1]

    def _label(self, label: str) -> str:
        """Return the name that other programs see."""
        return label


class AlsaSystem(RtMidiSystem):
    """ALSA's sequencer: its own table shows whether an open port is still connected."""

    def __init__(self, rtmidi: Any, api: int, table: Path = CLIENTS) -> None:  # noqa: ANN401 - untyped
        """Needs python-rtmidi's module, its number for ALSA, and the path of the kernel's table."""
        super().__init__(rtmidi, api, "alsa")
        self._table = table

    def _opened(self, port: RtReceivePort | RtSendPort, direction: Direction, name: str, before: Links | None) -> None:
        del direction
        theirs, now = address_in(name), links(self._table)
        if theirs is None or before is None or now is None:
            return
        mine = now.ours(theirs, CLIENT, before)
        if mine is not None:
            port.link = lambda: self._is_connected(mine, theirs)

    def _is_connected(self, mine: int, theirs: Address) -> bool | None:
        now = links(self._table)
        return None if now is None else (mine, theirs) in now.connected

    def _before(self) -> Links | None:
        return links(self._table)


class NamedSystem(RtMidiSystem):
    """Windows and macOS: ports are known by their bare names, and the system does not report lost connections."""

    def __init__(self, rtmidi: Any, api: int, word: str) -> None:  # noqa: ANN401 - untyped
        """Needs python-rtmidi's module, its number for the system, and the system's short name."""
        super().__init__(rtmidi, api, word)
        self._held: dict[Direction, dict[str, RtReceivePort | RtSendPort]] = {direction: {} for direction in Direction}
        self._listed: dict[Direction, tuple[str, ...]] = {}
        self._unsure: set[tuple[Direction, str]] = set()  # bare names of which one port has left while another is open

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Return the names by which its ports are known.

        If ports have swapped places, one was gone and is back: all open ports then count as disconnected.
        """
        bare = bare_names(self._raw(direction), self.word)
        named = tuple(name for name in bare if name)
        before, held = self._listed.get(direction, ()), self._held[direction]
        if in_another_order(before, named):
            for port in held.values():
                port.link = _is_disconnected
        self._listed[direction] = named
        in_use = {bare_of(name, bare) for name in held}
        self._unsure |= {(direction, name) for name in in_use if named.count(name) < before.count(name)}
        self._unsure -= {one for one in self._unsure if one[0] is direction and one[1] not in in_use}
        return known_as(bare, held)

    def _places(self, direction: Direction, name: str, raw: Sequence[str]) -> tuple[int, ...]:
        """Return the places of the ports of this bare name, likeliest first.

        If one of several alike has left while another was open, nothing says which one remains. Windows refuses to open
        a port twice, so all can be tried; macOS does not refuse, so none is opened.
        """
        bare = bare_names(raw, self.word)
        if self.word != "winmm" and (direction, bare_of(name, bare)) in self._unsure:
            raise PortRefused("another port of this name is in use, and the system cannot tell them apart")
        return places_of(name, bare)

    def _label(self, label: str) -> str:
        """Return the label in ASCII: RtMidi expects that on macOS, and crashes on anything else.

        RtMidi.cpp, MidiInCore::openPort: CFStringCreateWithCString(..., kCFStringEncodingASCII), then CFRelease.
        """
        return label.encode("ascii", "replace").decode()

    def _opened(self, port: RtReceivePort | RtSendPort, direction: Direction, name: str, before: Links | None) -> None:
        del before
        held = self._held[direction]
        held[name] = port
        port.closed = lambda: held.pop(name, None)


def _is_disconnected() -> bool:
    """Report a port as disconnected, until it is opened again."""
    return False


def _names_of(port: Any, error: type[Exception]) -> list[str]:  # noqa: ANN401 - untyped
    """Return the names by place; "" for a port without a name, and for one that disappears during the scan.

    A port may have no name (RtMidi issue 376, python-rtmidi issue 21): it is None then.
    """
    names = []
    for place in range(port.get_port_count()):
        try:
            names.append(port.get_port_name(place, _UTF8) or "")
        except error:
            names.append("")
    return names
