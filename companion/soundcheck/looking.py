"""Ask the system which MIDI system it has, and which ports are connected."""

import msgspec

from companion.ports import Direction, Health, MidiSystem, open_system
from companion.rig import Rig
from companion.soundcheck.port_list import PortList, port_list


class Listed(msgspec.Struct, frozen=True):
    """The names of all ports, as the system lists them. ``system``: its short name, or None."""

    system: str | None = None
    inputs: tuple[str, ...] = ()
    outputs: tuple[str, ...] = ()
    trouble: str = ""


def look(system: MidiSystem | None) -> Listed:
    """List the ports once; none without a MIDI system."""
    if system is None:
        return Listed()
    system.begin()
    try:
        trouble = system.gone if system.health() is Health.GONE else ""
        return Listed(system.word, system.listed(Direction.IN), system.listed(Direction.OUT), trouble)
    finally:
        system.end()


def ports_now(rig: Rig | None = None) -> PortList:
    """Return the ports of this computer."""
    listed = look(open_system())
    found = port_list(listed.system, listed.inputs, listed.outputs, rig)
    return msgspec.structs.replace(found, trouble=listed.trouble)
