"""The start and end of each value of a YAML text: parser events as a tree of spans, in characters from 0."""

import functools
import re
from typing import Any, Final

import yaml

from companion.errors import CompanionError
from companion.files import SourceFile, parse
from companion.files.parsing import LIMIT_DEPTH, LIMIT_NODES

BREAK: Final = re.compile("\r\n|[\r\n\x85\u2028\u2029]")  # libyaml's line breaks (YAML 1.1, 5.4)
_RARE_BREAKS: Final = "\r\x85\u2028\u2029"

WORTH_KEEPING: Final = 2_000  # characters; a song's own lines are shorter, and are read in no time

Plain = str | list[Any] | dict[str, Any]
"""A value without places: texts, lists and tables."""


class ValueSpan:
    """One value of the text, ``text[start:end]``.

    ``kind`` is "text", "list", "table" or "label" (an alias). ``flow``: a list or table in brackets or braces.
    ``labelled``: the value has an anchor or a tag. ``labels``: of a whole text, whether it has any anchor or alias.
    The end of a block list or table is the end of its last value.
    """

    __slots__ = ("end", "entries", "flow", "items", "kind", "labelled", "labels", "start", "style", "text")

    def __init__(self, kind: str, start: int, end: int, *, flow: bool = False, labelled: bool = False) -> None:
        self.kind = kind
        self.start = start
        self.end = end
        self.flow = flow
        self.labelled = labelled
        self.labels = False
        self.text = ""
        self.style = ""
        self.items: list[ValueSpan] = []
        self.entries: list[tuple[ValueSpan, ValueSpan]] = []

    @property
    def is_nothing(self) -> bool:
        """Whether the value is missing: ``key:`` with nothing after it."""
        return self.kind == "text" and not self.text and not self.style and self.start == self.end

    def value_of(self, key: str) -> "ValueSpan | None":
        """Return the value of a key; the first one if the key is there twice."""
        return next((value for typed, value in self.entries if typed.kind == "text" and typed.text == key), None)


def spans_of(text: str, path: str = "", depth: int = LIMIT_DEPTH) -> ValueSpan:
    """Parse a text into spans; do not change them. Raises FaultyFile unless it is one readable YAML document.

    ``depth``: deeper values get no spans; the list or table that holds them is empty.
    """
    root = _kept(text) if depth == LIMIT_DEPTH and len(text) >= WORTH_KEEPING else _read(text, depth)
    if root is None or text.find("\n%") >= 0 or text.startswith("%"):
        parse(SourceFile(path, text), [])  # raises with the place and the reason
        if root is None:
            raise CompanionError(f"{path or 'the file'} cannot be edited: it is not one YAML document")
    return root


@functools.lru_cache(2)
def _kept(text: str) -> ValueSpan | None:
    """Return the spans of a whole file: one change asks for them several times, before it and after it."""
    return _read(text, LIMIT_DEPTH)


def _read(text: str, depth: int) -> ValueSpan | None:
    try:
        return _Growing(text, depth).grown()
    except (yaml.YAMLError, _TooLarge):
        return None


def plainly_of(span: ValueSpan) -> Plain:
    """Return the value without places; a label becomes a text that no file can hold."""
    if span.kind == "table":
        found: dict[str, Plain] = {}
        for key, value in span.entries:
            found.setdefault(key.text, plainly_of(value))
        return found
    if span.kind == "list":
        return [plainly_of(one) for one in span.items]
    return span.text


def line_start(text: str, at: int) -> int:
    """Return the start of the line at a place."""
    start = text.rfind("\n", 0, at) + 1  # the others are rare: they are looked for in this line only
    return max(start, *(text.rfind(sign, start, at) + 1 for sign in _RARE_BREAKS))


def line_end(text: str, at: int) -> int:
    """Return the end of the line at a place, before its break."""
    found = BREAK.search(text, at)
    return found.start() if found else len(text)


def next_line(text: str, at: int) -> int:
    """Return the start of the line after a place, or the text's length if there is none."""
    found = BREAK.search(text, at)
    return found.end() if found else len(text)


def newline_of(text: str) -> str:
    """Return the line break of the text's first line."""
    found = BREAK.search(text)
    return found[0] if found and found[0] in ("\r\n", "\r") else "\n"


