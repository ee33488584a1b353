"""Strict reading of YAML with places and faults, and safe writing (see ``file_writing.py``). Independent of shows."""

from typing import TYPE_CHECKING

from companion.files.nearest import nearest, nearest_or_all, shown
from companion.files.nodes import Items, Node, SourceFile, Table, Text
from companion.late import late

if TYPE_CHECKING:
    from companion.files.file_reading import Places, Reading
    from companion.files.forms import Form, Many, NamedStructs, Pairs, read_file, read_root, schema_of
    from companion.files.kinds import (
        InvalidValue,
        Scalar,
        ValueKind,
        choice,
        clock_time,
        date,
        length,
        number,
        plain,
        whole,
        words,
        yes_no,
    )
    from companion.files.parsing import parse

__all__ = [
    "Form",
    "InvalidValue",
    "Items",
    "Many",
    "NamedStructs",
    "Node",
    "Pairs",
    "Places",
    "Reading",
    "Scalar",
    "SourceFile",
    "Table",
    "Text",
    "ValueKind",
    "choice",
    "clock_time",
    "date",
    "length",
    "nearest",
    "nearest_or_all",
    "number",
    "parse",
    "plain",
    "read_file",
    "read_root",
    "schema_of",
    "shown",
    "whole",
    "words",
    "yes_no",
]

# These load the YAML reader, half of what a start imports.
__getattr__ = late(__name__, ("kinds", "parsing", "file_reading", "forms"))
