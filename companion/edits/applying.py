"""Apply edits to a text: read the song alone, change it, read it again, compare it with the intended result."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from companion.edits.addresses import SectionNamed, SongNamed, found_set, found_song, song_lists, value_at, way_of
from companion.edits.arranging import with_moved
from companion.edits.edit import AddSection, AddSet, AddSong, Edit, MoveSection, MoveSong, Remove, SetValue
from companion.edits.meant import (
    ROAD_MAP,
    OfSong,
    blank,
    list_changed,
    meaning,
    meant_song,
    plain_way,
    same,
    with_change,
)
from companion.edits.rendering import as_typed
from companion.edits.road_maps import number_of, sections_of, with_new_section, with_section, without_section
from companion.edits.spans import (
    BREAK,
    Plain,
    ValueSpan,
    line_end,
    line_start,
    newline_of,
    next_line,
    plainly_of,
    spans_of,
)
from companion.edits.splicing import NodePath, comments_inside, dash_line, with_item, with_value, without
from companion.errors import CompanionError
from companion.show.show_file import SET, SHOW, SONG

SONG_DEPTH: Final = 5  # file, sets, set, songs, song; a song's content is read when it is edited
ORDERS: Final = {"song": tuple(SONG.fields), "set": tuple(SET.fields), "show": tuple(SHOW.fields)}


def applied(text: str, edits: Iterable[Edit], path: str = "") -> str:
    """Return the text with these edits applied in turn; all other lines stay unchanged.

    Raises FaultyFile if the text cannot be read, CompanionError if an edit's place is not in it, or if the edit would
    change anything else.
    """
    for run in _runs(edits):
        try:
            text = _in_songs(text, run, path)
        except CompanionError as error:
            if type(error) is not CompanionError:
                raise
            raise CompanionError(f"{path or 'the file'} cannot be edited: {error}") from error
    return text


def applied_in_book(text: str, slug: str, edits: Sequence[Edit], path: str = "") -> str:
    """Return a songbook's text with edits of one song, found by its slug: the edits' own song names are not read.

    Raises FaultyFile and CompanionError, as ``applied``.
    """
    root = spans_of(text, path)
    song = root.value_of(slug)
    if song is None:
        raise CompanionError(f"{path or 'the songbook'} has no song {slug} any more")
    if root.labels:
        raise CompanionError(f"{path or 'the songbook'} has YAML labels, so one change could change several places")
    of_song = [edit for edit in edits if isinstance(edit, OfSong)]
    if len(of_song) != len(edits):
        raise CompanionError("a songbook has no sets")
    if song.kind == "text":
        text = with_value(text, (slug,), {"title": song.text})
    return _song_edited(text, (slug,), of_song, path)


def _runs(edits: Iterable[Edit]) -> Iterator[list[Edit]]:
    """Split the edits after each one that renames or moves a song."""
    run: list[Edit] = []
    for edit in edits:
        song = _song_of(edit)
        if song is None:
            yield from ([run] if run else [])
            yield [edit]
            run = []
            continue
        run.append(edit)
        if isinstance(edit, SetValue | Remove) and edit.where[1:2] in ((), ("title",), ("use",)):
            yield run
            run = []
    yield from ([run] if run else [])


def _song_of(edit: Edit) -> SongNamed | None:
    """Return the song that the edit is confined to, or None."""
    if isinstance(edit, AddSection | MoveSection):
        return edit.song
    if isinstance(edit, SetValue | Remove) and edit.where and isinstance(edit.where[0], SongNamed):
        return edit.where[0] if len(edit.where) > 1 or isinstance(edit, SetValue) else None
    return None


def _in_songs(text: str, edits: Sequence[Edit], path: str) -> str:
    if _song_of(edits[0]) is None:
        return _in_file(text, spans_of(text, path), edits[0], path)
    root = spans_of(text, path, depth=SONG_DEPTH)
    by_way: dict[NodePath, list[OfSong]] = {}
    for edit in edits:
        song = _song_of(edit)
        if song is None or not isinstance(edit, OfSong):
            raise TypeError(edit)
        by_way.setdefault(found_song(root, song)[0], []).append(edit)
    splices: list[tuple[int, int, str]] = []
    for way, of_song in by_way.items():
        block = None if root.labels else _lines_of(text, root, way)
        if block is None:
            if len(by_way) > 1:
                return _one_by_one(text, edits, path)
            return _song_edited(text, way, of_song, path)
        start, end = block
        after = _song_edited(text[start:end], (0,), of_song, path)
        if not _stays_a_block(after):
            return _song_edited(text, way, of_song, path)
        splices.append((start, end, after))
    for start, end, after in sorted(splices, reverse=True):
        text = text[:start] + after + text[end:]
    return text


def _one_by_one(text: str, edits: Sequence[Edit], path: str) -> str:
    for edit in edits:
        text = _in_songs(text, [edit], path)
    return text


def _lines_of(text: str, root: ValueSpan, way: NodePath) -> tuple[int, int] | None:
    """Return the start and end of a song's lines; None if it shares lines with something else."""
    listed = value_at(root, way[:-1])
    number = int(way[-1])
    if any(value_at(root, way[:depth]).flow for depth in range(1, len(way))):
        return None
    try:
        start = dash_line(text, listed, number)
    except CompanionError:
        return None
    column = listed.start - line_start(text, listed.start)
    end = comments_inside(text, line_end(text, max(listed.items[number].end, start)), column)
    if end == len(text) and newline_of(text[start:end]) != newline_of(text):
        return None  # a single line does not show the file's line ending
    return start, next_line(text, end)


