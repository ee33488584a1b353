"""Forms: structs, lists, named things and pairs from nodes; all faults at once; one JSON Schema for editors."""

from pathlib import Path
from typing import Any

import jsonschema
import msgspec
import pytest
from files.written import PATH, faults_of, nodes

from companion.errors import FaultyFile
from companion.files import Form, Many, NamedStructs, Pairs, Reading, Table, read_file, schema_of, whole, words, yes_no


class Amp(msgspec.Struct, frozen=True):
    name: str
    watts: int | None = None
    knobs: tuple[tuple[str, int], ...] = ()


class Room(msgspec.Struct, frozen=True):
    name: str
    amps: tuple[Amp, ...] = ()
    spare: tuple[Amp, ...] = ()
    dry: bool = False


KNOBS = Pairs(words(20), whole(0, 11), "knobs")
AMP = Form(Amp, "an amp", {"amp": words().into("name"), "watts": whole(1, 2000), "knobs": KNOBS}, alone="amp")
NAMED_AMP = Form(Amp, "an amp", {"watts": whole(1, 2000), "knobs": KNOBS})
AS_KEYS = "an amp is written as keys and values"
ROOM = Form(
    Room,
    "a room",
    {
        "room": words().into("name"),
        "amps": Many(AMP, "amps", single=True),
        "spare": NamedStructs(NAMED_AMP, "amps", words(20)),
        "dry": yes_no(),
    },
)


def room(text: str) -> Room:
    reading = Reading()
    found = ROOM.read(nodes(text), reading)
    assert not reading.faults, reading.faults
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("text", "means"),
    [
        ("room: R", Room("R")),
        ("room: R\namps:\ndry:\nspare:", Room("R")),  # nothing behind a key is not known yet
        ("room: R\namps: [one, {amp: two, watts: 010}]", Room("R", (Amp("one"), Amp("two", 10)))),
        ("room: R\namps: one", Room("R", (Amp("one"),))),
        (
            "room: R\namps: {amp: one, knobs: {gain: 11, on: 3}}",
            Room("R", (Amp("one", None, (("gain", 11), ("on", 3))),)),
        ),
        ("room: R\nspare:\n  no: {watts: 5}\n  3:40:", Room("R", (), (Amp("no", 5), Amp("3:40")))),
        ("room: R\namps: [&x {amp: one}, *x]", Room("R", (Amp("one"), Amp("one")))),
    ],
)
def test_a_table_becomes_a_struct(text: str, means: Room) -> None:
    assert room(text) == means


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("room: R\ndri: yes", ['2:1: a room has no key "dri". Write: dry']),
        ("room: R\nzzz: 1", ['2:1: a room has no key "zzz". Write: room, amps, spare or dry']),
        ("dry: yes", ['1:1: a room has no "room". Write: room: a text']),
        ("room:\ndry: yes", ['1:1: a room has no "room". Write: room: a text']),
        ("room: [R]", ["1:7: a text belongs here, not a list. Write: a text"]),
        ("- room: R", ["1:1: a room is written as keys and values, not as a list. Write: room: ..."]),
        ("just text", ["1:1: a room is written as keys and values, not as only a text. Write: room: ..."]),
        ("room: R\nspare: [a]", ["2:8: amps are listed under their names. Write: name: ... for each, without a dash"]),
        ("room: R\nspare: {a: 1}", [f"2:12: {AS_KEYS}, not as only a text. Write: watts: ..."]),
        ("room: R\namps: {amp: a, knobs: [1]}", ["2:23: knobs are written as keys and values. Write: {key: value}"]),
        (
            "room: R\namps: {amp: a, b, watts: 5}",
            ['2:16: "b" is alone: inside braces a comma ends the value. Write: amp: "a, b"'],
        ),
        (
            "room: R\nspare: {a: {watts: 0}, b: {wats: 1, knobs: {gain: 12}}}",
            [
                "2:20: 0 is out of range: a whole number, 1 to 2000. Write: 1",
                '2:28: an amp has no key "wats". Write: watts',
                "2:51: 12 is out of range: a whole number, 0 to 11. Write: 11",
            ],
        ),
        ("room: R\namps: [&x {amp: a, wats: 1}, *x]", ['2:20: an amp has no key "wats". Write: watts']),  # once
        ("room: R\nroom: S\nbar: 1", ['2:1: "room" is here twice, first on line 1. Write: it once',
                                      '3:1: a room has no key "bar". Write: room, amps, spare or dry']),
    ],
)  # fmt: skip
def test_all_faults_come_with_their_places_and_what_to_write(text: str, faults: list[str]) -> None:
    assert faults_of(text, ROOM) == faults


