"""Reorder songs and sets: their lines move unchanged, comments included."""

import msgspec

from companion.edits.addresses import SetNamed, SongNamed, song_lists, value_at
from companion.edits.rendering import block_lines, indented, list_indent_of
from companion.edits.spans import BREAK, ValueSpan, line_end, line_start, newline_of, next_line, plainly_of, spans_of
from companion.edits.splicing import NodePath, comments_above, comments_inside, dash_line, with_item, without
from companion.errors import CompanionError


class CannotArrange(CompanionError):  # noqa: N818  reads better than an Error
    """The lines of this file cannot be moved, for example because of YAML labels."""


class ArrangedSet(msgspec.Struct, frozen=True):
    """One set of the new order: the existing set that it continues (None: a new set with this name), and its songs.

    A song given as a title or table instead of a name is new.
    """

    source: SetNamed | None
    songs: tuple[object, ...]
    name: str = ""


class Arrangement(msgspec.Struct, frozen=True):
    """A file in its new order, and each song left out, with its lines dedented to column 1."""

    text: str
    dropped: tuple[tuple[SongNamed, tuple[str, ...]], ...]


def with_moved(text: str, root: ValueSpan, way: NodePath, to: tuple[NodePath, int] | None) -> str:
    """Move the lines of a song before the item now at this place of another list; None removes the song."""
    listed = value_at(root, way[:-1])
    number = int(way[-1])
    song = listed.items[number]
    if root.labels:
        raise CompanionError("it has YAML labels, so one change could change several places")
    if listed.flow or (to is not None and value_at(root, to[0]).flow):
        return _moved_in_braces(text, way, song, to)
    start, end = _block(text, listed, number)
    lines = _lines(text[start:end])
    column = listed.start - line_start(text, listed.start)
    if to is None:
        if len(listed.items) == 1:
            return without(text, way)
        return text[:start] + text[end:]
    target, at = to
    there = value_at(root, target)
    there_column = there.start - line_start(text, there.start)
    put = _block(text, there, at)[0] if at < len(there.items) else _block(text, there, len(there.items) - 1)[1]
    newline = newline_of(text)
    moved = "".join(line + newline for line in _shifted(lines, column, there_column))
    if len(listed.items) == 1 and target != way[:-1]:
        return _tidy_end(text, without(_inserted(text, put, moved, newline), way), newline)
    return _tidy_end(text, _inserted(text, put, moved, newline, (start, end)), newline)


def _inserted(text: str, put: int, moved: str, newline: str, gone: tuple[int, int] = (0, 0)) -> str:
    """Insert whole lines at a place, and remove others."""

    def whole(part: str) -> str:
        return part + newline if part and not BREAK.search(part, len(part) - 1) else part

    start, end = gone
    if start == end:
        return whole(text[:put]) + moved + text[put:]
    if put <= start:
        return text[:put] + moved + text[put:start] + text[end:]
    return text[:start] + whole(text[end:put]) + moved + text[put:]


def _tidy_end(before: str, after: str, newline: str) -> str:
    """End the text as before: with or without a line break."""
    ends = bool(before) and before[-1] in "\r\n"
    if ends:
        return after if after.endswith(("\n", "\r")) else after + newline
    return after.removesuffix(newline)


def _moved_in_braces(text: str, way: NodePath, song: ValueSpan, to: tuple[NodePath, int] | None) -> str:
    """Move a song between lists when one is in brackets: the song is rewritten at its new place."""
    value = plainly_of(song)
    if to is None:
        return without(text, way)
    target, at = to
    number = int(way[-1])
    if "#" in text[song.start : song.end] and "\n" in text[song.start : song.end]:
        raise CompanionError("the song would lose its comments")
    text = with_item(text, target, at, value)
    return without(text, (*way[:-1], number + 1 if way[:-1] == target and at <= number else number))


def _block(text: str, listed: ValueSpan, number: int) -> tuple[int, int]:
    """Return the start of an item's lines, including the comments right above, and the start of the line after them."""
    column = listed.start - line_start(text, listed.start)
    start = (
        comments_above(text, dash_line(text, listed, number), column)
        if column or number
        else dash_line(text, listed, number)
    )
    item = listed.items[number]
    end = comments_inside(text, line_end(text, max(item.end, start)), column)
    return start, next_line(text, end)