def lines_of_song(text: str, named: SongNamed, path: str = "") -> tuple[str, ...]:
    """Return a song's lines as typed, unindented from its dash on. Raises CompanionError if it shares lines."""
    root = spans_of(text, path)
    way = found_song(root, named)[0]
    block = None if root.labels else _lines_of(text, root, way)
    if block is None:
        raise CompanionError(f'the song "{named}" has no lines of its own')
    lines = BREAK.split(text[block[0] : block[1]])
    column = len(lines[0]) - len(lines[0].lstrip())
    lines = lines if lines[-1] else lines[:-1]  # after the last line's break
    return tuple(line[column:] if not line[:column].strip() else line.lstrip() for line in lines)


def _stays_a_block(lines: str) -> bool:
    """Whether all lines of an edited song are indented deeper than its dash, so that it can be read alone."""
    first, *rest = lines.split("\n")
    column = len(first) - len(first.lstrip(" "))
    return all(len(line) - len(line.lstrip(" ")) > column for line in rest if line.strip())


def _song_edited(text: str, way: NodePath, edits: Sequence[OfSong], path: str) -> str:
    """Edit the song at ``way`` in this text; after each edit, compare the text with the intended result."""
    for edit in edits:
        before = spans_of(text, path)
        after = _edited(text, way, value_at(before, way), edit)
        if after == text:
            continue
        now = spans_of(after, path)
        meant = meant_song(plainly_of(value_at(before, way)), edit)
        is_meant = same(meaning(plainly_of(value_at(now, way))), meant)
        if not is_meant or not same(blank(plainly_of(before), way), blank(plainly_of(now), way)):
            raise CompanionError("writing that would change something else")
        text = after
    return text


def _edited(text: str, way: NodePath, song: ValueSpan, edit: OfSong) -> str:
    road_map = (*way, ROAD_MAP)
    match edit:
        case AddSection(section=section, after=after):
            sections = _sections(song)
            at = len(sections) if after is None else number_of(sections, after) + 1
            if song.kind == "text":
                text = _as_table(text, way, song)
            if not isinstance(section, dict):
                raise CompanionError("a section is a table")
            return with_new_section(text, road_map, at, section)
        case MoveSection(section=named, after=after):
            sections = _sections(song)
            moved = sections[number_of(sections, named)]
            text = without_section(text, road_map, number_of(sections, named), ())
            rest = [one for one in sections if one is not moved]
            target = (
                0
                if after is None
                else next(n for n, one in enumerate(rest) if one is sections[number_of(sections, after)]) + 1
            )
            return with_new_section(text, road_map, target, moved)
    inside = edit.where[1:]
    if inside and song.kind == "text":
        text = _as_table(text, way, song)
    if len(inside) > 1 and isinstance(inside[1], SectionNamed):
        number = number_of(_sections(song), inside[1])
        inner = plain_way(inside[2:])
        if isinstance(edit, Remove):
            return without_section(text, road_map, number, inner)
        return with_section(text, road_map, number, inner, edit.value)
    plain = plain_way(inside)
    if isinstance(edit, Remove):
        return without(text, (*way, *plain))
    return with_value(text, (*way, *plain), edit.value, ORDERS["song"] if len(plain) == 1 else ())


def _as_table(text: str, way: NodePath, song: ValueSpan) -> str:
    """Turn a bare title into a table with a title, copied exactly as typed if it is on one line."""
    typed = text[song.start : song.end]
    if "\n" in typed or song.labelled:
        return with_value(text, way, {"title": song.text})
    if any(value_at(spans_of(text), way[:depth]).flow for depth in range(1, len(way))):
        return f"{text[: song.start]}{{title: {typed}}}{text[song.end :]}"
    return f"{text[: song.start]}title: {typed}{text[song.end :]}"


def _sections(song: ValueSpan) -> list[dict[str, Any]]:
    road_map = song.value_of(ROAD_MAP) if song.kind == "table" else None
    return sections_of(plainly_of(road_map)) if road_map is not None else []


# ------------------------------------------------------------------ the file around the songs


