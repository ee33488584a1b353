r"""Forms: how a struct, a list or a mapping is written in a file, with its keys and their values.

A room writes one form for each struct of its model; reading, faults, places and the JSON Schema all follow from it.

>>> import msgspec
>>> from companion.files import Form, Many, Reading, SourceFile, parse, whole, words
>>> class Amp(msgspec.Struct, frozen=True):
...     name: str
...     watts: int | None = None
>>> class Room(msgspec.Struct, frozen=True):
...     name: str
...     amps: tuple[Amp, ...] = ()
>>> AMP = Form(Amp, "an amp", {"amp": words().into("name"), "watts": whole(1, 2000)}, alone="amp")
>>> ROOM = Form(Room, "a room", {"room": words().into("name"), "amps": Many(AMP, "amps")})
>>> reading = Reading()
>>> source = SourceFile("cellar.yaml", "room: Cellar\namps:\n  - {amp: bass, watts: 030}\n  - keys")
>>> ROOM.read(parse(source, reading.faults), reading)
Room(name='Cellar', amps=(Amp(name='bass', watts=30), Amp(name='keys', watts=None)))
>>> source = SourceFile("cellar.yaml", "amps:\n  - {amp: bass, wats: 0}")
>>> ROOM.read(parse(source, reading.faults), reading)
>>> for fault in sorted(reading.faults): print(fault)
cellar.yaml:1:1: a room has no "room". Write: room: a text
cellar.yaml:2:17: an amp has no key "wats". Write: watts

``read_file(path, ROOM)`` reads a file and raises FaultyFile with all its faults. If keys depend on each other,
``build`` makes the struct from the values read; see ``Form``.
"""

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

import msgspec

from companion.files.file_reading import Path, Read, Reading
from companion.files.kinds import Field, Scalar, Schema, ValueKind
from companion.files.nearest import nearest, nearest_or_all, shown
from companion.files.nodes import Items, Node, Table, Text

S = TypeVar("S", bound=msgspec.Struct)
T = TypeVar("T")
K = TypeVar("K")
V = TypeVar("V")
Build = Callable[[dict[str, Any], Table, Reading], S | None]


class Form(ValueKind[S]):
    """A struct as keys and values.

    ``called`` is the player's word for it, with its article. ``alone`` is the key that a bare text fills. A field
    without a default is required unless it is ``optional``. ``build(values, table, reading)``, if given, makes the
    struct from the values present, by field name; it may note faults and return None.
    """

    def __init__(
        self,
        makes: type[S],
        called: str,
        keys: Mapping[str, ValueKind[Any] | Field],
        *,
        alone: str = "",
        optional: tuple[str, ...] = (),
        build: Build[S] | None = None,
    ) -> None:
        self.description = called
        self.makes = makes
        self.keys = keys
        self._alone = alone
        self._build = build
        self.fields = {key: kind if isinstance(kind, Field) else Field(key, kind) for key, kind in keys.items()}
        self._part: tuple[dict[str, Schema], str] | None = None  # the schema it was last put into, and its name there
        names = makes.__struct_fields__
        needed = names[: len(names) - len(makes.__struct_defaults__)]
        self._required = tuple(name for name in needed if name not in optional)

    def read(self, node: Node, reading: Reading) -> S | None:
        """Return the struct of a table or a bare text; None if empty, or if a required key is missing or faulty."""
        return self.read_named(node, {}, reading)

    def read_named(self, node: Node, given: Mapping[str, Any], reading: Reading) -> S | None:
        """Read a struct with some fields already known, such as the name that it is listed under."""
        table = node if type(node) is Table else self._table_of(node, reading)
        if table is None:
            return None
        values = dict(given)
        fields = self.fields
        for key, (typed, behind) in table.entries.items():
            field = fields.get(key)
            if field is None:
                self._unknown(typed, behind, table, reading)
                continue
            value = field.kind.read(behind, reading)
            if value is not None:
                values[field.name] = value
        for name in self._required:
            if name not in values:
                self._missing(name, table, reading)
                return None
        struct = self._build(values, table, reading) if self._build else self.makes(**values)
        if struct is not None:
            reading.places.keep(struct, table)
        return struct

    def _table_of(self, node: Node, reading: Reading) -> Table | None:
        """Turn a bare text into a table with one key."""
        if isinstance(node, Text):
            if node.is_empty:
                return None
            if self._alone:
                return Table({self._alone: (node, node)}, node.source, node.line, node.column)
        wrote = "a list" if isinstance(node, Items) else "only a text"
        reading.fault(
            node, f"{self.description} is written as keys and values, not as {wrote}", f"{next(iter(self.keys))}: ..."
        )
        return None

    def _unknown(self, typed: Text, behind: Node, table: Table, reading: Reading) -> None:
        if table.braces and isinstance(behind, Text) and behind.is_empty and not nearest(typed.text, self.keys):
            known = list(table.entries)
            before = known[known.index(typed.text) - 1] if typed.text != known[0] else ""
            problem = f"{shown(typed.text)} is alone: inside braces a comma ends the value"
            value = table.entries[before][1] if before else None
            kept = value.text if isinstance(value, Text) else ""
            reading.fault(
                typed, problem, f'{before}: "{kept}, {typed.text}"' if kept else "quotes around the whole value"
            )
            return
        reading.fault(
            typed, f"{self.description} has no key {shown(typed.text)}", nearest_or_all(typed.text, self.keys)
        )

    def _missing(self, name: str, table: Table, reading: Reading) -> None:
        key = next((key for key, field in self.fields.items() if field.name == name), name)
        if key in table.entries:
            typed, behind = table.entries[key]
            if isinstance(behind, Text) and behind.is_empty:
                reading.fault(
                    typed, f"{self.description} has no {shown(key)}", f"{key}: {self.fields[key].kind.description}"
                )
            return  # otherwise its own fault was noted
        write = f"{key}: {self.fields[key].kind.description}" if key in self.fields else key
        reading.fault(table, f"{self.description} has no {shown(key)}", write)

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe the table under the struct's own name."""
        if self._part is None or self._part[0] is not parts:
            same = sum(known.rstrip("0123456789") == self.makes.__name__ for known in parts)
            self._part = (parts, self.makes.__name__ + (str(same + 1) if same else ""))
        name = self._part[1]
        if name not in parts:
            part: Schema = {"type": "object", "additionalProperties": False}
            parts[name] = part  # before its keys, since a form may contain itself
            part["properties"] = {key: field.kind.schema(parts) for key, field in self.fields.items()}
            needed = [key for key, field in self.fields.items() if field.name in self._required]
            if needed:
                part["required"] = needed
        here: Schema = {"$ref": f"#/$defs/{name}"}
        return {"anyOf": [here, self.fields[self._alone].kind.schema(parts)]} if self._alone else here


