"""Edit sections of a road map: in shorthand if shorthand can hold it, else as a long entry."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

from companion.edits.addresses import SectionNamed
from companion.edits.rendering import OneLine, as_typed
from companion.edits.spans import Plain, ValueSpan, plainly_of, spans_of
from companion.edits.splicing import NodePath, with_item, with_value, without
from companion.errors import CompanionError
from companion.files import Reading, SourceFile, Table, Text
from companion.files.nodes import plainly
from companion.show.roadmap import cut
from companion.show.shorthand_lines import parts_of
from companion.show.shorthand_text import short_section
from companion.show.show_file import SECTION

RawSection = dict[str, Any]


class ShortPart(NamedTuple):
    """One section of a line in shorthand, as typed, and the separator after it; for the last one, what follows."""

    text: str
    end: str


YES_OR_NO: Final = ("open", "tacet", "ending")
NUMBERS: Final = ("bars", "passes")


def sections_of(road_map: Plain) -> list[RawSection]:
    """Return the sections of a road map as tables of texts, in playing order; a plain "no" counts as nothing."""
    found: list[RawSection] = []
    for one in road_map if isinstance(road_map, list) else [road_map]:
        if isinstance(one, dict):
            found.append(_meant(one))
        elif isinstance(one, str) and one.strip():
            found += [_meant(plainly(table)) for table in _cut(one)]
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
    pieces = _pieces(text, way, item)
    if part and part == len(pieces) - 1:
        pieces[part - 1] = ShortPart(pieces[part - 1].text, pieces[part].end)
    del pieces[part]
    return _with_line(text, way, item, pieces)


def with_new_section(text: str, way: NodePath, number: int, section: Mapping[str, object]) -> str:
    """Insert a section into a road map, before the one that has this number now."""
    road_map = _read(text, way)
    sections = sections_of(road_map)
    if not sections:
        short = short_of(section)
        return with_value(text, way, short or [OneLine(_in_order(section))])
    behind = number == len(sections)
    item, part = _item_of(text, way, number - 1 if behind else number)
    short = short_of(section)
    if part is None:
        return with_item(text, way, item + behind, short or OneLine(_in_order(section)))
    pieces = _pieces(text, way, item)
    at = part + behind
    if not short:
        return _spread(text, way, item, pieces[:at], section, pieces[at:])
    by_line = any("\n" in one.end for one in pieces)
    if at == len(pieces):
        last = pieces[-1]
        pieces[-1] = ShortPart(last.text, "\n" if by_line else ",")
        pieces.append(ShortPart(short if by_line else f" {short}", last.end))
    else:
        if not at and not by_line and not pieces[0].text.startswith(" "):
            pieces[0] = ShortPart(f" {pieces[0].text}", pieces[0].end)
        pieces.insert(at, ShortPart(f" {short}" if at and not by_line else short, "\n" if by_line else ","))
    return _with_line(text, way, item, pieces)


def short_of(section: Mapping[str, object]) -> str:
    """Write a section in shorthand; empty if shorthand cannot hold all of it.

    >>> short_of({"section": "Solo", "bars": 16, "feature": True, "sound": "lead"})
    'Solo 16* @lead'
    """
    return short_section(_meant({key: as_typed(one) for key, one in section.items()}))


def _with_part(text: str, at: tuple[NodePath, int], part: int, section: Mapping[str, object]) -> str:
    """Rewrite one part of a line, or split the line around a long entry."""
    way, item = at
    pieces = _pieces(text, way, item)
    short = short_of(section)
    if not short:
        return _spread(text, way, item, pieces[:part], section, pieces[part + 1 :])
    old = pieces[part].text
    lead = old[: len(old) - len(old.lstrip())]
    tail = old[len(old.rstrip()) :] if old.strip() else ""
    pieces[part] = ShortPart(f"{lead}{short}{tail}", pieces[part].end)
    if "|" in short and _is_bare(text, way):  # a section with chords would make one line too long
        pieces = [ShortPart(one.text.strip(), "\n") for one in pieces]
        pieces[-1] = ShortPart(pieces[-1].text, "")
    return _with_line(text, way, item, pieces)


def _spread(
    text: str,
    way: NodePath,
    item: int,
    before: list[ShortPart],
    section: Mapping[str, object],
    after: list[ShortPart],
) -> str:
    """Make one section a long entry; the lines before and after it become items of the list."""
    items = [*_lines(before), OneLine(_in_order(section)), *_lines(after)]
    road_map = _read(text, way)
    if not isinstance(road_map, list):
        return with_value(text, way, items)
    return with_value(text, way, [*road_map[:item], *items, *road_map[item + 1 :]])


def _lines(pieces: list[ShortPart]) -> list[object]:
    """Return the lines of these parts, without what separated them."""
    lines = [""]
    for one in pieces:
        lines[-1] += one.text + (one.end if "\n" not in one.end else "")
        lines += [""] if "\n" in one.end else []
    return [line.strip(", ") for line in lines if line.strip(", ")]


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


def _with_line(text: str, way: NodePath, item: int, pieces: list[ShortPart]) -> str:
    line = "".join(one.text + one.end for one in pieces).strip(" ")
    where = (*way, item) if isinstance(_read(text, way), list) else way
    return with_value(text, where, line) if line.strip() else without(text, where)


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


def _pieces(text: str, way: NodePath, item: int) -> list[ShortPart]:
    """Return the sections of a line as typed, each with what separates it from the next one."""
    road_map = _read(text, way)
    line = str(road_map[item] if isinstance(road_map, list) else road_map)
    places = [(start, end) for start, end in parts_of(line) if line[start:end].strip()]
    starts = [0, *(start for start, _ in places[1:]), len(line)]
    return [ShortPart(line[starts[at] : end], line[end : starts[at + 1]]) for at, (_, end) in enumerate(places)]


def _read(text: str, way: NodePath) -> Plain:
    trail = _trail(text, way)
    return plainly_of(trail[-1]) if len(trail) > len(way) else ""


def _is_bare(text: str, way: NodePath) -> bool:
    """Whether a road map is a text without quotes, and not in braces."""
    trail = _trail(text, way)
    return trail[-1].kind == "text" and not trail[-1].style and not any(one.flow for one in trail)


def _trail(text: str, way: NodePath) -> list[ValueSpan]:
    """Return the file and each value on this way, as far as they exist."""
    trail = [spans_of(text)]
    for key in way:
        found = trail[-1].value_of(key) if isinstance(key, str) else trail[-1].items[key]
        if found is None:
            break
        trail.append(found)
    return trail


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
