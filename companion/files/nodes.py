"""The raw content of a file: texts, tables and lists, each with its place.

Every scalar is the text that the player typed: ``no`` is the text "no", ``010`` the text "010", ``3:40`` the text
"3:40", quoted or not. Its key decides what a text means (see ``kinds.py``), never YAML.

Lines and columns count from 1, in characters, as an editor shows them.
"""

import itertools
import re
from collections.abc import Iterator, Mapping
from typing import Any

import msgspec

BREAKS = "\r\n|[\r\n\x85\u2028\u2029]"  # libyaml's line breaks (YAML 1.1, 5.4)


class SourceFile:
    """The file of a node: its path as the player gave it, and its text."""

    __slots__ = ("_lines", "path", "text")

    def __init__(self, path: str, text: str) -> None:
        """Keep the text; it is split into lines on first use."""
        self.path = path
        self.text = text
        self._lines: list[str] | None = None

    @property
    def lines(self) -> list[str]:
        """Return all lines, without line breaks."""
        if self._lines is None:
            self._lines = re.split(BREAKS, self.text)
        return self._lines

    def line(self, number: int) -> str:
        """Return line ``number`` (from 1) without its line break; "" past the last."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""


class Text(msgspec.Struct, frozen=True, gc=False):
    """A scalar, as typed. ``style`` is its quoting: "", ``'``, ``"``, ``|`` or ``>``."""

    text: str
    source: SourceFile
    line: int
    column: int
    style: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether the value is missing: ``key:`` with nothing after it."""
        return not self.text and not self.style


class Items(msgspec.Struct, frozen=True):
    """A list."""

    nodes: "tuple[Node, ...]"
    source: SourceFile
    line: int
    column: int


class Table(msgspec.Struct, frozen=True):
    """Keys and values in written order; keys are unique. ``braces``: written as ``{a: 1}``."""

    entries: "Mapping[str, tuple[Text, Node]]"
    source: SourceFile
    line: int
    column: int
    braces: bool = False


Node = Text | Items | Table


def plainly(node: Node) -> Any:  # noqa: ANN401  nested lists and dicts of texts
    """Return a node as tables, lists and texts, without places."""
    if isinstance(node, Table):
        return {key: plainly(behind) for key, (_, behind) in node.entries.items()}
    return [plainly(one) for one in node.nodes] if isinstance(node, Items) else node.text


def place_within(text: Text, offset: int) -> tuple[int, int]:
    r"""Return line and column of the character ``offset`` (from 0) of a text, even if it is quoted or folded.

    >>> page = SourceFile("a.yaml", 'road_map: "Intro 4, \\u00c9tude 8"')
    >>> place_within(Text("Intro 4, Étude 8", page, 1, 11, '"'), 15)
    (1, 32)
    """
    start = text.column + (1 if text.style else 0)
    if text.style not in ("|", ">") and text.source.line(text.line)[start - 1 :].startswith(text.text):
        return text.line, start + offset
    return next(itertools.islice(walk(text), offset, None), (text.line, text.column))


def walk(text: Text) -> Iterator[tuple[int, int]]:
    """Yield the place of each character of a text, and of its end, as typed."""
    line, column = text.line, text.column - 1
    if text.style in ("|", ">"):
        line, column = line + 1, 0
    elif text.style:
        column += 1
    raw = text.source.line(line)
    ink = len(raw.rstrip())
    last = len(text.source.lines)
    for letter in text.text:
        if letter not in (" ", "\n") or column < ink:  # otherwise YAML folded a line break into this character
            while (letter != " " and raw[column : column + 1] == " ") or (column >= len(raw) and line < last):
                line, column = (line, column + 1) if column < len(raw) else (line + 1, 0)
                if not column:
                    raw = text.source.line(line)
                    ink = len(raw.rstrip())
        yield line, column + 1
        column += _typed_length(raw, column, text.style)
    yield line, column + 1


ESCAPES = {"x": 4, "u": 6, "U": 10}  # typed length of each escape (YAML 1.1, 5.6)


def _typed_length(raw: str, column: int, style: str) -> int:
    """Return how many characters were typed for the one read."""
    if style == '"' and raw[column : column + 1] == "\\":
        return ESCAPES.get(raw[column + 1 : column + 2], 2)
    if style == "'" and raw[column : column + 2] == "''":
        return 2
    return 1
