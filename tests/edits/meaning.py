"""What a show file says, read by PyYAML alone, and what it must say after an edit, worked out on plain values."""

import copy
import re
from collections import Counter
from random import Random
from typing import Any, NamedTuple

import yaml
from edits.hand_styles import KEYS, NOTES, SOUNDS, a_section, a_song

from companion.edits import (
    AddSection,
    AddSong,
    Edit,
    MoveSection,
    MoveSong,
    OneLine,
    Remove,
    SectionNamed,
    SetNamed,
    SetValue,
    SongNamed,
)

Sets = list[list[Any]]

PART = re.compile(r"\n|,(?! 4&)")  # what separates sections in these texts


class Aimed(NamedTuple):
    """An edit, what it means, and between which lines (from 0) it may change any: all others must be there, in order.

    ``sets``: all songs as tables, set by set. ``top``: what else the file says.
    """

    edit: Edit
    sets: Sets
    top: Any
    lines: tuple[int, int] | None


def read(text: str) -> Any:  # noqa: ANN401 - what is in the file
    """Read a text as lists and tables of texts. libyaml takes a tab before a comment, as YAML does."""
    return yaml.load(text, yaml.CBaseLoader)  # noqa: S506 - it makes texts only


def sets_of(root: Any) -> Sets:  # noqa: ANN401 - same
    """Return the songs set by set; a bare title is a song that says no more."""
    lists = [root["songs"]] if "songs" in root else [one.get("songs") or [] for one in root["sets"]]
    return [[{"title": song} if isinstance(song, str) else copy.deepcopy(song) for song in songs] for songs in lists]


def top_of(root: Any) -> Any:  # noqa: ANN401 - same
    """Return what the file says beside its songs."""
    if "songs" in root:
        return {key: value for key, value in root.items() if key != "songs"}
    sets = [{key: value for key, value in one.items() if key != "songs"} for one in root["sets"]]
    return {**root, "sets": sets}


def sections_of(song: Any) -> list[Any]:  # noqa: ANN401 - same
    """Return a song's sections. These texts use part of shorthand: bars, open, watch, hits, a cue, chords."""
    found: list[Any] = []
    road_map = song.get("road_map") or []
    for one in road_map if isinstance(road_map, list) else [road_map]:
        if isinstance(one, dict):
            found.append(one)
            continue
        for part in filter(str.strip, PART.split(one)):
            section = {}
            said, line, chords = part.partition("|")
            if line:
                section["chords"] = chords.strip()
            for key, phrase in (("cue", r"\((.*)\)"), ("hits", r" hits (4, 4&)"), ("watch", r" watch (\w+)")):
                if phrased := re.search(phrase, said):
                    section[key] = phrased[1]
                    said = said.replace(phrased[0], "")
            words = said.split()
            for word in ("open", "yes"):
                if word in words[1:]:
                    words.remove(word)
                    section[word] = "yes"
            if words[-1].isdigit() and len(words) > 1:
                section["bars"] = words.pop()
            found.append({"section": " ".join(words), **section})
    return found


def named(sets: Sets) -> list[tuple[int, int, SongNamed]]:
    """Return each song's set, number and name."""
    titles: Counter[str] = Counter()
    found = []
    for at, songs in enumerate(sets):
        for number, song in enumerate(songs):
            titles[song["title"]] += 1
            found.append((at, number, SongNamed(song["title"], titles[song["title"]])))
    return found


def section_named(sections: list[Any], number: int) -> SectionNamed:
    name = sections[number]["section"]
    return SectionNamed(name, [one["section"] for one in sections[: number + 1]].count(name))


def an_edit(dice: Random, text: str) -> Aimed:
    """Draw an edit for a text."""
    root = read(text)
    sets, top = sets_of(root), top_of(root)
    at, number, name = dice.choice(named(sets))
    song = sets[at][number]
    node = song_node(text, at, number)
    draw = dice.random()
    if draw < 0.4:
        return _a_value(dice, text, Aimed(SetValue((name,), ""), sets, top, None), (song, name, node))
    if draw < 0.5:
        keys = [key for key in song if key != "title"]
        if keys and isinstance(node, yaml.MappingNode):
            key = dice.choice(keys)
            del song[key]
            return Aimed(Remove((name, key)), sets, top, _lines(text, node, key))
    if draw < 0.75:
        return _of_road_map(dice, text, Aimed(SetValue((name,), ""), sets, top, None), (song, name, node))
    if draw < 0.85:
        into = dice.randrange(len(sets))
        new = a_song(dice)
        after = dice.choice([None, *(one for one in named(sets) if one[0] == into)])
        sets[into].insert(len(sets[into]) if after is None else after[1] + 1, new)
        value = {key: ([OneLine(one) for one in said] if key == "road_map" else said) for key, said in new.items()}
        return Aimed(AddSong(value, set_name(root, into), after and after[2]), sets, top, _in_list(text, into))
    if draw < 0.92 and any(len(songs) > 1 for songs in sets):
        sets[at].pop(number)
        return Aimed(Remove((name,)), sets, top, (0, 0))
    into = dice.randrange(len(sets))
    if not sets[into]:
        into = at
    moved = sets[at].pop(number)
    after = dice.choice([None, *(one for one in named(sets) if one[0] == into)])
    target = 0 if after is None else after[1] + 1
    all_names = [one for one in named(sets_of(root)) if one[2] != name]
    left = [one[2] for one in all_names if one[0] == into]
    sets[into].insert(target, moved)
    return Aimed(MoveSong(name, set_name(root, into), left[target - 1] if target else None), sets, top, (0, 10**6))


