"""The intended result of an edit, computed on plain values, to compare with what was written."""

import copy
from collections.abc import Sequence
from typing import Any, Final

from companion.edits.addresses import EditPlace, SectionNamed
from companion.edits.edit import AddSection, MoveSection, Remove, SetValue
from companion.edits.rendering import as_typed
from companion.edits.road_maps import number_of, sections_of
from companion.edits.spans import Plain
from companion.edits.splicing import NodePath
from companion.errors import CompanionError

ROAD_MAP: Final = "road_map"

OfSong = SetValue | Remove | AddSection | MoveSection
"""An edit confined to one song."""


def plain_way(steps: Sequence[object]) -> NodePath:
    """Return the steps as keys and numbers. Raises CompanionError if one names a section."""
    way = tuple(step for step in steps if isinstance(step, str | int))
    if len(way) != len(steps):
        raise CompanionError("only a song's road map has sections")
    return way


def meaning(song: Plain) -> Plain:
    """Return a song in one form: a bare title as a table, a road map as a list of sections."""
    if isinstance(song, str):
        return {"title": song}
    if isinstance(song, dict) and ROAD_MAP in song:
        return {**song, ROAD_MAP: sections_of(song[ROAD_MAP])}
    return song


def meant_song(song: Plain, edit: OfSong) -> Plain:
    """Return the song as it must be after the edit."""
    result = copy.deepcopy(meaning(song))
    if isinstance(edit, SetValue) and len(edit.where) == 1:
        return meaning(as_typed(edit.value))
    if not isinstance(result, dict):
        raise CompanionError("a song is a title or a table")
    sections: list[Any] = result.get(ROAD_MAP) or []
    match edit:
        case AddSection(section=section, after=after):
            at = len(sections) if after is None else number_of(sections, after) + 1
            result[ROAD_MAP] = [*sections[:at], *sections_of([as_typed(section)]), *sections[at:]]
            return result
        case MoveSection(section=named, after=after):
            moved = sections[number_of(sections, named)]
            target = None if after is None else sections[number_of(sections, after)]
            rest = [one for one in sections if one is not moved]
            at = 0 if after is None else next(n for n, one in enumerate(rest) if one is target) + 1
            result[ROAD_MAP] = [*rest[:at], moved, *rest[at:]]
            return result
    rest_of_way = edit.where[1:]
    if len(rest_of_way) > 1 and isinstance(rest_of_way[1], SectionNamed):
        rest_of_way = (ROAD_MAP, number_of(sections, rest_of_way[1]), *rest_of_way[2:])
        changed = with_change(result, plain_way(rest_of_way), edit)
    elif ROAD_MAP in rest_of_way[:1]:
        plain = song if isinstance(song, dict) else {"title": song}
        changed = meaning(with_change({**plain}, plain_way(rest_of_way), edit))
    else:
        return with_change(result, plain_way(rest_of_way), edit)
    if isinstance(changed, dict) and ROAD_MAP in changed:
        changed[ROAD_MAP] = sections_of(changed[ROAD_MAP])
    return changed


def with_change(value: Plain, way: NodePath, edit: SetValue | Remove) -> Plain:
    """Return the value with one value inside it set, added or removed."""
    if not way:
        if isinstance(edit, Remove):
            raise CompanionError("there is nothing to remove")
        return as_typed(edit.value)
    key, *rest = way
    if isinstance(key, str):
        table = dict(value) if isinstance(value, dict) else {}
        if not rest and isinstance(edit, Remove):
            table.pop(key, None)
        else:
            table[key] = with_change(table.get(key, ""), tuple(rest), edit)
        return table
    listed = list(value) if isinstance(value, list) else []
    if not rest and isinstance(edit, Remove):
        del listed[key]
    elif key == len(listed):
        listed.append(with_change("", tuple(rest), edit))
    else:
        listed[key] = with_change(listed[key], tuple(rest), edit)
    return listed


def blank(root: Plain, way: NodePath) -> Plain:
    """Return the value with the part at a place blanked out."""
    if not way:
        return ""
    if isinstance(root, dict):
        return {key: blank(one, way[1:]) if key == way[0] else one for key, one in root.items()}
    return (
        [blank(one, way[1:]) if at == way[0] else one for at, one in enumerate(root)]
        if isinstance(root, list)
        else root
    )


def same(one: Plain, other: Plain) -> bool:
    """Whether two values mean the same; an empty table or list equals nothing."""
    return _bare(one) == _bare(other)


def _bare(value: Plain) -> Plain:
    if isinstance(value, dict):
        return {key: _bare(one) for key, one in value.items()} or ""
    return [_bare(one) for one in value] or "" if isinstance(value, list) else value


def list_changed(root: Plain, way: NodePath, change: Any) -> Plain:  # noqa: ANN401  any item of a list
    """Return the value with one list inside it changed."""
    root = copy.deepcopy(root)
    node: Any = root
    for key in way:
        node = node[key]
    change(node)
    return root


def value_in_song(song: Plain, where: EditPlace) -> Plain | None:
    """Return the value at a place inside a song, or None."""
    result: Any = (
        meaning(song) if any(isinstance(step, SectionNamed) for step in where) or isinstance(song, str) else song
    )
    for step in where:
        try:
            result = result[number_of(result, step) if isinstance(step, SectionNamed) else step]
        except (KeyError, IndexError, TypeError, CompanionError):
            return None
    found: Plain = result
    return found
