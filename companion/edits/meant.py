"""What a file must say after an edit, worked out on plain values: what was written is compared with it."""

import copy
from collections.abc import Sequence
from typing import Any, Final

from companion.edits.addresses import SectionNamed, Where
from companion.edits.edit import AddSection, MoveSection, Remove, SetValue
from companion.edits.rendering import as_typed
from companion.edits.road_maps import number_of, sections_of
from companion.edits.spans import Plain
from companion.edits.splicing import Way
from companion.errors import CompanionError

ROAD_MAP: Final = "road_map"

OfSong = SetValue | Remove | AddSection | MoveSection
"""An edit that stays inside of one song."""


def plain_way(steps: Sequence[object]) -> Way:
    """Return steps that are keys and numbers only. Raises CompanionError where one names a section."""
    way = tuple(step for step in steps if isinstance(step, str | int))
    if len(way) != len(steps):
        raise CompanionError("a section stands in its song's road map only")
    return way


def meaning(song: Plain) -> Plain:
    """Return what a song says: a bare title as a song, a road map as its sections."""
    if isinstance(song, str):
        return {"title": song}
    if isinstance(song, dict) and ROAD_MAP in song:
        return {**song, ROAD_MAP: sections_of(song[ROAD_MAP])}
    return song


def meant_song(song: Plain, edit: OfSong) -> Plain:
    """Return what the song must say after the edit."""
    said = copy.deepcopy(meaning(song))
    if isinstance(edit, SetValue) and len(edit.where) == 1:
        return meaning(as_typed(edit.value))
    if not isinstance(said, dict):
        raise CompanionError("a song is a title or a table")
    sections: list[Any] = said.get(ROAD_MAP) or []
    match edit:
        case AddSection(section=section, after=after):
            at = len(sections) if after is None else number_of(sections, after) + 1
            said[ROAD_MAP] = [*sections[:at], *sections_of([as_typed(section)]), *sections[at:]]
            return said
        case MoveSection(section=named, after=after):
            moved = sections[number_of(sections, named)]
            target = None if after is None else sections[number_of(sections, after)]
            rest = [one for one in sections if one is not moved]
            at = 0 if after is None else next(n for n, one in enumerate(rest) if one is target) + 1
            said[ROAD_MAP] = [*rest[:at], moved, *rest[at:]]
            return said
    rest_of_way = edit.where[1:]
    if len(rest_of_way) > 1 and isinstance(rest_of_way[1], SectionNamed):
        rest_of_way = (ROAD_MAP, number_of(sections, rest_of_way[1]), *rest_of_way[2:])
        changed = with_change(said, plain_way(rest_of_way), edit)
    elif ROAD_MAP in rest_of_way[:1] and isinstance(song, dict):
        changed = meaning(with_change({**song}, plain_way(rest_of_way), edit))
    else:
        return with_change(said, plain_way(rest_of_way), edit)
    if isinstance(changed, dict) and ROAD_MAP in changed:
        changed[ROAD_MAP] = sections_of(changed[ROAD_MAP])
    return changed


def with_change(value: Plain, way: Way, edit: SetValue | Remove) -> Plain:
    """Return a value with one value in it set, added or taken out."""
    if not way:
        if isinstance(edit, Remove):
            raise CompanionError("there is nothing to take out")
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


def blank(root: Plain, way: Way) -> Plain:
    """Return the same without what stands at a place."""
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
    """Whether two values say the same: an empty table or list says nothing."""
    return _bare(one) == _bare(other)


def _bare(value: Plain) -> Plain:
    if isinstance(value, dict):
        return {key: _bare(one) for key, one in value.items()} or ""
    return [_bare(one) for one in value] or "" if isinstance(value, list) else value


def list_changed(root: Plain, way: Way, change: Any) -> Plain:  # noqa: ANN401  what a list takes
    """Return the same with one list in it changed."""
    root = copy.deepcopy(root)
    node: Any = root
    for key in way:
        node = node[key]
    change(node)
    return root


def value_in_song(song: Plain, where: Where) -> Plain | None:
    """Return what stands at a place inside of a song; None where nothing does."""
    said: Any = (
        meaning(song) if any(isinstance(step, SectionNamed) for step in where) or isinstance(song, str) else song
    )
    for step in where:
        try:
            said = said[number_of(said, step) if isinstance(step, SectionNamed) else step]
        except (KeyError, IndexError, TypeError, CompanionError):
            return None
    found: Plain = said
    return found