def _a_value(dice: Random, text: str, aimed: Aimed, of: tuple[Any, SongNamed, Any]) -> Aimed:
    song, name, node = of
    values: dict[str, list[Any]] = {
        "key": list(KEYS),
        "tempo": [96, 120.5],
        "artist": ["Nine: the band", "No", "Plain Name", "{x", "a # b", "ends:"],
        "notes": list(NOTES),
        "length": ["3:40"],
        "known": [4],
        "sound": [*SOUNDS, OneLine(upper="lead, bright", lower="organ")],
        "chart": [False, "charts/moth.pdf"],
    }
    key = dice.choice(list(values))
    value = dice.choice(values[key])
    song[key] = "no" if value is False else dict(value) if isinstance(value, dict) else str(value)
    return aimed._replace(edit=SetValue((name, key), value), lines=_lines(text, node, key))


def _of_road_map(dice: Random, text: str, aimed: Aimed, of: tuple[Any, SongNamed, Any]) -> Aimed:
    song, name, node = of
    sections = copy.deepcopy(sections_of(song))
    lines = _lines(text, node, "road_map")
    number = dice.randrange(len(sections)) if sections else 0
    draw = dice.random()
    edit: Edit
    if not sections or draw < 0.2:
        new = a_section(dice)
        after = dice.choice([None, *(section_named(sections, at) for at in range(len(sections)))])
        where = [section_named(sections, at) for at in range(len(sections))]
        sections.insert(len(sections) if after is None else where.index(after) + 1, new)
        edit = AddSection(name, new, after)
    elif draw < 0.3 and len(sections) > 1:
        edit = Remove((name, "road_map", section_named(sections, number)))
        del sections[number]
    elif draw < 0.4 and len(sections) > 1:
        moved = section_named(sections, number)
        others = [section_named(sections, at) for at in range(len(sections)) if at != number]
        after = dice.choice([None, *others])
        edit = MoveSection(name, moved, after)
        names = [section_named(sections, at) for at in range(len(sections)) if at != number]
        taken = sections.pop(number)
        sections.insert(0 if after is None else names.index(after) + 1, taken)
    else:
        where_to = (name, "road_map", section_named(sections, number))
        key, value = dice.choice((("bars", 12), ("chords", "1 | 4"), ("hits", "4, 4&"), ("cue", "two fingers up")))
        edit = SetValue((*where_to, key), value)
        sections[number] = {**sections[number], key: str(value)}
    song["road_map"] = sections
    return aimed._replace(edit=edit, lines=lines)


def set_name(root: Any, number: int) -> SetNamed:  # noqa: ANN401 - what is in the file
    return SetNamed("Set 1" if "songs" in root else root["sets"][number]["set"])


def song_node(text: str, at: int, number: int) -> Any:  # noqa: ANN401 - PyYAML's nodes have no types
    return _songs_node(text, at).value[number]


def _songs_node(text: str, at: int) -> Any:  # noqa: ANN401 - same
    root = yaml.compose(text, yaml.CBaseLoader)
    holder = root if _value(root, "songs") is not None else _value(root, "sets").value[at]
    return _value(holder, "songs")


def _value(table: Any, key: str) -> Any:  # noqa: ANN401 - same
    return next((value for typed, value in table.value if typed.value == key), None)


def _lines(text: str, song: Any, key: str) -> tuple[int, int] | None:  # noqa: ANN401 - same
    """Return the lines that belong to a key of a song; None if it is not there and a new line would do."""
    if isinstance(song, yaml.ScalarNode) or song.flow_style:
        return song.start_mark.line, _last(text, song) + 1
    for typed, value in song.value:
        if typed.value == key:
            return typed.start_mark.line, max(typed.end_mark.line, _last(text, value)) + 1
    return None


def _in_list(text: str, at: int) -> tuple[int, int] | None:
    songs = _songs_node(text, at)
    return (songs.start_mark.line, _last(text, songs) + 1) if getattr(songs, "flow_style", False) else None


def _last(text: str, node: Any) -> int:  # noqa: ANN401 - same
    """Return the last line of a value, without the blank lines and comments that the parser counts to it."""
    line = int(node.end_mark.line) - (1 if node.end_mark.column == 0 else 0)
    rows = text.splitlines()
    line = min(line, len(rows) - 1)
    is_flow = isinstance(node, yaml.CollectionNode) and node.flow_style
    while (
        line > node.start_mark.line and not is_flow and (not rows[line].strip() or rows[line].lstrip().startswith("#"))
    ):
        line -= 1
    while (
        line > node.start_mark.line
        and not is_flow
        and node.end_mark.line == line
        and node.end_mark.column
        and (isinstance(node, yaml.CollectionNode) and not rows[line][: node.end_mark.column].strip())
    ):
        line -= 1
        while not rows[line].strip() or rows[line].lstrip().startswith("#"):
            line -= 1
    return line
