"""The rig file: what may stand in it, and from it to a rig. All faults of a file are told at once."""

import os
from typing import Any, Final

import msgspec

from companion.errors import Fault
from companion.files import Form, Node, Places, Reading, read_file, schema_of
from companion.rig.clashes import clashes
from companion.rig.model import Rig
from companion.rig.read_keyboards import KEYBOARDS, NAME, behind
from companion.rig.read_pedals import PEDALS, SCREEN, SUSTAINS


class ReadRig(msgspec.Struct, frozen=True):
    """A rig, where each part of it stood in its file, and what there is probably not meant."""

    rig: Rig
    places: Places
    warnings: tuple[Fault, ...] = ()


def read_rig(path: str | os.PathLike[str]) -> ReadRig:
    """Read a rig file. Raises FaultyFile with all that is wrong in it."""
    read = read_file(path, RIG)
    return ReadRig(read.value, read.places, read.warnings)


def rig_schema() -> dict[str, Any]:
    """Make the JSON Schema (2020-12) of a rig file, for editors that complete and check it as it is typed."""
    return schema_of(RIG, "A rig: the keyboards, pedals and screen of one place")


def _rig(values: dict[str, Any], node: Node, reading: Reading) -> Rig:
    rig = Rig(**values)
    for clash in clashes(rig):
        note = reading.warn if clash.is_likely else reading.fault
        note(behind(reading.places.node(clash.of) or node, clash.key), clash.problem, clash.write)
    return rig


RIG: Final = Form(
    Rig,
    "a rig",
    {"rig": NAME.into("name"), "keyboards": KEYBOARDS, "sustain": SUSTAINS, "pedals": PEDALS, "screen": SCREEN},
    build=_rig,
)
