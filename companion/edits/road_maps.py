"""Edit sections of a road map in either form: as part of a line if the line can hold it, else as a long entry."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Final

from companion.edits.addresses import SectionNamed
from companion.edits.rendering import OneLine, as_typed
from companion.edits.spans import Plain, plainly_of, spans_of
from companion.edits.splicing import NodePath, with_item, with_value, without
from companion.errors import CompanionError
from companion.files import Items, Node, Reading, SourceFile, Table, Text
from companion.show.roadmap import cut
from companion.show.show_file import SECTION

RawSection = dict[str, Any]
YES_OR_NO: Final = ("open", "tacet", "ending")
NUMBERS: Final = ("bars", "passes")
SHORT: Final = ("section", "bars", "passes", "open", "tacet", "feature", "sound")


def sections_of(road_map: Plain) -> list[RawSection]:
    """Return the sections of a road map as tables of texts, in playing order; a plain "no" counts as nothing."""
    found: list[RawSection] = []
    for one in road_map if isinstance(road_map, list) else [road_map]:
        if isinstance(one, dict):
            found.append(_meant(one))
        elif isinstance(one, str) and one.strip():
            found += [_meant(_plain(table)) for table in _cut(one)]
    return found


def number_of(sections: Sequence[RawSection], named: SectionNamed) -> int:
    """Return the number of a section, from 0. Raises CompanionError if it is not there."""
    names: Counter[str] = Counter()
    for number, section in enumerate(sections):
        name = str(section.get("section", ""))
        names[name] += 1
        if name == named.name and names[name] == named.occurrence:
            return number
    raise CompanionError(f'its road map no longer has the section "{named}"')


def names_of(sections: Sequence[RawSection]) -> list[SectionNamed]:
    """Return each section's name with its occurrence."""
    names: Counter[str] = Counter()
    found = []
    for section in sections:
        name = str(section.get("section", ""))
        names[name] += 1
        found.append(SectionNamed(name, names[name]))
    return found


def with_section(text: str, way: NodePath, number: int, rest: NodePath, value: object) -> str:
    """Set a value of a section (``rest``: keys inside it) in the road map at ``way``."""
    item, part = _item_of(text, way, number)
    if part is None:
        return with_value(text, (*way, item, *rest), value)
    before = sections_of(_read(text, way))[number]
    return _with_part(text, (way, item), part, _changed(before, rest, value))


def without_section(text: str, way: NodePath, number: int, rest: NodePath) -> str:
    """Remove a section from a road map, or a value from a section."""
    item, part = _item_of(text, way, number)
    if part is None:
        return without(text, (*way, item, *rest))
    if rest:
        before = sections_of(_read(text, way))[number]
        return _with_part(text, (way, item), part, {key: one for key, one in before.items() if key != rest[0]})
    parts = _parts(text, way, item)
    del parts[part]
    return _with_line(text, way, item, parts)


def with_new_section(text: str, way: NodePath, number: int, section: Mapping[str, object]) -> str:
    """Insert a section into a road map, before the one that has this number now."""
    road_map = _read(text, way)
    sections = sections_of(road_map)
    if not sections:
        said = short_of(section)
        return with_value(text, way, said or [OneLine(_in_order(section))])
    behind = number == len(sections)
    item, part = _item_of(text, way, number - 1 if behind else number)
    if part is None:
        return with_item(text, way, item + behind, OneLine(_in_order(section)))
    parts = _parts(text, way, item)
    at, said = part + behind, short_of(section)
    if said:
        if not at and parts and not parts[0].startswith(" "):
            parts[0] = f" {parts[0]}"
        return _with_line(text, way, item, [*parts[:at], f" {said}" if at else said, *parts[at:]])
    return _spread(text, way, item, parts[:at], section, parts[at:])


def short_of(section: Mapping[str, object]) -> str:
    """Write a section as part of a line; empty if a line cannot hold all of it.

    >>> short_of({"section": "Solo", "bars": 16, "feature": True, "sound": "lead"})
    'Solo 16* @lead'
    """
    wanted = _meant({key: as_typed(one) for key, one in section.items()})
    if not set(wanted) <= set(SHORT) or wanted.get("feature", "yes") != "yes" or "section" not in wanted:
        return ""
    words = [str(wanted["section"])]
    words += [str(wanted["bars"])] if "bars" in wanted else []
    words += [f"x{wanted['passes']}"] if "passes" in wanted else []
    words += [key for key in ("open", "tacet") if key in wanted]
    words[-1] += "*" if "feature" in wanted else ""
    sound = wanted.get("sound", ())
    calls = [f"@{sound}"] if isinstance(sound, str) else [f"@{board}={sound[board]}" for board in sound]
    said = " ".join(words + calls)
    read = _cut(said)
    return said if len(read) == 1 and _meant(_plain(read[0])) == wanted else ""


