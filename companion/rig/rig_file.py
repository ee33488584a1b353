"""The reader of rig files. It reports all faults of a file at once."""

import os
from typing import Any, Final, TypeVar

import msgspec

from companion.errors import Fault
from companion.files import Form, Node, Places, Reading, SourceFile, ValueKind, read_file, schema_of
from companion.rig.clashes import clashes
from companion.rig.controllers import CONTROLLER
from companion.rig.model import Rig
from companion.rig.read_keyboards import CHANNEL, KEYBOARDS, NAME, PORT, behind, is_written
from companion.rig.read_pedals import KEY, NOTE, PEDALS, SCREEN, SUSTAINS

_ON_THE_WIRE: Final[dict[str, ValueKind[Any]]] = {
    "port": PORT,
    "channel": CHANNEL,
    "control": CONTROLLER,
    "note": NOTE,
    "key": KEY,
}


S = TypeVar("S", bound=msgspec.Struct)


class ReadRig(msgspec.Struct, frozen=True):
    """A rig with its source text, the place of each part in it, and warnings."""

    rig: Rig
    source: SourceFile
    places: Places
    warnings: tuple[Fault, ...] = ()


def read_rig(path: str | os.PathLike[str]) -> ReadRig:
    """Read a rig file. Raises FaultyFile with all its faults."""
    read = read_file(path, RIG)
    return ReadRig(read.value, read.source, read.places, read.warnings)


def rig_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of a rig file, for editors that complete and check as you type."""
    return schema_of(RIG, "A rig: the keyboards, pedals and screen of one place")


def _rig(values: dict[str, Any], node: Node, reading: Reading) -> Rig:
    rig = Rig(**values)
    known = msgspec.structs.replace(
        rig,
        keyboards=_readable(rig.keyboards, reading.places),
        pedals=_readable(rig.pedals, reading.places),
        sustain=_readable(rig.sustain, reading.places),
    )
    for clash in clashes(known):
        note = reading.warn if clash.is_likely else reading.fault
        note(behind(reading.places.node(clash.of) or node, clash.key), clash.problem, clash.write)
    return rig


def _readable(structs: tuple[S, ...], places: Places) -> tuple[S, ...]:
    """Leave out parts whose port or channel could not be read: their defaults would report false conflicts."""

    def is_read(table: Node, key: str) -> bool:
        return not is_written(table, key) or _ON_THE_WIRE[key].read(behind(table, key), Reading()) is not None

    return tuple(
        struct
        for struct in structs
        if (table := places.node(struct)) and all(is_read(table, key) for key in _ON_THE_WIRE)
    )


RIG: Final = Form(
    Rig,
    "a rig",
    {
        "rig": NAME.into("name"),
        "keyboards": KEYBOARDS,
        "sustain": SUSTAINS,
        "pedals": PEDALS,
        "screen": SCREEN,
        "clock_from": PORT,
    },
    build=_rig,
)