def test_places_point_at_structs_and_at_the_values_of_their_keys() -> None:
    reading = Reading()
    table = nodes("room: R\namps:\n  - {amp: one, knobs: {gain: 1}}\n  - {amp: one, knobs: {gain: 1}}\n")
    found = ROOM.read(table, reading)
    assert found is not None
    first, second = found.amps
    assert first == second
    places = [reading.places.fault(amp, problem="") for amp in (first, second)]
    assert [(place.line, place.column) for place in places] == [(3, 5), (4, 5)]  # equal, yet distinguished
    gain = reading.places.fault(second, "knobs", "gain", problem="")
    assert (gain.path, gain.line, gain.column) == (PATH, 4, 30)
    watts = reading.places.fault(second, "watts", problem="")
    assert (watts.line, watts.column) == (4, 5)  # as far as the keys lead
    changed = msgspec.structs.replace(second, watts=1)
    assert reading.places.fault(changed, problem="", path=PATH).line == 0
    reading.places.move(second, changed)
    assert reading.places.fault(changed, problem="").line == 4


def test_build_constructs_what_the_class_alone_cannot() -> None:
    def build(values: dict[str, Any], table: Table, reading: Reading) -> Amp | None:
        if values.get("watts", 0) > 100 and not values.get("knobs"):
            reading.fault(table.entries["watts"][1], "so many watts need a knob", "knobs: {gain: 1}")
            return None
        return Amp("built", values.get("watts"))

    form = Form(Amp, "an amp", {"watts": whole(1, 2000), "knobs": KNOBS}, optional=("name",), build=build)
    assert form.read(nodes("watts: 5"), Reading()) == Amp("built", 5)
    assert faults_of("watts: 500", form) == ["1:8: so many watts need a knob. Write: knobs: {gain: 1}"]


def test_a_file_is_read_or_all_its_faults_are_raised(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    file.write_bytes(b"\xef\xbb\xbfroom: R\r\namps: [one]\r\n")
    assert read_file(file, ROOM).value == Room("R", (Amp("one"),))
    file.write_text("rom: R\ndry: maybe\n", encoding="utf-8")
    with pytest.raises(FaultyFile) as caught:
        read_file(file, ROOM)
    assert [fault.line for fault in caught.value.faults] == [1, 1, 2]
    file.write_text("---\n", encoding="utf-8")
    with pytest.raises(FaultyFile, match="this file must hold a room"):
        read_file(file, ROOM)


def test_reading_stops_at_a_thousand_faults() -> None:
    faults = faults_of("room: R\n" + "".join(f"k{n}: 1\n" for n in range(5000)), ROOM)
    assert len(faults) == 1001
    assert "1001:1: too many faults: reading stops here. Write: the faults above right first" in faults


# What an editor's own YAML reader makes of these, true values and numbers included, fits the schema or does not.
@pytest.mark.parametrize(
    ("instance", "fits"),
    [
        ({"room": "R", "amps": ["one", {"amp": "two", "watts": 10}], "dry": False}, True),
        ({"room": "R", "amps": None, "dry": "no", "spare": {"a": None, "b": {"watts": 5}}}, True),
        ({"room": "R", "amps": "one"}, True),
        ({"room": 1999}, True),
        ({"amps": []}, False),  # no name
        ({"room": "R", "dri": True}, False),
        ({"room": "R", "amps": [{"amp": "one", "watts": 0}]}, False),
        ({"room": "R", "amps": [{"amp": "one", "watts": 5.5}]}, False),
        ({"room": "R", "amps": [{"watts": 5}]}, False),
        ({"room": "R", "spare": [{}]}, False),
        ({"room": "R", "dry": "maybe"}, False),
    ],
)
def test_the_schema_accepts_what_the_reader_accepts(instance: dict[str, object], *, fits: bool) -> None:
    schema = schema_of(ROOM, "A room")
    jsonschema.Draft202012Validator.check_schema(schema)
    assert jsonschema.Draft202012Validator(schema).is_valid(instance) == fits


def test_the_schema_has_exactly_the_forms_keys() -> None:
    parts = schema_of(ROOM, "A room")["$defs"]
    assert set(parts["Room"]["properties"]) == set(ROOM.keys)
    assert parts["Room"]["additionalProperties"] is False
    assert parts["Room"]["required"] == ["room"]
