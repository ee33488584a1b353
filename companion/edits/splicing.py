"""One change of a YAML text: set, insert or remove a value; all other lines stay unchanged.

A place is keys and numbers (from 0) from the top of the text. Each function returns the new text; the caller compares
it with the intended result. All raise CompanionError for a place that does not exist.
"""

import re
from typing import Final

from companion.edits.equal_ends import equal_ends
from companion.edits.rendering import (
    as_typed,
    block_lines,
    flow_text,
    indented,
    is_collection,
    list_indent_of,
    on_one_line,
    scalar_like,
)
from companion.edits.spans import BREAK, ValueSpan, line_end, line_start, newline_of, next_line, plainly_of, spans_of
from companion.errors import CompanionError
from companion.files.scalars import spoken

NodePath = tuple[str | int, ...]
NO_PLACE: Final = "there is no place {0} in it"
_GAP: Final = re.compile(r"( *)(,?)( *)(?=[^\s])")


def with_value(text: str, way: NodePath, value: object, order: tuple[str, ...] = ()) -> str:
    """Set a value, creating tables and lists on the way. ``order`` is the order of keys for a new one."""
    root = spans_of(text)
    trail = _trail(root, way)
    node, rest = trail[-1], way[len(trail) - 1 :]
    if rest:
        for key in reversed(rest[1:]):
            value = {key: value} if isinstance(key, str) else _alone(key, value)
        return _added(text, trail, rest[0], value, order)
    if plainly_of(node) == as_typed(value):
        return text
    if isinstance(value, dict) and node.kind == "table" and value:
        for key in [typed.text for typed, _ in node.entries if typed.text not in value]:
            text = without(text, (*way, key))
        for key, one in value.items():
            text = with_value(text, (*way, str(key)), one, order)
        return text
    if isinstance(value, list | tuple) and node.kind == "list" and value and node.items:
        return _with_list(text, way, node, list(value))
    return _replaced(text, trail, value)


def with_item(text: str, way: NodePath, at: int, value: object) -> str:
    """Insert a value into a list before the item at this place (from 0); the place after the last appends it."""
    node = _at(spans_of(text), way)
    if node.is_nothing:
        return with_value(text, way, [value])
    if node.kind != "list" or not 0 <= at <= len(node.items):
        raise CompanionError(NO_PLACE.format(_path_text((*way, at))))
    if at == len(node.items):
        return _added(text, _trail(spans_of(text), way), at, value, ())
    item = node.items[at]
    if node.flow:
        return text[: item.start] + flow_text(value) + ", " + text[item.start :]
    start = comments_above(text, dash_line(text, node, at), _column(text, node.start))
    lines = indented(_dashed(value, text), _column(text, node.start))
    return text[:start] + "".join(line + newline_of(text) for line in lines) + text[start:]


def without(text: str, way: NodePath) -> str:
    """Remove a value with its key or dash and its line's comment; an emptied table leaves a key without a value."""
    trail = _trail(spans_of(text), way)
    if len(trail) <= len(way) or not way:
        raise CompanionError(NO_PLACE.format(_path_text(way)))
    around = trail[-2]
    if around.labelled:
        raise CompanionError("it has a YAML label, so one change could change several places")
    first, last, number, many = _entry(around, way[-1])
    starts = [key.start for key, _ in around.entries] or [one.start for one in around.items]
    if around.flow:
        return _without_in_braces(text, around, (first, last), number, starts)
    if around.kind == "list":
        start = dash_line(text, around, number)
        if start < around.start and _column(text, start) == 0 and text[start : around.start].strip():
            raise CompanionError("it starts on another value's line")
        return text[:start] + text[next_line(text, last) :]
    start = line_start(text, first)
    before = text[start:first]
    if not before.strip():
        return text[:start] + text[next_line(text, last) :]
    if number or many == 1:  # the only key after a dash: the dash stays
        return text[:first].rstrip(" ") + text[line_end(text, last) :]
    behind = next_line(text, last)
    if line_start(text, starts[1]) == behind:
        return text[:first] + text[starts[1] :]
    return text[:first].rstrip(" ") + newline_of(text) + text[behind:]


