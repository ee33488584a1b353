"""The system's MIDI ports as a player reads them: by name, how to write each in a rig file, what the rig uses it for.

Pure: the names come in as the system lists them.
"""

import re
from collections.abc import Iterable, Sequence
from typing import Final

import msgspec

from companion.ports import THE_ONE_THERE_IS, Direction, find, is_ours, why_not
from companion.ports.port_names import is_loop, is_software_synth, spelt_without_numbers
from companion.rig import Rig

SYSTEMS: Final = {
    "alsa": "ALSA's sequencer (Linux)",
    "core": "Core MIDI (macOS)",
    "jack": "JACK",
    "winmm": "Windows multimedia",
}
NO_SYSTEM: Final = "none available: the terminal shows what would be sent (a dry run)"
_PIECES: Final = re.compile(r"[:()\[\]]")
_NOT_A_NAME: Final = frozenset(("a2j", "capture", "playback", "system"))  # names of bridges and servers, not of devices
_SHORTEST: Final = 3  # letters; a shorter piece would soon match another port


class PortLine(msgspec.Struct, frozen=True):
    """One port of the system. ``write`` is what finds it after ``port:`` in a rig file.

    ``numbered``: only the full name distinguishes it from another port, and the number may change at the next plugging.
    ``loops``: no instrument behind it; it returns what it receives. ``software``: the system's own synthesizer.
    """

    name: str
    direction: Direction
    write: str
    used_for: tuple[str, ...] = ()
    numbered: bool = False
    loops: bool = False
    software: bool = False


class NotFound(msgspec.Struct, frozen=True):
    """What the rig needs a port for, the rig's word for it, and why no port of the system is it."""

    used_for: str
    port: str
    direction: Direction
    why: str


class PortList(msgspec.Struct, frozen=True):
    """All ports there are. ``system`` is the MIDI system's short name, None for none; ``trouble`` is its own."""

    system: str | None
    ports: tuple[PortLine, ...] = ()
    trouble: str = ""
    rig: str | None = None
    not_found: tuple[NotFound, ...] = ()


class Use(msgspec.Struct, frozen=True):
    """One thing that a rig needs a port for. ``needed``: the night suffers without it."""

    port: str
    direction: Direction
    what: str
    needed: bool = True


def uses_of(rig: Rig) -> tuple[Use, ...]:
    """Return what a rig needs ports for: keyboards to send to and to hear, pedals and the player's own sustain."""
    outs = tuple(
        Use(board.port or THE_ONE_THERE_IS, Direction.OUT, f"{board.name}, channel {board.channel}")
        for board in rig.keyboards
    )
    hands = tuple(
        Use(board.port, Direction.IN, f"the hands on {board.name}", needed=False)
        for board in rig.keyboards
        if board.port
    )
    pedals = tuple(
        Use(pedal.port, Direction.IN, f"pedal {pedal.name}: {pedal.press.value}") for pedal in rig.pedals if pedal.port
    )
    sustains = tuple(
        Use(sustain.port, Direction.IN, f"your own sustain on {sustain.port}: never a step") for sustain in rig.sustain
    )
    return (*outs, *pedals, *sustains, *hands)


def port_list(system: str | None, inputs: Sequence[str], outputs: Sequence[str], rig: Rig | None = None) -> PortList:
    """List each port of the system and what the rig uses it for, by the same rule as on stage."""
    listed = {Direction.IN: tuple(inputs), Direction.OUT: tuple(outputs)}
    used: dict[tuple[Direction, str], list[str]] = {}
    not_found = []
    for use in uses_of(rig) if rig else ():
        names = listed[use.direction]
        match = find(use.port, names, system or "")
        if match.name is not None:
            used.setdefault((use.direction, match.name), []).append(use.what)
        elif use.needed:
            why = why_not(use.port, match, names, f"{use.direction.value}put")
            not_found.append(NotFound(use.what, use.port, use.direction, why))
    ports = tuple(
        _line(name, direction, names, system or "", tuple(used.get((direction, name), ())))
        for direction, names in listed.items()
        for name in names
        if not is_ours(name)
    )
    return PortList(system, ports, rig=rig.name if rig else None, not_found=tuple(not_found))


def word_for(name: str, listed: Sequence[str], system: str) -> str:
    """Return the shortest piece of a port's name that means this port and no other; else the whole name.

    >>> word_for("Stage Piano:Stage Piano MIDI 1 24:0", ["Stage Piano:Stage Piano MIDI 1 24:0"], "alsa")
    'Stage Piano'
    """
    spelt = " ".join(spelt_without_numbers(name, system).split())
    pieces = (piece.strip() for piece in _PIECES.split(spelt))
    named = [piece for piece in pieces if len(piece) >= _SHORTEST and piece.casefold() not in _NOT_A_NAME]
    for word in (*named, spelt):
        if find(word, listed, system).name == name:
            return word
    return name


def lines(listed: PortList) -> Iterable[str]:
    """Yield the list as terminal lines."""
    yield f"MIDI system: {SYSTEMS.get(listed.system, listed.system) if listed.system else NO_SYSTEM}"
    if listed.trouble:
        yield f"  {listed.trouble}"
    for direction in Direction:
        ports = [port for port in listed.ports if port.direction is direction]
        yield f"{'inputs' if direction is Direction.IN else 'outputs'}:" + ("" if ports else " none")
        for port in ports:
            yield f'  "{port.name}"'
            yield f"      {_how(port)}"
            yield from (f"      {listed.rig}: {what}" for what in port.used_for)
    if listed.not_found:
        yield f"{listed.rig} does not find:"
    for missing in listed.not_found:
        yield f"  {missing.used_for}: {missing.why.partition('; available: ')[0]}"  # listed above


def _line(name: str, direction: Direction, listed: Sequence[str], system: str, used_for: tuple[str, ...]) -> PortLine:
    if is_loop(name):
        return PortLine(name, direction, name, used_for, loops=True)
    if is_software_synth(name):
        return PortLine(name, direction, name, used_for, software=True)
    write = word_for(name, listed, system)
    return PortLine(name, direction, write, used_for, numbered=write == name != spelt_without_numbers(name, system))


def _how(port: PortLine) -> str:
    if port.loops:
        return "returns what it receives: no instrument is behind it"
    if port.software:
        return f"the system's own synthesizer, used only where the rig says port: {as_yaml(port.write)}"
    if port.numbered:
        return f'write port: "{port.write}" (another port shares this name; its numbers may change)'
    return f"write port: {as_yaml(port.write)}"


def as_yaml(word: str) -> str:
    """Return a word, quoted where YAML needs it, also inside braces."""
    return f'"{word}"' if re.search(r"[^\w .+-]|^[^\w]|\s$", word) else word