class Many(ValueKind[tuple[T, ...]]):
    """A list. ``single``: one item may be written without its dash."""

    def __init__(self, kind: ValueKind[T], description: str, *, single: bool = False) -> None:
        self.description = description
        self._kind = kind
        self._single = single

    def read(self, node: Node, reading: Reading) -> tuple[T, ...] | None:
        """Return the list's values, without those that are empty or faulty."""
        if type(node) is Items:
            found = [self._kind.read(one, reading) for one in node.nodes]
            return tuple([one for one in found if one is not None])
        if type(node) is Text and node.is_empty:
            return None
        if self._single:
            alone = self._kind.read(node, reading)
            return None if alone is None else (alone,)
        reading.fault(node, f"{self.description} must be a list", "a dash and a space before each")
        return None

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe the list."""
        one = self._kind.schema(parts)
        listed: Schema = {"type": ["array", "null"], "items": one}
        return {"anyOf": [listed, one]} if self._single else listed


class NamedStructs(ValueKind[tuple[S, ...]]):
    """Structs listed under their names, in written order; the name goes into the field ``name``."""

    def __init__(self, form: Form[S], description: str, name: Scalar[str]) -> None:
        self.description = description
        self._form = form
        self._name = name

    def read(self, node: Node, reading: Reading) -> tuple[S, ...] | None:
        """Return the structs. A name without a value is read as a struct without keys."""
        if type(node) is not Table:
            if not (type(node) is Text and node.is_empty):
                reading.fault(
                    node, f"{self.description} are listed under their names", "name: ... for each, without a dash"
                )
            return None
        found = []
        for typed, behind in node.entries.values():
            name = self._name.read(typed, reading)
            if type(behind) is Text and behind.is_empty:
                behind = Table({}, behind.source, typed.line, typed.column)  # noqa: PLW2901  no value means no keys
            struct = self._form.read_named(behind, {"name": name}, reading) if name is not None else None
            if struct is not None:
                found.append(struct)
        return tuple(found)

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe a table with any names."""
        one = self._form.schema(parts)
        return {"type": ["object", "null"], "additionalProperties": {"anyOf": [one, {"type": "null"}]}}


class Pairs(ValueKind[tuple[tuple[K, V], ...]]):
    """A small table whose keys are values too: ``{volume: 110}`` becomes ((7, 110),)."""

    def __init__(self, key: Scalar[K], value: ValueKind[V], description: str) -> None:
        self.description = description
        self._key = key
        self._value = value

    def read(self, node: Node, reading: Reading) -> tuple[tuple[K, V], ...] | None:
        """Return the pairs, in written order."""
        if type(node) is not Table:
            if not (type(node) is Text and node.is_empty):
                reading.fault(node, f"{self.description} are written as keys and values", "{key: value}")
            return None
        found = []
        for typed, behind in node.entries.values():
            key, value = self._key.read(typed, reading), self._value.read(behind, reading)
            if key is not None and value is not None:
                found.append((key, value))
        return tuple(found)

    def schema(self, parts: dict[str, Schema]) -> Schema:
        """Describe the values; only the reader checks the keys."""
        return {"type": ["object", "null"], "additionalProperties": self._value.schema(parts)}


def read_file(path: Path, form: ValueKind[T]) -> Read[T]:
    """Read a file by its form. Raises FaultyFile with all its faults."""
    reading = Reading()
    node = reading.open(path)
    return Read(read_root(node, form, reading), node.source, reading.places, tuple(sorted(reading.warnings)))


def read_root(node: Node, form: ValueKind[T], reading: Reading) -> T:
    """Read the root of a file. Raises FaultyFile with all faults so far."""
    value = form.read(node, reading)
    if value is None and not reading.faults:
        reading.fault(node, f"this file must hold {form.description}", form.description)
    reading.finish()
    if value is None:
        message = f"{form.description} was read as nothing, and no fault was noted"  # a bug in the form
        raise AssertionError(message)
    return value


def schema_of(form: ValueKind[Any], title: str) -> Schema:
    """Return the JSON Schema (2020-12) of a file with this form."""
    parts: dict[str, Schema] = {}
    root = form.schema(parts)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title, **root, "$defs": parts}