def _entry(around: ValueSpan, key: str | int) -> tuple[int, int, int, int]:
    """Return an entry's start and end, its number, and how many entries there are."""
    if isinstance(key, str):
        number = next(at for at, (typed, _) in enumerate(around.entries) if typed.text == key)
        typed, value = around.entries[number]
        return typed.start, max(typed.end, value.end), number, len(around.entries)
    return around.items[key].start, around.items[key].end, key, len(around.items)


def _without_in_braces(text: str, around: ValueSpan, entry: tuple[int, int], number: int, starts: list[int]) -> str:
    first, last = entry
    comma = re.compile(r"[ \t]*,").match(text, last)
    if len(starts) == 1:
        return (
            text[: around.start + 1]
            + text[(comma.end() if comma else last) : around.end].lstrip(" ")
            + text[around.end :]
        )
    if number + 1 < len(starts):
        if comma and BREAK.search(text, comma.end(), starts[number + 1]):  # the next one is on another line
            end = comma.end()
            own = text[line_start(text, first) : first].strip()
            if not own and not text[end : line_end(text, end)].strip():
                return text[: line_start(text, first)] + text[next_line(text, end) :]
            return text[:first].rstrip(" ") + text[end:] if own else text[:first] + text[end:].lstrip(" ")
        return text[:first] + text[starts[number + 1] :]
    end_before = _end_before(around, number)
    return text[:end_before] + text[comma.end() if comma else last :]


def _end_before(around: ValueSpan, number: int) -> int:
    """Return the end of the entry before, without its comma."""
    key, value = around.entries[number - 1] if around.entries else (around.items[number - 1],) * 2
    return max(key.end, value.end)


def _trail(root: ValueSpan, way: NodePath) -> list[ValueSpan]:
    """Return the values along a way, as far as they exist."""
    trail = [root]
    for key in way:
        node = trail[-1]
        if isinstance(key, str):
            found = node.value_of(key) if node.kind == "table" else None
        else:
            found = node.items[key] if node.kind == "list" and 0 <= key < len(node.items) else None
        if found is None:
            break
        trail.append(found)
    return trail


def _at(root: ValueSpan, way: NodePath) -> ValueSpan:
    trail = _trail(root, way)
    if len(trail) <= len(way):
        raise CompanionError(NO_PLACE.format(_path_text(way)))
    return trail[-1]


def _alone(number: int, value: object) -> list[object]:
    if number:
        raise CompanionError(NO_PLACE.format(number))
    return [value]


def _added(text: str, trail: list[ValueSpan], key: str | int, value: object, order: tuple[str, ...]) -> str:
    """Add a key to a table, an item to the end of a list, or either if there is no value yet."""
    node = trail[-1]
    if node.labelled or node.kind == "label":
        raise CompanionError("it has a YAML label, so one change could change several places")
    if node.is_nothing:
        return _replaced(text, trail, {key: value} if isinstance(key, str) else _alone(key, value))
    if isinstance(key, str) and node.kind == "table":
        if node.flow:
            return _into_braces(text, node, f"{spoken(key, in_braces=True)}: {flow_text(value)}")
        lines = block_lines({key: value}, list_indent_of(text))
        after = _before_in(order, key, node)
        return _with_lines(text, node, after, lines)
    if isinstance(key, int) and node.kind == "list" and key == len(node.items):
        if node.flow:
            return _into_braces(text, node, flow_text(value))
        return _with_lines(text, node, len(node.items) - 1, _dashed(value, text))
    raise CompanionError(NO_PLACE.format(_path_text((key,))))


def _dashed(value: object, text: str) -> list[str]:
    return block_lines([value], list_indent_of(text))


