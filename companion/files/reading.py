"""One file while it is read: its faults so far, its warnings, and where each value of the model stood."""

import os
from typing import Generic, TypeVar

import msgspec

from companion.errors import Fault, FaultyFile
from companion.files.nodes import Node, Source, Table, Text, place_within
from companion.files.opening import open_source
from companion.files.parsing import MOST_FAULTS, parse

T = TypeVar("T")
Path = str | os.PathLike[str]


class Places:
    """Where each struct that was read stood in its file, so that a later check can point at it."""

    def __init__(self) -> None:
        # By identity, since two songs may be equal; the struct is kept too, so that its identity stays taken.
        self._nodes: dict[int, tuple[object, Node]] = {}

    def keep(self, struct: object, node: Node) -> None:
        """Remember that ``struct`` was read from ``node``."""
        self._nodes[id(struct)] = (struct, node)

    def move(self, struct: object, changed: object) -> None:
        """Return a struct made from another one by ``msgspec.structs.replace`` that one's place."""
        if id(struct) in self._nodes:
            self._nodes[id(changed)] = (changed, self._nodes[id(struct)][1])

    def node(self, struct: object, *keys: str) -> Node | None:
        """Return the node of a struct, or of what stands behind its keys (as in the file), as far as they lead."""
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
        """Make a fault that points at a struct, or at the value behind its keys; at ``path`` where nothing is known."""
        node = self.node(struct, *keys)
        if node is None:
            return Fault(path, 0, 0, problem, write)
        return Fault(node.source.path, node.line, node.column, problem, write)


class Reading:
    """Collects what is wrong while a file is read, and keeps the places of what is right."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.warnings: list[Fault] = []
        self.places = Places()

    def fault(self, node: Node, problem: str, write: str = "", offset: int = 0) -> None:
        """Note a fault at a node, or at the character ``offset`` (from 0) of a text.

        Raises FaultyFile where there are more of them than anybody would read.
        """
        self.faults.append(_fault(node, problem, write, offset))
        if len(self.faults) >= MOST_FAULTS:
            self.faults.append(
                _fault(node, "reading ends here, behind so many faults", "the faults above right first", 0)
            )
            self.finish()

    def warn(self, node: Node, problem: str, write: str = "", offset: int = 0) -> None:
        """Note what is allowed and probably not meant."""
        self.warnings.append(_fault(node, problem, write, offset))

    def finish(self) -> None:
        """Raise FaultyFile with all faults, where there are any."""
        if self.faults:
            raise FaultyFile(tuple(set(self.faults)))  # what a label repeats is told once

    def open(self, path: Path) -> Node:
        """Open and parse a file; what YAML forgives and we do not is noted. Raises FaultyFile where it cannot go on."""
        return parse(open_source(path), self.faults)


class Read(msgspec.Struct, Generic[T], frozen=True):
    """What was read from a file, its text, where it stood there, and what is probably not meant."""

    value: T
    source: Source
    places: Places
    warnings: tuple[Fault, ...] = ()


def _fault(node: Node, problem: str, write: str, offset: int) -> Fault:
    line, column = node.line, node.column
    if offset and isinstance(node, Text):
        line, column = place_within(node, offset)
    return Fault(node.source.path, line, column, problem, write)
