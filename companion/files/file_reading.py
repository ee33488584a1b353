"""The state of reading one file: faults and warnings so far, and the place of each value of the model."""

import os
from typing import Generic, TypeVar

import msgspec

from companion.errors import Fault, FaultyFile
from companion.files.nodes import Node, SourceFile, Table, Text, place_within
from companion.files.parsing import MAX_FAULTS, parse
from companion.files.text_file import open_source

T = TypeVar("T")
Path = str | os.PathLike[str]


class Places:
    """The place of each struct in its file, so that a later check can point at it."""

    def __init__(self) -> None:
        # Keyed by identity, because two songs may be equal; keeping the struct keeps its id in use.
        self._nodes: dict[int, tuple[object, Node]] = {}

    def keep(self, struct: object, node: Node) -> None:
        """Remember that ``struct`` was read from ``node``."""
        self._nodes[id(struct)] = (struct, node)

    def move(self, struct: object, changed: object) -> None:
        """Record that ``msgspec.structs.replace`` made a struct from another one, so that it has that one's place."""
        if id(struct) in self._nodes:
            self._nodes[id(changed)] = (changed, self._nodes[id(struct)][1])

    def node(self, struct: object, *keys: str) -> Node | None:
        """Return the node of a struct, or of the value after these keys of the file, as far as they exist."""
        kept = self._nodes.get(id(struct))
        if kept is None:
            return None
        node = kept[1]
        for key in keys:
            if not isinstance(node, Table) or key not in node.entries:
                break
            node = node.entries[key][1]
        return node

    def fault(self, struct: object, *keys: str, problem: str, write: str = "", path: str = "") -> Fault:
        """Return a fault at a struct or at the value after its keys; at ``path`` alone if the place is unknown."""
        node = self.node(struct, *keys)
        if node is None:
            return Fault(path, 0, 0, problem, write)
        return Fault(node.source.path, node.line, node.column, problem, write)


class Reading:
    """Collects faults and warnings while a file is read, and keeps the places of its structs."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.warnings: list[Fault] = []
        self.places = Places()

    def fault(self, node: Node, problem: str, write: str = "", offset: int = 0) -> None:
        """Note a fault at a node, or at the character ``offset`` (from 0) of a text.

        Raises FaultyFile when there are too many to read.
        """
        self.faults.append(_fault(node, problem, write, offset))
        if len(self.faults) >= MAX_FAULTS:
            self.faults.append(_fault(node, "too many faults: reading stops here", "the faults above right first", 0))
            self.finish()

    def warn(self, node: Node, problem: str, write: str = "", offset: int = 0) -> None:
        """Note something allowed but probably not meant."""
        self.warnings.append(_fault(node, problem, write, offset))

    def finish(self) -> None:
        """Raise FaultyFile with all faults, if there are any."""
        if self.faults:
            raise FaultyFile(tuple(set(self.faults)))  # a repeat by label is reported once

    def open(self, path: Path) -> Node:
        """Open and parse a file; note what YAML allows but we do not. Raises FaultyFile if reading cannot continue."""
        return parse(open_source(path), self.faults)


class Read(msgspec.Struct, Generic[T], frozen=True):
    """The value read from a file, with its source text, places and warnings."""

    value: T
    source: SourceFile
    places: Places
    warnings: tuple[Fault, ...] = ()


def _fault(node: Node, problem: str, write: str, offset: int) -> Fault:
    line, column = node.line, node.column
    if offset and isinstance(node, Text):
        line, column = place_within(node, offset)
    return Fault(node.source.path, line, column, problem, write)
