"""From text to nodes, through YAML's event stream: bounded in depth, aliases and size, and strict.

Our own loop reads the stream, so each value keeps its place and a hostile file cannot make us build large structures:
nesting is refused at the 33rd level, and repeats through aliases are counted, not copied.
"""

from collections.abc import Callable
from typing import Any, NoReturn

import yaml

from companion.errors import Fault, FaultyFile
from companion.files.nearest import shown
from companion.files.nodes import Items, Node, SourceFile, Table, Text

LIMIT_DEPTH = 32  # a show is ten levels deep
MAX_FAULTS = 1000  # in one file; then reading stops
LIMIT_NODES = 200_000  # a full file of 1 MiB has about 90,000


def parse(source: SourceFile, faults: list[Fault]) -> Node:
    """Read the one YAML document of a file. Recoverable faults go to ``faults``; others raise FaultyFile."""
    return _Tree(source, faults).grown()


class _Open:
    """An open table or list. ``key`` waits for its value; ``weight`` counts nodes, including repeats by alias."""

    __slots__ = ("anchor", "braces", "column", "entries", "height", "key", "line", "nodes", "weight")

    def __init__(self, event: Any, *, table: bool) -> None:  # noqa: ANN401  PyYAML's events have no types
        mark = event.start_mark
        self.line: int = mark.line + 1
        self.column: int = mark.column + 1
        self.anchor: str | None = event.anchor
        self.braces = bool(event.flow_style)
        self.entries: dict[str, tuple[Text, Node]] | None = {} if table else None
        self.nodes: list[Node] = []
        self.key: Text | None = None
        self.weight = 1
        self.height = 1


class _Anchored:
    """A node that an alias may repeat."""

    __slots__ = ("height", "node", "used", "weight")

    def __init__(self, node: Node, weight: int, height: int) -> None:
        self.node = node
        self.weight = weight
        self.height = height
        self.used = False