def _lines(text: str) -> list[str]:
    lines = BREAK.split(text)
    return lines[:-1] if lines and not lines[-1] else lines


def _shifted(lines: list[str], column: int, to: int) -> list[str]:
    """Indent or dedent lines; their relative indents stay."""
    by = to - column
    if by >= 0:
        return indented(lines, by)
    return [line[-by:] if not line[:-by].strip() else line.lstrip() for line in lines]


# ------------------------------------------------------------------ a whole new order


def arranged(text: str, order: tuple[ArrangedSet, ...], path: str = "") -> Arrangement:
    """Put the sets and songs of a file into this order. Raises CannotArrange if their lines cannot be moved.

    A song that the order does not name is left out, and so is a set that none of the new sets continues; comments on
    lines of their own in such a set stay, after the last set.
    """
    root = spans_of(text, path)
    try:
        return _arranged(text, root, order, path)
    except CannotArrange:
        raise
    except CompanionError as error:
        raise CannotArrange(f"{path or 'the file'}: {error}") from error


class _SetCut(msgspec.Struct):
    """The lines of one set: its head down to ``songs:``, each song's, and those after the songs."""

    head: list[str]
    songs: dict[SongNamed, list[str]]
    tail: list[str]
    column: int  # of the dashes of its songs


def _arranged(text: str, root: ValueSpan, order: tuple[ArrangedSet, ...], path: str) -> Arrangement:
    if root.labels:
        raise CannotArrange(f"{path or 'the file'} has YAML labels, so songs may share lines")
    lists = song_lists(root)
    sets = root.value_of("sets")
    if sets is None:
        if len(order) != 1 or not lists or order[0].source != lists[0].named:
            raise CannotArrange(f"the songs of {path or 'the file'} are not in sets")
        start, end = 0, len(text)
        column = 0
        cuts = {lists[0].named: _cut_set(text, root, lists[0].songs, (0, len(text)), 2)}
    else:
        if sets.kind != "list" or sets.flow or len(lists) != len(sets.items):
            raise CannotArrange(f"the sets of {path or 'the file'} are not one below the other")
        column = sets.start - line_start(text, sets.start)
        edges = [comments_above(text, dash_line(text, sets, number), column or -1) for number in range(len(sets.items))]
        last = sets.items[-1]
        end = next_line(text, comments_inside(text, line_end(text, last.end), column))
        edges.append(end)
        start = edges[0]
        usual = _usual_column(text, root, column)
        cuts = {
            one.named: _cut_set(text, node, one.songs, (edges[at], edges[at + 1]), usual)
            for at, (one, node) in enumerate(zip(lists, sets.items, strict=True))
        }
    lines: list[str] = []
    used: set[SongNamed] = set()
    blocks = {name: (cut.column, block) for cut in cuts.values() for name, block in cut.songs.items()}
    for one in order:
        cut = cuts.get(one.source) if one.source is not None else None
        if cut is None:
            usual = _usual_column(text, root, column)
            cut = _SetCut(_new_head(one.name, column), {}, [], usual)
        lines += cut.head
        for song in one.songs:
            if isinstance(song, SongNamed):
                if song not in blocks or song in used:
                    raise CannotArrange(f'there is no song "{song}"')
                used.add(song)
                lines += _shifted(blocks[song][1], blocks[song][0], cut.column)
            else:
                lines += indented(block_lines([song], list_indent_of(text)), cut.column)
        lines += cut.tail
    gone = [cut for name, cut in cuts.items() if name not in {one.source for one in order}]
    lines += [line for cut in gone for line in (*cut.head, *cut.tail) if line.lstrip().startswith("#")]
    newline = newline_of(text)
    body = "".join(line + newline for line in lines)
    before = text[:start]
    after = _tidy_end(text, before + body + text[end:], newline)
    dropped = tuple((name, tuple(_shifted(block, at, 0))) for name, (at, block) in blocks.items() if name not in used)
    _compare(root, after, order, path)
    return Arrangement(after, dropped)