def _before_in(order: tuple[str, ...], key: str, node: ValueSpan) -> int:
    """Return the number of the entry that a new key follows: the last, or the one before it in ``order``."""
    if key in order:
        ranks = {known: rank for rank, known in enumerate(order)}
        found = [at for at, (typed, _) in enumerate(node.entries) if ranks.get(typed.text, 999) < ranks[key]]
        if found:
            return found[-1]
    return len(node.entries) - 1


def _into_braces(text: str, node: ValueSpan, written: str) -> str:
    """Add an entry after the last one in braces or brackets."""
    last = max(
        [key.end for key, _ in node.entries]
        + [value.end for _, value in node.entries]
        + [one.end for one in node.items],
        default=0,
    )
    if not last:
        return text[: node.start + 1] + written + text[node.end - 1 :]
    comma = re.compile(r"\s*,").match(text, last)
    if comma:
        return text[: comma.end()] + " " + written + text[comma.end() :]
    return text[:last] + ", " + written + text[last:]


def _with_lines(text: str, node: ValueSpan, after: int, lines: list[str]) -> str:
    """Insert lines after an entry of a block table or list."""
    column = _column(text, node.start)
    key, value = node.entries[after] if node.kind == "table" else (node.items[after],) * 2
    end = line_end(text, max(key.end, value.end))
    if value.kind != "text" and not value.flow:
        end = comments_inside(text, end, column)
    newline = newline_of(text)
    return text[:end] + "".join(newline + line for line in indented(lines, column)) + text[end:]


def _with_list(text: str, way: NodePath, node: ValueSpan, wanted: list[object]) -> str:
    """Change a list item by item: equal items at both ends stay untouched."""
    before, typed = [plainly_of(one) for one in node.items], [as_typed(one) for one in wanted]
    begin, end = equal_ends(before, typed)
    old, new = len(before) - begin - end, wanted[begin : len(wanted) - end]
    for number, one in enumerate(new):
        if number < old:
            text = with_value(text, (*way, begin + number), one)
        else:
            text = with_item(text, way, begin + number, one)
    for number in reversed(range(len(new), old)):
        text = without(text, (*way, begin + number))
    return text


def _replaced(text: str, trail: list[ValueSpan], value: object) -> str:
    """Replace a value."""
    node = trail[-1]
    if node.labelled or node.kind == "label":
        raise CompanionError("it has a YAML label, so one change could change several places")
    flow = any(one.flow for one in trail[:-1])
    if len(trail) == 1:
        raise CompanionError("the whole text cannot be replaced")
    around = trail[-2]
    below = (
        not flow
        and node.kind != "text"
        and not node.flow
        and line_start(text, node.start) > around.start
        and (around.kind == "table" and not text[line_start(text, node.start) : node.start].strip())
    )
    if flow or on_one_line(value):
        written = (
            scalar_like(value, node, text, flow=flow)
            if node.kind == "text" and not is_collection(value)
            else (flow_text(value) if flow or is_collection(value) or value == "" else "\n".join(block_lines(value, 2)))
        )
        if "\n" in written and node.style not in ("|", ">"):
            return _in_lines(text, trail, written.split("\n"), below=below)
        if below:
            return _on_key_line(text, around, node, written)
        return _in_place(text, node, written)
    return _in_lines(text, trail, block_lines(value, list_indent_of(text)), below=below, collection=True)


def _in_place(text: str, node: ValueSpan, written: str) -> str:
    """Replace a value on its line; text aligned in columns after it stays aligned if there is room."""
    end, new = node.end, written
    before = text[node.start - 1 : node.start]
    if node.start == node.end and before not in (" ", "\n", "\r", ""):
        new = " " + written
    gap = _GAP.match(text, end)
    if gap and not BREAK.search(text, node.start, end) and not BREAK.search(written):
        longer = len(new) - (end - node.start)
        first, comma, second = len(gap[1]), gap[2], len(gap[3])
        if first >= 2 or (not first and not comma and node.is_nothing):
            first = max(1, first - longer)
        elif comma and second >= 2:
            second = max(1, second - longer)
        new, end = f"{new}{' ' * first}{comma}{' ' * second}", gap.end()
    return text[: node.start] + new + text[end:]


