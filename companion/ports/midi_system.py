"""The computer's MIDI system, through RtMidi: which one it is, what it lists, and ports opened on it.

RtMidi is imported here and nowhere else. All of a system but ``Wire.send`` belongs to one thread, the one that called
``begin``: macOS tells of new devices only there.
"""

import os
import sys
import warnings
from collections.abc import Sequence
from typing import Any, Final

from companion.ports.arrivals import Direction
from companion.ports.names import CLIENT
from companion.ports.outside import Came, Ear, Health, MidiSystem, PortRefused, Wire
from companion.ports.wires import RtEar, RtWire

ENVIRONMENT: Final = "COMPANION_MIDI_API"
NO_SYSTEM: Final = "none"
ALSA_SEQUENCER: Final = "/dev/snd/seq"


def open_system(preferred: str | None = None) -> MidiSystem | None:
    """Give the MIDI system to use, or None where there is none (a dry run). Never raises.

    ``preferred`` or else the variable COMPANION_MIDI_API may name one: alsa, core, jack, winmm, or none. A word that
    this computer does not know counts as if nothing was said. Without one it is the platform's own; on Linux ALSA's
    sequencer where it is there, else JACK, whose server may come later.
    """
    chosen = (preferred or os.environ.get(ENVIRONMENT, "")).strip().lower()
    if chosen == NO_SYSTEM:
        return None
    try:
        import rtmidi  # noqa: PLC0415 - a dry run works without it
    except ImportError:
        return None
    compiled = tuple(rtmidi.get_api_name(api) for api in rtmidi.get_compiled_api())
    word = which_system(chosen, compiled, alsa_is_there=os.access(ALSA_SEQUENCER, os.R_OK | os.W_OK))
    if word is None:
        return None
    # RtMidi's lesser worries come as Python warnings; on a terminal on stage they help nobody.
    warnings.filterwarnings("ignore", message=r"Midi(In|Out)", category=UserWarning)
    api = rtmidi.get_compiled_api_by_name(word)
    if word != "jack":
        return RtMidiSystem(rtmidi, api, word)
    return _jack(rtmidi)


def _jack(rtmidi: Any) -> MidiSystem | None:  # noqa: ANN401 - untyped
    from companion.ports.jack_server import JackServer  # noqa: PLC0415 - ctypes, 4 ms, for JACK alone
    from companion.ports.jack_system import JackSystem  # noqa: PLC0415

    try:
        return JackSystem(rtmidi, JackServer(sys.modules[rtmidi.MidiIn.__module__].__file__ or ""))
    except (OSError, AttributeError, TypeError):
        return None  # without JACK's own word on its server's health, a dead one would hang the show


def which_system(chosen: str, compiled: Sequence[str], *, alsa_is_there: bool) -> str | None:
    """Choose among the systems that RtMidi was built with.

    >>> which_system("", ("alsa", "jack"), alsa_is_there=False)
    'jack'
    """
    if chosen in compiled:
        return chosen
    usable = [word for word in compiled if word != "dummy" and (word != "alsa" or alsa_is_there)]
    return next((word for word in ("core", "winmm", "alsa", "jack") if word in usable), None)


class RtMidiSystem:
    """A MIDI system that RtMidi alone can serve, and that does not go away: ALSA's sequencer, Core MIDI, Windows."""

    def __init__(self, rtmidi: Any, api: int, word: str) -> None:  # noqa: ANN401 - untyped
        self.word = word
        self._rtmidi = rtmidi
        self._api = api
        self._listers: dict[Direction, Any] = {}

    def begin(self) -> None:
        """Make this thread's run loop the one that macOS tells of new devices."""
        for direction in Direction:
            self.listed(direction)

    def health(self) -> Health:
        """Tell that it is well."""
        return Health.WELL

    def find_again(self) -> bool:
        """Find it where it always is."""
        return True

    def listed(self, direction: Direction) -> tuple[str, ...]:
        """Give the names as the system lists them; none where a port goes away meanwhile."""
        try:
            if direction not in self._listers:
                kind = self._rtmidi.MidiIn if direction is Direction.IN else self._rtmidi.MidiOut
                self._listers[direction] = kind(self._api, name=CLIENT)
            return _names_of(self._listers[direction])
        except self._rtmidi.RtMidiError:
            return ()

    def prepare(self, ports: Sequence[tuple[Direction, str]], *, sysex: bool, clock: bool) -> None:
        """Do nothing: a port is opened quickly here."""

    def open_ear(self, name: str, label: str, came: Came, *, sysex: bool, clock: bool) -> Ear:
        """Open a port for hearing. Active sensing is ignored always, the rest unless it is asked for."""
        try:
            port = self._rtmidi.MidiIn(self._api, name=CLIENT)
            port.ignore_types(sysex=not sysex, timing=not clock, active_sense=True)
            ear = RtEar(port, came)
            self._connect(port, name, label)
        except self._rtmidi.RtMidiError as refusal:
            raise PortRefused(str(refusal)) from refusal
        return ear

    def open_wire(self, name: str, label: str) -> Wire:
        """Open a port for sending."""
        try:
            port = self._rtmidi.MidiOut(self._api, name=CLIENT)
            self._connect(port, name, label)
        except self._rtmidi.RtMidiError as refusal:
            raise PortRefused(str(refusal)) from refusal
        return RtWire(port, self._rtmidi.RtMidiError)

    def end(self) -> None:
        """Close what only listed."""
        for lister in self._listers.values():
            lister.delete()
        self._listers.clear()

    def _connect(self, port: Any, name: str, label: str) -> None:  # noqa: ANN401 - untyped
        """Open by name; RtMidi opens by place in the list, which may have moved in between."""
        before = _names_of(port)
        if name in before:
            place = before.index(name)
            port.open_port(place, name=label)
            if _names_of(port)[place : place + 1] == (name,):
                return
        port.delete()
        raise PortRefused("it has just gone")


def _names_of(port: Any) -> tuple[str, ...]:  # noqa: ANN401 - untyped
    return tuple(port.get_ports())