def _new_head(name: str, column: int) -> list[str]:
    return indented([*block_lines([{"set": name}], 2), "  songs:"], column)


def _usual_column(text: str, root: ValueSpan, column: int) -> int:
    """Return the column of the songs' dashes in this file."""
    for one in song_lists(root):
        listed = value_at(root, one.table_way).value_of("songs")
        if listed is not None and listed.kind == "list" and not listed.flow:
            return listed.start - line_start(text, listed.start)
    return column + 4


def _cut_set(
    text: str, node: ValueSpan, named: tuple[tuple[int, SongNamed], ...], within: tuple[int, int], usual: int
) -> _SetCut:
    """Split the lines of one set."""
    start, end = within
    if node.kind != "table" or node.flow:
        raise CannotArrange("a set is in braces")
    key = next((typed for typed, _ in node.entries if typed.text == "songs"), None)
    listed = node.value_of("songs")
    if key is None or listed is None or listed.is_nothing:
        head = _lines(text[start:end])
        if key is None:
            while head and not head[-1].strip():
                head.pop()
            return _SetCut([*head, " " * (node.start - line_start(text, node.start)) + "songs:"], {}, [], usual)
        cut = next_line(text, key.end)
        return _SetCut(_lines(text[start:cut]), {}, _lines(text[cut:end]), usual)
    if listed.kind != "list":
        raise CannotArrange("songs is not a list")
    if listed.flow:
        return _cut_brackets(text, listed, named, within, node)
    column = listed.start - line_start(text, listed.start)
    starts = [dash_line(text, listed, number) for number, _ in named]
    if any(at <= key.end for at in starts) or len(named) != len(listed.items):
        raise CannotArrange("songs are not one below the other")
    starts = [
        comments_above(text, at, column) if at > next_line(text, key.end) and (column or number) else at
        for number, at in enumerate(starts)
    ]
    stop = _block(text, listed, len(listed.items) - 1)[1]
    edges = [*starts, stop]
    songs = {name: _lines(text[edges[at] : edges[at + 1]]) for at, (_, name) in enumerate(named)}
    return _SetCut(_lines(text[start : edges[0]]), songs, _lines(text[stop:end]), column)


def _cut_brackets(
    text: str, listed: ValueSpan, named: tuple[tuple[int, SongNamed], ...], within: tuple[int, int], node: ValueSpan
) -> _SetCut:
    """Put each song of a bracketed list on its own line, as typed."""
    between = text[listed.start : listed.end]
    gaps = [listed.start, *(one.end for one in listed.items)], [*(one.start for one in listed.items), listed.end]
    if any("#" in text[begin:end] for begin, end in zip(*gaps, strict=True)) or not between:
        raise CannotArrange("songs in brackets have comments between them")
    start, end = within
    column = node.start - line_start(text, node.start) + 2
    songs = {}
    for number, name in named:
        song = listed.items[number]
        typed = BREAK.split(text[song.start : song.end])
        songs[name] = [" " * column + "- " + typed[0], *(" " * (column + 2) + line.strip() for line in typed[1:])]
    head = text[start : listed.start].rstrip(" ") + text[listed.end : line_end(text, listed.end)]
    return _SetCut(_lines(head), songs, _lines(text[next_line(text, listed.end) : end]), column)


def _compare(root: ValueSpan, after: str, order: tuple[ArrangedSet, ...], path: str) -> None:
    """Check that every song is unchanged and at its place in the order. Raises CannotArrange."""
    before = {name: value_at(root, (*one.way, number)) for one in song_lists(root) for number, name in one.songs}
    now = spans_of(after, path)
    found = [[value_at(now, (*one.way, number)) for number, _ in one.songs] for one in song_lists(now)]
    for one, songs in zip(order, found, strict=True):
        if len(one.songs) != len(songs):
            raise CannotArrange("a song would be lost")
        for wanted, song in zip(one.songs, songs, strict=True):
            if isinstance(wanted, SongNamed) and plainly_of(before[wanted]) != plainly_of(song):
                raise CannotArrange(f'"{wanted}" would be changed')
