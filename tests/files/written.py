"""Builders for the tests of reading: a text as a file's content, its nodes, its faults as lines."""

from typing import Any

from companion.errors import Fault, FaultyFile
from companion.files import Node, Reading, SourceFile, Table, Text, ValueKind, parse

PATH = "a.yaml"


def nodes(text: str) -> Node:
    """Return the nodes of a text that has no fault."""
    faults: list[Fault] = []
    node = parse(SourceFile(PATH, text), faults)
    assert not faults, faults
    return node


def value(text: str, key: str = "a") -> Text:
    """Return the text that stands behind a key."""
    table = nodes(text)
    assert isinstance(table, Table)
    behind = table.entries[key][1]
    assert isinstance(behind, Text)
    return behind


def faults_of(text: str, kind: ValueKind[Any] | None = None) -> list[str]:
    """Return the faults of a text, in line order, without its path; as a kind reads it, if one is given."""
    reading = Reading()
    try:
        node = parse(SourceFile(PATH, text), reading.faults)
        if kind is not None:
            kind.read(node, reading)
        reading.finish()
    except FaultyFile as error:
        return [str(fault).removeprefix(f"{PATH}:") for fault in error.faults]
    return []