class _TooLarge(Exception):  # noqa: N818  it never leaves this module
    """The text exceeds the reader's limits, or has a second document."""


class _Growing:
    """Builds the spans of one text."""

    def __init__(self, text: str, depth: int) -> None:
        self.text = text
        self.depth = depth
        self.open: list[tuple[ValueSpan, list[ValueSpan]]] = []
        self.root: ValueSpan | None = None
        self.count = 0
        self.documents = 0
        self.labels = False
        self.deeper = 0  # open lists and tables below ``depth``
        self.last: Any = None  # the last event inside them

    def grown(self) -> ValueSpan | None:
        """Read all events; return the root."""
        parser: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)(self.text)  # slow without libyaml
        while (event := parser.get_event()) is not None:
            kind = type(event)
            if kind is yaml.ScalarEvent:
                self.takes(event)
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                self.opens(event, "table" if kind is yaml.MappingStartEvent else "list")
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                self.closes(event)
            elif kind is yaml.AliasEvent:
                self.labels = True
                self.takes(event)
            elif kind is yaml.DocumentStartEvent:
                self.documents += 1
                if self.documents > 1:
                    raise _TooLarge
            elif kind is yaml.StreamEndEvent:
                break
        if self.root is not None:
            self.root.labels = self.labels
        return self.root

    def takes(self, event: Any) -> None:  # noqa: ANN401  PyYAML's events have no types
        """Add a text or a label."""
        self.count += 1
        if self.count > LIMIT_NODES:
            raise _TooLarge
        if len(self.open) > self.depth:
            self.labels = self.labels or self.is_labelled(event)
            self.last = event
            return
        value, style = getattr(event, "value", None), getattr(event, "style", None)
        kind = "label" if value is None else "text"
        span = ValueSpan(
            kind, event.start_mark.index, self.end_of(event), labelled=value is not None and self.is_labelled(event)
        )
        span.text, span.style = value or "", style or ""
        self.add(span)

    def end_of(self, event: Any) -> int:  # noqa: ANN401
        """Return the end of a text; the parser's own end includes the line breaks after a block."""
        start, end = int(event.start_mark.index), min(int(event.end_mark.index), len(self.text))
        if getattr(event, "style", None) not in ("|", ">"):
            return end
        keeps = "+" in self.text[start : line_end(self.text, start)].partition("#")[0]
        ink = max(start + 1, len(self.text[:end].rstrip()))
        return line_end(self.text, max(ink, end - 1)) if keeps and end > ink else line_end(self.text, ink)

    def opens(self, event: Any, kind: str) -> None:  # noqa: ANN401
        """Open a list or table."""
        if len(self.open) + self.deeper >= LIMIT_DEPTH:
            raise _TooLarge
        labelled = self.is_labelled(event)
        if len(self.open) > self.depth:
            self.deeper += 1
            self.last = event
            return
        mark = event.start_mark.index
        self.open.append((ValueSpan(kind, mark, mark, flow=bool(event.flow_style), labelled=labelled), []))

    def is_labelled(self, event: Any) -> bool:  # noqa: ANN401
        """Whether a value has an anchor or a tag."""
        labelled = getattr(event, "anchor", None) is not None or getattr(event, "tag", None) is not None
        self.labels = self.labels or labelled
        return labelled

    def closes(self, event: Any) -> None:  # noqa: ANN401
        """Close the open list or table."""
        self.count += 1
        if self.deeper:
            self.deeper -= 1
            if event.end_mark.index > event.start_mark.index:  # the closing bracket; a block's end has no characters
                self.last = event
            return
        span, values = self.open.pop()
        if span.kind == "table":
            span.entries = list(zip(values[::2], values[1::2], strict=True))
        else:
            span.items = values
        if span.flow:
            span.end = event.end_mark.index
        elif values:
            span.end = max(one.end for one in values)
        elif self.last is not None:
            span.end = self.end_of(self.last)
        self.last = None if len(self.open) <= self.depth else self.last
        self.add(span)

    def add(self, span: ValueSpan) -> None:
        """Add a finished value to the open list or table."""
        if self.open:
            self.open[-1][1].append(span)
        else:
            self.root = span