def _in_file(text: str, root: ValueSpan, edit: Edit, path: str) -> str:
    """Apply an edit that affects more than one song."""
    before = plainly_of(root)
    match edit:
        case SetValue(where=where) if any(isinstance(step, SectionNamed) for step in where):
            return _section_of_songbook(text, root, edit, path)
        case SetValue(where=where, value=value):
            way = way_of(root, where)
            after = with_value(text, way, value, _order_of(way))
            meant = with_change(before, way, edit)
        case Remove(where=where) if isinstance(where[0], SongNamed) and len(where) == 1:
            way = found_song(root, where[0])[0]
            after = with_moved(text, root, way, None)
            meant = with_change(before, way, edit)
        case Remove(where=where):
            way = way_of(root, where)
            after, meant = without(text, way), with_change(before, way, edit)
        case AddSong(song=song):
            after, meant = _song_added(text, root, edit, before)
            del song
        case MoveSong():
            after, meant = _song_moved(text, root, edit, before)
        case AddSet(table=table, after=behind):
            at = len(song_lists(root)) if behind is None else int(found_set(root, behind).table_way[1]) + 1
            sets = root.value_of("sets")
            if sets is None or sets.kind != "list":
                raise CompanionError("its songs are not in sets. Write: sets:")
            at = min(at, len(sets.items))
            after = with_item(text, ("sets",), at, table)
            meant = list_changed(before, ("sets",), lambda listed: listed.insert(at, as_typed(table)))
        case _:
            raise CompanionError("that is not an edit of a file")
    if not same(plainly_of(spans_of(after, path)), meant):
        raise CompanionError("writing that would change something else")
    return after


def _section_of_songbook(text: str, root: ValueSpan, edit: SetValue, path: str) -> str:
    """Set a value of a section of a songbook's song: (slug, "road_map", section, keys)."""
    at = next(at for at, step in enumerate(edit.where) if isinstance(step, SectionNamed))
    named = edit.where[at]
    way, rest = plain_way(edit.where[:at]), plain_way(edit.where[at + 1 :])
    before, song = plainly_of(root), plainly_of(value_at(root, way[:-1]))
    if not isinstance(named, SectionNamed) or way[-1:] != (ROAD_MAP,) or not isinstance(song, dict):
        raise CompanionError("only a song's road map has sections")
    number = number_of(sections_of(song.get(ROAD_MAP, "")), named)
    after = with_section(text, way, number, rest, edit.value)
    now = spans_of(after, path)
    meant = meant_song(song, SetValue((SongNamed(""), ROAD_MAP, named, *rest), edit.value))
    is_meant = same(meaning(plainly_of(value_at(now, way[:-1]))), meant)
    if not is_meant or not same(blank(before, way), blank(plainly_of(now), way)):
        raise CompanionError("writing that would change something else")
    return after


def _order_of(way: NodePath) -> tuple[str, ...]:
    if len(way) == 1:
        return ORDERS["show"]
    return ORDERS["set"] if len(way) == 3 and way[0] == "sets" else ()


def _song_added(text: str, root: ValueSpan, edit: AddSong, before: Plain) -> tuple[str, Plain]:
    sets = song_lists(root)
    if not sets:
        return with_value(text, ("songs",), [edit.song]), with_change(before, ("songs",), SetValue((), [edit.song]))
    into = sets[0] if edit.into is None else found_set(root, edit.into)
    listed = value_at(root, into.table_way).value_of("songs")
    if listed is None or listed.is_nothing:
        return with_value(text, into.way, [edit.song], ORDERS["set"]), with_change(
            before, into.way, SetValue((), [edit.song])
        )
    at = len(listed.items)
    if edit.after is not None:
        at = next((number for number, name in into.songs if name == edit.after), at - 1) + 1
    after = with_item(text, into.way, at, edit.song)
    return after, list_changed(before, into.way, lambda found: found.insert(at, as_typed(edit.song)))


def _song_moved(text: str, root: ValueSpan, edit: MoveSong, before: Plain) -> tuple[str, Plain]:
    way, _ = found_song(root, edit.song)
    into = found_set(root, edit.into)
    listed = value_at(root, into.table_way).value_of("songs")
    at = 0
    if edit.after is not None:
        at = next((number for number, name in into.songs if name == edit.after), -1) + 1
        if not at:
            raise CompanionError(f'the song "{edit.after}" is no longer in the set "{edit.into}"')
    if listed is None or listed.is_nothing:
        raise CompanionError(f'the set "{edit.into}" has no songs yet')
    after = with_moved(text, root, way, (into.way, at))
    song: list[Plain] = []
    meant = list_changed(before, into.way, lambda found: found.insert(at, "\0"))
    number = int(way[-1]) + (1 if way[:-1] == into.way and at <= int(way[-1]) else 0)
    meant = list_changed(meant, way[:-1], lambda found: song.append(found.pop(number)))
    return after, list_changed(meant, into.way, lambda found: found.__setitem__(found.index("\0"), song[0]))