class _Tree:
    """Builds the nodes of one file."""

    def __init__(self, source: SourceFile, faults: list[Fault]) -> None:
        self.source = source
        self.faults = faults
        self.open: list[_Open] = []
        self.anchors: dict[str, _Anchored] = {}
        self.root: Node | None = None
        self.weight = 0
        self.documents = 0

    def grown(self) -> Node:
        """Read all events; return the root."""
        directive = _directive_line(self.source.text)
        if directive:
            self.stop(directive, 1, "a line cannot begin with %", "quotes around the value that begins with %")
        takes: dict[type, Callable[[Any], None]] = {
            yaml.ScalarEvent: self.scalar,
            yaml.MappingStartEvent: self.table_opens,
            yaml.SequenceStartEvent: self.list_opens,
            yaml.MappingEndEvent: self.closes,
            yaml.SequenceEndEvent: self.closes,
            yaml.AliasEvent: self.alias,
            yaml.DocumentStartEvent: self.document,
            yaml.DocumentEndEvent: _ignore,
            yaml.StreamStartEvent: _ignore,
        }
        try:
            parser: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)(self.source.text)  # slow without libyaml
            while (event := parser.get_event()) is not None and type(event) is not yaml.StreamEndEvent:
                takes[type(event)](event)
        except yaml.YAMLError as error:
            from companion.files.syntax import yaml_fault  # noqa: PLC0415  only a fault needs it

            last = yaml_fault(error, self.source)
            before = [fault for fault in self.faults if (fault.line, fault.column) != (last.line, last.column)]
            raise FaultyFile((*before, last)) from None
        if self.root is None:
            self.stop(0, 0, "there is nothing in this file", "a first line, such as key: value")
        for name, anchored in self.anchors.items():
            if not anchored.used:
                node = anchored.node
                problem = f"YAML reads &{name} at the start of a value as a label and drops it"
                self.fault(node.line, node.column, problem, f'"&{name} ..." in quotes')
        return self.root

    def scalar(self, event: Any) -> None:  # noqa: ANN401
        """Add a scalar."""
        mark = event.start_mark
        text = Text(event.value, self.source, mark.line + 1, mark.column + 1, event.style or "")
        if event.tag is not None:
            self.tagged(text, event.tag)
        if event.anchor is not None:
            self.anchors[event.anchor] = _Anchored(text, 1, 0)
        self.add(text, 1, 0)

    def table_opens(self, event: Any) -> None:  # noqa: ANN401
        """Open a table."""
        self.opens(_Open(event, table=True), event.tag)

    def list_opens(self, event: Any) -> None:  # noqa: ANN401
        """Open a list."""
        self.opens(_Open(event, table=False), event.tag)

    def opens(self, level: _Open, tag: str | None) -> None:
        """Open a table or list."""
        self.open.append(level)
        if len(self.open) > LIMIT_DEPTH:
            self.stop(level.line, level.column, f"nested deeper than {LIMIT_DEPTH} levels", "fewer brackets or indents")
        if tag is not None:
            self.tagged(level, tag)

    def closes(self, _event: object) -> None:
        """Close the open table or list: it becomes a node."""
        level = self.open.pop()
        node: Node
        if level.entries is None:
            node = Items(tuple(level.nodes), self.source, level.line, level.column)
        else:
            node = Table(level.entries, self.source, level.line, level.column, level.braces)
        if level.anchor is not None:
            self.anchors[level.anchor] = _Anchored(node, level.weight, level.height)
        self.add(node, level.weight, level.height)

    def alias(self, event: Any) -> None:  # noqa: ANN401
        """Repeat a node. It counts with its full weight, as if written out again."""
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        known = self.anchors.get(event.anchor)
        if known is None:
            problem = f"YAML reads *{event.anchor} as a label, and no such label is set"
            self.fault(line, column, problem, f'"*{event.anchor}" in quotes')
            known = _Anchored(Text("", self.source, line, column), 1, 0)
        known.used = True
        if len(self.open) + known.height > LIMIT_DEPTH:
            self.stop(line, column, f"labels nest this deeper than {LIMIT_DEPTH} levels", "it without labels")
        self.weight += known.weight - 1
        self.add(known.node, known.weight, known.height)

    def add(self, node: Node, weight: int, height: int) -> None:
        """Add a finished node to the open table or list."""
        self.weight += 1
        if self.weight > LIMIT_NODES:
            self.stop(
                node.line, node.column, f"more than {LIMIT_NODES:,} values, counting those that labels repeat", "less"
            )
        if not self.open:
            self.root = node
            return
        level = self.open[-1]
        level.weight += weight
        if height >= level.height:
            level.height = height + 1
        if level.entries is None:
            level.nodes.append(node)
        elif level.key is not None:
            level.entries.setdefault(level.key.text, (level.key, node))
            level.key = None
        else:
            level.key = self.as_key(node, level.entries)

    def as_key(self, node: Node, entries: dict[str, tuple[Text, Node]]) -> Text:
        """Use a node as the table's next key."""
        if not isinstance(node, Text):
            problem = "a key is a word, not a list or a table"
            self.fault(node.line, node.column, problem, "quotes around a text that begins with [ or {")
            return Text("", self.source, node.line, node.column)
        if node.text in entries:
            first = entries[node.text][0].line
            self.fault(node.line, node.column, f"{shown(node.text)} is here twice, first on line {first}", "it once")
        return node

    def document(self, event: Any) -> None:  # noqa: ANN401
        """Accept one document, but no second."""
        self.documents += 1
        if self.documents > 1:
            line = event.start_mark.line + 1
            self.stop(line, 1, "a second document begins here (---)", "one file for each")

    def tagged(self, place: _Open | Text, tag: str) -> None:
        """Refuse a tag: it would override the key's own type."""
        problem = f"{shown(tag)} is read as a YAML tag, and tags are not allowed"
        self.fault(place.line, place.column, problem, "quotes around a value that begins with !")

    def fault(self, line: int, column: int, problem: str, write: str) -> None:
        """Note a fault after which reading can continue."""
        self.faults.append(Fault(self.source.path, line, column, problem, write))
        if len(self.faults) >= MAX_FAULTS:
            self.stop(line, column, "too many faults: reading stops here", "the faults above right first")

    def stop(self, line: int, column: int, problem: str, write: str) -> NoReturn:
        """Stop reading with a fault."""
        raise FaultyFile((*self.faults, Fault(self.source.path, line, column, problem, write)))


def _directive_line(text: str) -> int:
    """Return the first line that begins with %, except ``%YAML`` on line 1: libyaml takes quadratic time for many."""
    start = text.find("\n%")
    if start >= 0:
        return text.count("\n", 0, start) + 2
    return 1 if text.startswith("%") and not text.startswith("%YAML ") else 0


def _ignore(_event: object) -> None:
    """Ignore an event without content."""