def _with_part(text: str, at: tuple[NodePath, int], part: int, section: Mapping[str, object]) -> str:
    """Rewrite one part of a line, or split the line around a long entry."""
    way, item = at
    parts = _parts(text, way, item)
    said = short_of(section)
    if said:
        old = parts[part]
        lead = old[: len(old) - len(old.lstrip())]
        tail = old[len(old.rstrip()) :] if old.strip() else ""
        parts[part] = f"{lead}{said}{tail}"
        return _with_line(text, way, item, parts)
    return _spread(text, way, item, parts[:part], section, parts[part + 1 :])


def _spread(
    text: str, way: NodePath, item: int, before: list[str], section: Mapping[str, object], after: list[str]
) -> str:
    """Make one section a long entry; the parts of the line before and after it become their own lines."""
    lines = [",".join(parts).strip() for parts in (before, after)]
    items: list[object] = [
        *([lines[0]] if lines[0] else []),
        OneLine(_in_order(section)),
        *([lines[1]] if lines[1].strip(", ") else []),
    ]
    road_map = _read(text, way)
    if not isinstance(road_map, list):
        return with_value(text, way, items)
    return with_value(text, way, [*road_map[:item], *items, *road_map[item + 1 :]])


def _in_order(section: Mapping[str, object]) -> dict[str, object]:
    """Return a section's keys in the reader's order, its numbers as numbers."""
    known = [key for key in SECTION.fields if key in section]
    rest = [key for key in section if key not in known]
    return {key: _as_written(key, section[key]) for key in (*known, *rest)}


def _as_written(key: str, value: object) -> object:
    """Return a number or a yes as that type, so that it is written without quotes."""
    if key in NUMBERS and isinstance(value, str) and value.isascii() and value.isdigit():
        return int(value)
    return True if value == "yes" and key in (*YES_OR_NO, "tacet", "feature") else value


def _with_line(text: str, way: NodePath, item: int, parts: list[str]) -> str:
    line = ",".join(parts).strip()
    if isinstance(_read(text, way), list):
        return with_value(text, (*way, item), line) if line else without(text, (*way, item))
    return with_value(text, way, line) if line else without(text, way)


def _item_of(text: str, way: NodePath, number: int) -> tuple[int, int | None]:
    """Return the list item that holds a section, and the part of that item's line; None for a table."""
    road_map = _read(text, way)
    passed = 0
    for at, one in enumerate(road_map if isinstance(road_map, list) else [road_map]):
        many = 1 if isinstance(one, dict) else len(_cut(str(one))) if one else 0
        if passed <= number < passed + many:
            return at, None if isinstance(one, dict) else number - passed
        passed += many
    raise CompanionError("its road map no longer has this section")


def _parts(text: str, way: NodePath, item: int) -> list[str]:
    road_map = _read(text, way)
    line = str(road_map[item] if isinstance(road_map, list) else road_map)
    parts = line.split(",")
    return parts if parts[-1].strip() else parts[:-1]


def _read(text: str, way: NodePath) -> Plain:
    node = spans_of(text)
    for key in way:
        found = node.behind(key) if isinstance(key, str) else node.items[key]
        if found is None:
            return ""
        node = found
    return plainly_of(node)


def _changed(section: RawSection, rest: NodePath, value: object) -> RawSection:
    key, *inner = rest
    if inner:
        held = section.get(str(key))
        value = _changed(held if isinstance(held, dict) else {}, tuple(inner), value)
    if value is False and key in YES_OR_NO:
        return {known: one for known, one in section.items() if known != key}
    return {**section, str(key): value}


def _meant(section: RawSection) -> RawSection:
    return {key: one for key, one in section.items() if not (key in YES_OR_NO and one == "no")}


def _cut(line: str) -> list[Table]:
    return cut(Text(line, SourceFile("", line), 1, 1), Reading())


def _plain(node: Node) -> Any:  # noqa: ANN401  lists and tables of texts, in each other
    if isinstance(node, Table):
        return {key: _plain(behind) for key, (_, behind) in node.entries.items()}
    return [_plain(one) for one in node.nodes] if isinstance(node, Items) else node.text