def _on_key_line(text: str, around: ValueSpan, node: ValueSpan, written: str) -> str:
    """Write a single value after a key whose list or table was on the lines below."""
    key = next(typed for typed, value in around.entries if value is node)
    colon = text.index(":", key.end) + 1
    start, end = line_start(text, node.start), line_end(text, node.end)
    gone = text[:start] + text[next_line(text, end) :] if next_line(text, end) > end else text[:start].rstrip("\r\n")
    return gone[:colon] + " " + written + gone[colon:]


def _in_lines(text: str, trail: list[ValueSpan], lines: list[str], *, below: bool, collection: bool = False) -> str:
    """Write a value that takes several lines."""
    node, around = trail[-1], trail[-2]
    newline = newline_of(text)
    is_list = collection and lines[0].startswith("-")
    if around.kind == "list":
        column = _column(text, around.start) + 2
        rest = newline.join(indented(lines[1:], column))
        if node.kind != "text" and not node.flow:
            start, end = node.start, line_end(text, node.end)
            return text[:start] + lines[0] + newline + rest + text[end:]
        end = line_end(text, node.end)
        head = "" if node.start > 0 and text[node.start - 1] == " " else " "
        return text[: node.start] + head + lines[0] + text[node.end : end] + newline + rest + text[end:]
    column = _column(text, around.start) + (list_indent_of(text) if is_list else 2 if collection else 0)
    if below:
        start, end = line_start(text, node.start), line_end(text, node.end)
        return text[:start] + newline.join(indented(lines, column)) + text[end:]
    end = line_end(text, node.end)
    if not collection:  # a text over several lines: its header stays on the key's line
        head, lines = lines[0], lines[1:]
        column = _column(text, around.start)
        before = text[: node.start] + ("" if text[node.start - 1] == " " else " ") + head
        return before + text[node.end : end] + newline + newline.join(indented(lines, column)) + text[end:]
    tail = text[node.end : end]
    before = text[: node.start].rstrip(" ")
    return before + (tail if tail.strip() else "") + newline + newline.join(indented(lines, column)) + text[end:]


def _column(text: str, at: int) -> int:
    """Return the number of characters before a place in its line."""
    return at - line_start(text, at)


def dash_line(text: str, node: ValueSpan, number: int) -> int:
    """Return the start of the line with a block list item's dash. Raises CompanionError if it has none of its own."""
    column = _column(text, node.start)
    floor = node.items[number - 1].end if number else node.start
    start = line_start(text, node.items[number].start)
    while start >= 0:
        if text[start + column : start + column + 1] == "-" and start + column >= floor:
            if text[start : start + column].strip():
                raise CompanionError("it starts on another value's line")
            return start
        if start <= floor:
            break
        start = line_start(text, start - 1)
    raise CompanionError("it has no line of its own")


def comments_above(text: str, start: int, column: int) -> int:
    """Return the start of the comments right above a line, with the same indent."""
    while start:
        above = line_start(text, start - 1 - (text[start - 2 : start] == "\r\n"))
        line = text[above:start]
        if not (line.lstrip(" ").startswith("#") and len(line) - len(line.lstrip(" ")) == column):
            break
        start = above
    return start


def comments_inside(text: str, end: int, column: int) -> int:
    """Return the end of the last comment line after ``end`` that is indented deeper than ``column``."""
    while (start := next_line(text, end)) > end:
        stop = line_end(text, start)
        line = text[start:stop]
        if not line.lstrip(" ").startswith("#") or len(line) - len(line.lstrip(" ")) <= column:
            break
        end = stop
    return end


def _path_text(way: NodePath) -> str:
    return " > ".join(str(key + 1) if isinstance(key, int) else key for key in way)
